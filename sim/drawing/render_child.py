"""Renders sheets of surfaces with VTK and writes the pixels to standard output.

Run as a program of its own: where no graphics library is to be had VTK ends its process with a segmentation
fault, which no exception handler sees, and its remarks on missing displays go to standard error. Both stay here.

Standard input: the .npz that ``sim.drawing.offscreen`` packs. Standard output: the RGBA bytes of every sheet.
"""

from __future__ import annotations

import io
import json
import os
import signal
import sys
from dataclasses import dataclass
from itertools import compress
from typing import Any

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  (registers the OpenGL classes)
from numpy.typing import NDArray
from vtkmodules.util import numpy_support
from vtkmodules.vtkCommonCore import vtkFloatArray, vtkPoints, vtkUnsignedCharArray
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkPolyDataNormals, vtkStaticCleanPolyData
from vtkmodules.vtkRenderingCore import vtkActor, vtkLight, vtkPolyDataMapper, vtkRenderer, vtkRenderWindow

from sim.drawing.ink import Buffers, inked

numpy_to_vtk: Any = numpy_support.numpy_to_vtk
numpy_to_ids: Any = numpy_support.numpy_to_vtkIdTypeArray
vtk_to_numpy: Any = numpy_support.vtk_to_numpy

HUNG = 61  # s, after which nobody waits for the pixels any more, and a graphics driver that hangs is left to itself
CREASE = 40.0  # degrees between two faces beyond which the edge is shaded sharp
LIGHTS = (((-0.35, 0.85, 0.75), 0.80), ((0.7, 0.1, 0.9), 0.22), ((0.0, -1.0, 0.3), 0.12))
"""Directions to the lights in sheet axes and their strengths: the surface above, two weaker fills."""


@dataclass(frozen=True, eq=False)
class Stage:
    """A window with one renderer; actors of the solids, of the same in the colours of their numbers, of the gas in
    its colours and of its opacity as grey.

    gear : for each number, 0 for nothing, whether it is worn over the suit;  others : actors that are not shown
    """

    window: Any
    renderer: Any
    solids: tuple[Any, ...]
    numbers: tuple[Any, ...]
    gear: tuple[bool, ...]
    gas: tuple[Any, ...]
    veils: tuple[Any, ...]
    others: tuple[Any, ...] = ()


def showing(stage: Stage, surfaces: list[dict[str, Any]], shows: list[int]) -> Stage:
    """The stage with the surfaces of the numbers ``shows`` alone."""
    solid, layer = ([s["key"] in shows for s in surfaces if s["layer"] is is_gas] for is_gas in (False, True))
    return Stage(
        stage.window, stage.renderer, tuple(compress(stage.solids, solid)), tuple(compress(stage.numbers, solid)),
        stage.gear, tuple(compress(stage.gas, layer)), tuple(compress(stage.veils, layer)),
        (*stage.solids, *stage.numbers, *stage.gas, *stage.veils),
    )  # fmt: skip


def polydata(points: NDArray[np.float32], faces: NDArray[np.int64], colours: NDArray[np.uint8], *, lit: bool) -> Any:
    """VTK surface in the colours given; welded, with normals, where it is to be ``lit``."""
    made = vtkPolyData()
    places = vtkPoints()
    places.SetData(numpy_to_vtk(points, deep=True))
    made.SetPoints(places)
    cells = vtkCellArray()
    connectivity = np.ascontiguousarray(faces.ravel())
    offsets = np.arange(0, len(connectivity) + 1, 3, dtype=np.int64)
    cells.SetData(numpy_to_ids(offsets, deep=True), numpy_to_ids(connectivity, deep=True))
    made.SetPolys(cells)
    made.GetPointData().SetScalars(numpy_to_vtk(colours, deep=True))
    if not lit:
        return made
    welded = vtkStaticCleanPolyData()
    welded.SetInputData(made)
    welded.ToleranceIsAbsoluteOn()
    welded.SetAbsoluteTolerance(1e-6)
    shaded = vtkPolyDataNormals()
    shaded.SetInputConnection(welded.GetOutputPort())
    shaded.SetFeatureAngle(CREASE)
    shaded.ConsistencyOff()
    shaded.Update()
    return shaded.GetOutput()


def coloured(surface: Any, colours: NDArray[np.uint8]) -> Any:
    """The same surface in other colours (n, 3) of its points."""
    other = vtkPolyData()
    other.ShallowCopy(surface)
    other.GetPointData().SetScalars(numpy_to_vtk(np.ascontiguousarray(colours), deep=True))
    return other


def actor_of(surface: Any, shine: float | None) -> Any:
    """Actor in the surface's own colours, lit with some ``shine``, or unlit where that is None."""
    mapper = vtkPolyDataMapper()
    mapper.SetInputData(surface)
    mapper.SetColorModeToDirectScalars()
    actor = vtkActor()
    actor.SetMapper(mapper)
    look = actor.GetProperty()
    if shine is None:
        look.LightingOff()
        return actor
    look.BackfaceCullingOn()  # a solid is closed: what looks away is hidden by what does not
    look.SetInterpolationToPhong()
    look.SetAmbient(0.34)
    look.SetDiffuse(0.72)
    look.SetSpecular(0.55 * shine)
    look.SetSpecularPower(8.0 + 40.0 * shine)
    return actor


def staged(data: Any, surfaces: list[dict[str, Any]]) -> Stage:
    """Window with everything in it hidden at first, in body axes."""
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(0)
    window.SetAlphaBitPlanes(1)
    renderer = vtkRenderer()
    renderer.SetBackground(0.0, 0.0, 0.0)
    renderer.SetBackgroundAlpha(0.0)
    renderer.AutomaticLightCreationOff()
    window.AddRenderer(renderer)
    for direction, strength in LIGHTS:
        light = vtkLight()
        light.SetLightTypeToCameraLight()
        light.PositionalOff()
        light.SetPosition(*direction)
        light.SetFocalPoint(0.0, 0.0, 0.0)
        light.SetIntensity(strength)
        renderer.AddLight(light)
    solids, numbers, gas, veils = [], [], [], []
    for surface in surfaces:
        key = surface["key"]
        made = polydata(data[f"points{key}"], data[f"faces{key}"], data[f"colours{key}"], lit=not surface["layer"])
        colours = vtk_to_numpy(made.GetPointData().GetScalars())
        if surface["layer"]:
            gas.append(actor_of(coloured(made, colours[:, :3]), None))
            veils.append(actor_of(coloured(made, np.repeat(colours[:, 3:], 3, axis=1)), None))
        else:
            solids.append(actor_of(coloured(made, colours[:, :3]), surface["shine"]))
            numbers.append(numbered(made, len(solids)))
    for actor in (*solids, *numbers, *gas, *veils):
        renderer.AddActor(actor)
    gear = (False, *(bool(s["gear"]) for s in surfaces if not s["layer"]))
    return Stage(window, renderer, tuple(solids), tuple(numbers), gear, tuple(gas), tuple(veils))


def look_at(stage: Stage, sheet: dict[str, Any]) -> None:
    """Size the window to the sheet and look straight at it; what is nearer is slid as the oblique view asks."""
    stage.window.SetSize(*sheet["pixels"])
    right, up, towards = (np.array(axis) for axis in sheet["axes"])
    middle = np.array(sheet["centre"]) + sheet["middle"][0] * right + sheet["middle"][1] * up
    camera = stage.renderer.GetActiveCamera()
    camera.ParallelProjectionOn()
    camera.SetFocalPoint(*middle)
    camera.SetPosition(*(middle + sheet["depth"] * towards))
    camera.SetViewUp(*up)
    camera.SetParallelScale(sheet["half_height"])
    camera.SetClippingRange(0.01, 2.0 * sheet["depth"])
    # in the projection, so that lights fall on the true shape; VTK counts depth away from the viewer
    camera.SetViewShear(-sheet["slide"][0], -sheet["slide"][1], 1.0)


def render(stage: Stage, shown: tuple[Any, ...]) -> None:
    """Render the actors ``shown`` and nothing else."""
    for actor in (*stage.solids, *stage.numbers, *stage.gas, *stage.veils, *stage.others):
        actor.SetVisibility(actor in shown)
    stage.window.Render()


def colours_of(stage: Stage) -> NDArray[np.uint8]:
    """Colours (h, w, 4) of what was rendered last, first row on top."""
    (w, h), pixels = stage.window.GetSize(), vtkUnsignedCharArray()
    stage.window.GetRGBACharPixelData(0, 0, w - 1, h - 1, 0, pixels)
    return np.asarray(vtk_to_numpy(pixels).reshape(h, w, 4)[::-1])


def depths_of(stage: Stage) -> NDArray[np.float32]:
    """Depths (h, w) of it, 0 near to 1 nothing."""
    (w, h), depths = stage.window.GetSize(), vtkFloatArray()
    stage.window.GetZbufferData(0, 0, w - 1, h - 1, depths)
    return np.asarray(vtk_to_numpy(depths).reshape(h, w)[::-1])


def numbered(surface: Any, number: int) -> Any:
    """Actor of the same surface, unlit and evenly in the colour of its number."""
    actor = actor_of(surface, None)
    actor.GetMapper().ScalarVisibilityOff()
    look = actor.GetProperty()
    look.SetAmbient(1.0)  # unlit, VTK shows the colour times ambient plus diffuse
    look.SetDiffuse(0.0)
    # rounding may lose a step, so numbers are four steps apart
    look.SetColor(4 * (number % 60) / 255.0, 4 * (number // 60) / 255.0, 0.0)
    look.BackfaceCullingOn()
    return actor


def buffers(stage: Stage) -> Buffers:
    """Everything that the inking needs, from four renders."""
    render(stage, stage.solids)
    colour, depth = colours_of(stage), depths_of(stage)
    render(stage, stage.numbers)
    digits = (colours_of(stage)[..., :2].astype(np.int16) + 2) >> 2
    seen = digits[..., 0] + 60 * digits[..., 1]
    render(stage, stage.gas)
    gas, gas_depth = colours_of(stage), depths_of(stage)
    render(stage, stage.veils)
    gear = np.array(stage.gear)[seen]
    return Buffers(colour[..., :3], depth, seen, gas[..., :3], colours_of(stage)[..., 0], gas_depth, gear)


def main() -> None:
    if hasattr(signal, "alarm"):
        signal.alarm(HUNG)
    pixels_out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever the graphics driver prints must not mix with the pixels
    with np.load(io.BytesIO(sys.stdin.buffer.read())) as packed:
        data = {name: packed[name] for name in packed.files}
    header = json.loads(data["header"].tobytes())
    stage = staged(data, header["surfaces"])
    for sheet in header["sheets"]:
        look_at(stage, sheet)
        shown = showing(stage, header["surfaces"], sheet["shows"])
        picture = inked(buffers(shown), 2.0 * sheet["depth"], tuple(header["line"]))
        pixels_out.write(picture.tobytes())
    pixels_out.close()
    sys.stderr.flush()
    os._exit(0)  # all goes with the process: taking window and driver down in order is a tenth of it


if __name__ == "__main__":
    main()
