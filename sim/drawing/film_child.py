"""Renders one picture of a film after another with VTK, in a process of its own, as ``render_child`` does stills.

The surfaces stay from picture to picture and only what moved is handed over; each picture is one render, gas and all.
Standard input: one pickled ``dict`` a picture, as ``film_renderer`` sends them. Standard output: its RGBA bytes.
"""

from __future__ import annotations

import os
import pickle
import signal
import sys
from typing import Any

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401  (registers the OpenGL classes)
from numpy.typing import NDArray
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkPolyDataNormals, vtkStaticCleanPolyData

from sim.drawing.quick_ink import quickly_inked
from sim.drawing.render_child import (
    CREASE,
    Stage,
    actor_of,
    colours_of,
    depths_of,
    look_at,
    numpy_to_vtk,
    opened,
)

HUNG = 61  # s for a picture, after which a graphics driver that hangs is left to itself


class Thing:
    """A surface on the stage, shaded anew when it moves."""

    def __init__(self, stage: Stage, shine: float, layer: bool) -> None:
        self.surface = vtkPolyData()
        self.actor = actor_of(self.surface, None if layer else shine)
        if layer:
            self.actor.ForceTranslucentOn()
            self.actor.GetProperty().BackfaceCullingOn()
        else:
            welded, shaded = vtkStaticCleanPolyData(), vtkPolyDataNormals()
            welded.SetInputData(self.surface)
            welded.ToleranceIsAbsoluteOn()
            welded.SetAbsoluteTolerance(1e-6)
            shaded.SetInputConnection(welded.GetOutputPort())
            shaded.SetFeatureAngle(CREASE)
            shaded.ConsistencyOff()
            self.actor.GetMapper().SetInputConnection(shaded.GetOutputPort())
        stage.renderer.AddActor(self.actor)

    def set(self, new: dict[str, NDArray[Any]]) -> None:
        """Take what is new of points (n, 3), faces (m, 3) and colours (n, 4)."""
        if "points" in new:
            places = vtkPoints()
            places.SetData(numpy_to_vtk(new["points"], deep=True))
            self.surface.SetPoints(places)
        if "faces" in new:
            cells = vtkCellArray()
            cells.SetData(3, numpy_to_vtk(np.ascontiguousarray(new["faces"].ravel()), deep=True))
            self.surface.SetPolys(cells)
        if "colours" in new:
            self.surface.GetPointData().SetScalars(numpy_to_vtk(new["colours"], deep=True))
        if new:
            self.surface.Modified()


def taken(stage: Stage, things: list[Thing], told: list[dict[str, Any]]) -> None:
    """Bring the things on the stage up to what was told; a surface whose look is told is another one."""
    for gone in things[len(told) :]:
        stage.renderer.RemoveActor(gone.actor)
    del things[len(told) :]
    for number, new in enumerate(told):
        look, arrays = new.get("look"), {k: v for k, v in new.items() if k != "look"}
        if look is not None:
            thing = Thing(stage, **look)
            if number < len(things):
                stage.renderer.RemoveActor(things[number].actor)
                things[number] = thing
            else:
                things.append(thing)
        things[number].set(arrays)


def main() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C goes to all; the parent says when it is over
    pixels_out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # whatever the graphics driver prints must not mix with the pixels
    stage, things = opened(), list[Thing]()
    while True:
        try:
            told = pickle.load(sys.stdin.buffer)
        except EOFError:
            break
        if hasattr(signal, "alarm"):
            signal.alarm(HUNG)
        taken(stage, things, told["things"])
        look_at(stage, told["sheet"])
        stage.window.Render()
        picture = quickly_inked(colours_of(stage), depths_of(stage), 2.0 * told["sheet"]["depth"])
        if hasattr(signal, "alarm"):
            signal.alarm(0)
        try:
            pixels_out.write(picture.tobytes())
            pixels_out.flush()
        except BrokenPipeError:
            break
    sys.stderr.flush()
    os._exit(0)  # all goes with the process


if __name__ == "__main__":
    main()
