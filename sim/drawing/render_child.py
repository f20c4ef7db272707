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
from typing import Any

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  (registers the OpenGL classes)
from numpy.typing import NDArray
from vtkmodules.util import numpy_support
from vtkmodules.vtkCommonCore import vtkFloatArray, vtkPoints, vtkUnsignedCharArray
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkCleanPolyData, vtkPolyDataNormals
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
    """A window with one renderer; actors of the solids, of the gas in its colours and of its opacity as grey.

    gear : for each solid, whether it is worn over the suit
    """

    window: Any
    renderer: Any
    solids: tuple[Any, ...]
    gear: tuple[bool, ...]
    gas: tuple[Any, ...]
    veils: tuple[Any, ...]


def polydata(points: NDArray[np.float32], faces: NDArray[np.int64], colours: NDArray[np.uint8], slide: Any) -> Any:
    """VTK surface with normals of the true shape and points slid as the oblique view asks."""
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
    welded = vtkCleanPolyData()
    welded.SetInputData(made)
    welded.ToleranceIsAbsoluteOn()
    welded.SetAbsoluteTolerance(1e-6)
    shaded = vtkPolyDataNormals()
    shaded.SetInputConnection(welded.GetOutputPort())
    shaded.SetFeatureAngle(CREASE)
    shaded.ConsistencyOff()
    shaded.Update()
    result = shaded.GetOutput()
    slid = vtk_to_numpy(result.GetPoints().GetData()).copy()
    slid[:, :2] += slid[:, 2:] * np.asarray(slide, dtype=slid.dtype)
    moved = vtkPoints()
    moved.SetData(numpy_to_vtk(slid, deep=True))
    result.SetPoints(moved)
    return result


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
    look.SetInterpolationToPhong()
    look.SetAmbient(0.34)
    look.SetDiffuse(0.72)
    look.SetSpecular(0.55 * shine)
    look.SetSpecularPower(8.0 + 40.0 * shine)
    return actor


def staged(data: Any, sheet: dict[str, Any], surfaces: list[dict[str, Any]]) -> Stage:
    """Window of the sheet's size looking straight at it, everything in it hidden at first."""
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(0)
    window.SetAlphaBitPlanes(1)
    window.SetSize(*sheet["pixels"])
    renderer = vtkRenderer()
    renderer.SetBackground(0.0, 0.0, 0.0)
    renderer.SetBackgroundAlpha(0.0)
    renderer.AutomaticLightCreationOff()
    window.AddRenderer(renderer)
    for direction, strength in LIGHTS:
        light = vtkLight()
        light.SetLightTypeToSceneLight()
        light.PositionalOff()
        light.SetPosition(*direction)
        light.SetFocalPoint(0.0, 0.0, 0.0)
        light.SetIntensity(strength)
        renderer.AddLight(light)
    camera = renderer.GetActiveCamera()
    right, up = sheet["middle"]
    camera.ParallelProjectionOn()
    camera.SetFocalPoint(right, up, 0.0)
    camera.SetPosition(right, up, sheet["depth"])
    camera.SetViewUp(0.0, 1.0, 0.0)
    camera.SetParallelScale(sheet["half_height"])
    camera.SetClippingRange(0.01, 2.0 * sheet["depth"])
    solids, gas, veils = [], [], []
    for surface in surfaces:
        points, faces = data[f"points{sheet['key']}.{surface['key']}"], data[f"faces{surface['key']}"]
        colours = data[f"colours{surface['key']}"]
        if surface["layer"]:
            gas.append(actor_of(polydata(points, faces, colours[:, :3], sheet["slide"]), None))
            veils.append(
                actor_of(polydata(points, faces, np.repeat(colours[:, 3:], 3, axis=1), sheet["slide"]), None)
            )
        else:
            solids.append(actor_of(polydata(points, faces, colours[:, :3], sheet["slide"]), surface["shine"]))
    for actor in (*solids, *gas, *veils):
        renderer.AddActor(actor)
    gear = tuple(bool(s["gear"]) for s in surfaces if not s["layer"])
    return Stage(window, renderer, tuple(solids), gear, tuple(gas), tuple(veils))


def shot(stage: Stage, shown: tuple[Any, ...]) -> tuple[NDArray[np.uint8], NDArray[np.float32]]:
    """Colours (h, w, 4) and depths (h, w) 0 near to 1 nothing, first row on top, of the actors ``shown``."""
    for actor in (*stage.solids, *stage.gas, *stage.veils):
        actor.SetVisibility(actor in shown)
    stage.window.Render()
    w, h = stage.window.GetSize()
    pixels, depths = vtkUnsignedCharArray(), vtkFloatArray()
    stage.window.GetRGBACharPixelData(0, 0, w - 1, h - 1, 0, pixels)
    stage.window.GetZbufferData(0, 0, w - 1, h - 1, depths)
    return vtk_to_numpy(pixels).reshape(h, w, 4)[::-1].copy(), vtk_to_numpy(depths).reshape(h, w)[::-1].copy()


def buffers(stage: Stage) -> Buffers:
    """Everything that the inking needs, from four renders."""
    colour, depth = shot(stage, stage.solids)
    for number, actor in enumerate(stage.solids, start=1):
        actor.GetMapper().ScalarVisibilityOff()
        look = actor.GetProperty()
        look.LightingOff()
        look.SetAmbient(1.0)  # unlit, VTK shows the colour times ambient plus diffuse
        look.SetDiffuse(0.0)
        # rounding may lose a step, so numbers are four steps apart
        look.SetColor(4 * (number % 60) / 255.0, 4 * (number // 60) / 255.0, 0.0)
    numbered = (shot(stage, stage.solids)[0].astype(np.int32) + 2) // 4
    seen = numbered[..., 0] + 60 * numbered[..., 1]
    gas, gas_depth = shot(stage, stage.gas)
    veil, _ = shot(stage, stage.veils)
    gear = np.array([False, *stage.gear])[seen]
    return Buffers(colour[..., :3], depth, seen, gas[..., :3], veil[..., 0], gas_depth, gear)


def main() -> None:
    if hasattr(signal, "alarm"):
        signal.alarm(HUNG)
    pixels_out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever the graphics driver prints must not mix with the pixels
    with np.load(io.BytesIO(sys.stdin.buffer.read())) as packed:
        data = {name: packed[name] for name in packed.files}
    header = json.loads(data["header"].tobytes())
    for sheet in header["sheets"]:
        stage = staged(data, sheet, header["surfaces"])
        picture = inked(buffers(stage), 2.0 * sheet["depth"])
        pixels_out.write(picture.tobytes())
    pixels_out.close()


if __name__ == "__main__":
    main()
