"""Renders sheets of surfaces with VTK and writes the pixels to standard output.

Run as a program of its own: where no graphics library is to be had VTK ends its process with a segmentation
fault, which no exception handler sees, and its remarks on missing displays go to standard error. Both stay here.

Standard input: what ``sim.drawing.offscreen`` packs. Standard output: the RGBA bytes of every sheet.
"""

from __future__ import annotations

import os
import pickle
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
from vtkmodules.vtkFiltersCore import vtkAppendPolyData, vtkPolyDataNormals, vtkStaticCleanPolyData
from vtkmodules.vtkRenderingCore import vtkActor, vtkLight, vtkPolyDataMapper, vtkRenderer, vtkRenderWindow

from sim.drawing.ink import Buffers, inked

numpy_to_vtk: Any = numpy_support.numpy_to_vtk
vtk_to_numpy: Any = numpy_support.vtk_to_numpy

HUNG = 61  # s, after which nobody waits for the pixels any more, and a graphics driver that hangs is left to itself
BLENDING = 0x0BE2  # as OpenGL numbers it
MOST = 255  # solids that can be told apart: between any beyond these there is no line
CREASE = 40.0  # degrees between two faces beyond which the edge is shaded sharp
LIGHTS = (((-0.35, 0.85, 0.75), 0.80), ((0.7, 0.1, 0.9), 0.22), ((0.0, -1.0, 0.3), 0.12))
"""Directions to the lights in sheet axes and their strengths: the surface above, two weaker fills."""


@dataclass(frozen=True, eq=False)
class Shown:
    """What is rendered in one go, and the numbers of the sheets it is seen on."""

    actor: Any
    sheets: frozenset[int]


@dataclass(frozen=True, eq=False)
class Stage:
    """A window with one renderer; the solids, with their numbers for opacity, and the gas.

    gear : for each number, 0 for nothing, whether it is worn over the suit
    """

    window: Any
    renderer: Any
    gear: tuple[bool, ...] = (False,)
    solids: tuple[Shown, ...] = ()
    gas: tuple[Shown, ...] = ()


def polydata(points: NDArray[np.float32], faces: NDArray[np.int32], colours: NDArray[np.uint8], *, lit: bool) -> Any:
    """VTK surface in the colours given; welded, with normals, where it is to be ``lit``."""
    made = vtkPolyData()
    places = vtkPoints()
    places.SetData(numpy_to_vtk(points, deep=True))
    made.SetPoints(places)
    cells = vtkCellArray()
    cells.SetData(3, numpy_to_vtk(faces.ravel(), deep=True))
    made.SetPolys(cells)
    made.GetPointData().SetScalars(numpy_to_vtk(np.ascontiguousarray(colours), deep=True))
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


def together(surfaces: list[Any]) -> Any:
    """All of them as one, so that the graphics library is called once."""
    appended = vtkAppendPolyData()
    for surface in surfaces:
        appended.AddInputData(surface)
    appended.Update()
    return appended.GetOutput()


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


def opened() -> Stage:
    """Window with the lights on and nothing in it, in body axes."""
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
    return Stage(window, renderer)


def staged(surfaces: list[dict[str, Any]], sheets: list[dict[str, Any]]) -> Stage:
    """Window with everything in it; solids of one shine that are seen on the same sheets are one actor."""
    stage, gear = opened(), [False]
    solids: dict[tuple[frozenset[int], float], list[Any]] = {}
    gas = []
    for key, surface in enumerate(surfaces):
        on = frozenset(n for n, sheet in enumerate(sheets) if key in sheet["shows"])
        points, faces, colours = (surface[name] for name in ("points", "faces", "colours"))
        if surface["layer"]:
            gas.append(Shown(actor_of(polydata(points, faces, colours, lit=False), None), on))
            continue
        number = np.full(len(colours), min(len(gear), MOST), dtype=np.uint8)
        numbered = np.column_stack([colours[:, :3], number])
        solids.setdefault((on, surface["shine"]), []).append(polydata(points, faces, numbered, lit=True))
        gear.append(bool(surface["gear"]))
    ones = tuple(Shown(actor_of(together(same), shine), on) for (on, shine), same in solids.items())
    for one in (*ones, *gas):
        one.actor.ForceOpaqueOn()
        stage.renderer.AddActor(one.actor)
    # opacities are numbers here, to be read as they are; VTK lets things mix again before each render
    stage.renderer.AddObserver("StartEvent", lambda *_: stage.window.GetState().vtkglDisable(BLENDING))
    return Stage(stage.window, stage.renderer, tuple(gear), ones, tuple(gas))


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


def render(stage: Stage, shown: tuple[Shown, ...], sheet: int) -> None:
    """Render those ``shown`` that are seen on the sheet, and nothing else."""
    for one in (*stage.solids, *stage.gas):
        one.actor.SetVisibility(one in shown and sheet in one.sheets)
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


def buffers(stage: Stage, sheet: int) -> Buffers:
    """Everything that the inking needs of the sheet looked at, from two renders."""
    render(stage, stage.solids, sheet)
    colour, depth = colours_of(stage), depths_of(stage)
    render(stage, stage.gas, sheet)
    gas, gas_depth = colours_of(stage), depths_of(stage)
    seen = colour[..., 3]
    return Buffers(colour[..., :3], depth, seen, gas[..., :3], gas[..., 3], gas_depth, np.array(stage.gear)[seen])


def main() -> None:
    if hasattr(signal, "alarm"):
        signal.alarm(HUNG)
    pixels_out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever the graphics driver prints must not mix with the pixels
    told = pickle.load(sys.stdin.buffer)
    stage = staged(told["surfaces"], told["sheets"])
    for number, sheet in enumerate(told["sheets"]):
        look_at(stage, sheet)
        picture = inked(buffers(stage, number), 2.0 * sheet["depth"], tuple(told["line"]))
        pixels_out.write(picture.tobytes())
    pixels_out.close()
    sys.stderr.flush()
    os._exit(0)  # all goes with the process: taking window and driver down in order is a tenth of it


if __name__ == "__main__":
    main()
