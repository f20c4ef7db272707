"""The diver wearing the rig, from behind and from the side: body and webbing in pale tones, cylinders see-through."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from meshes.mesh import Mesh, joined
from sim.answers.fit.drawn.scene import FitScene
from sim.answers.fit.drawn.sheet import OnPage, area
from sim.assembly.placement import solid_at
from sim.drawing.canvas import Canvas
from sim.drawing.diver_painter import paint_flat
from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.free_space import Box
from sim.drawing.palette import INK, rgb
from sim.drawing.silhouettes import silhouette
from sim.drawing.surfaces import Surface

FINENESS: Final = 0.5  # reference pixels of the smallest detail kept
PALE: Final = ((0.0, 0.84), (0.18, 0.90), (0.45, 0.95), (0.75, 1.0))  # steps of light that print well
BODY: Final = "#eef1f3"
PLATE: Final = "#c3ccd3"
WEBBING: Final = "#6b757d"
METAL: Final = "#d9dee2"
GLASSY: Final = "#8fb0c2"  # cylinders
SEEN_THROUGH: Final = 0.26  # opacity of the cylinders
TRUNK: Final = ("head", "upper trunk", "middle trunk", "lower trunk", "left thigh", "right thigh")
ARM: Final = ("left upper arm", "left forearm", "left hand")


def paint_back(canvas: Canvas, scene: FitScene, page: OnPage, keep: Box) -> None:
    """From behind: the plate is seen through the cylinders that hang on it."""
    surfaces = [_surface("body", scene.body.drawing, BODY), *_worn(scene)]
    _paint(canvas, surfaces, page, keep, 10.0)
    _paint_cylinders(canvas, scene, page)


def paint_side(canvas: Canvas, scene: FitScene, page: OnPage, keep: Box) -> None:
    """From the diver's left; the arm, which would hide the waist, is an outline."""
    solids = dict(scene.body.segments)
    trunk = joined([m for n in TRUNK if (m := solids[n].mesh) is not None])
    _paint(canvas, [_surface("body", trunk, BODY), *_worn(scene)], page, keep, 10.0)
    _paint_cylinders(canvas, scene, page)
    arm = [m for n in ARM if (m := solids[n].mesh) is not None]
    outline(canvas, arm, page, keep=keep, dashes=(5.0, 3.0), zorder=26.0, colour="#8a949b")


def plate_mesh(scene: FitScene) -> Mesh | None:
    """The plate where it lies."""
    return solid_at(scene.seat, scene.plate.solid).mesh


def outline(
    canvas: Canvas, meshes: Sequence[Mesh], page: OnPage, *, dashes: tuple[float, ...] = (), width: float = 1.0,
    colour: str = INK, fill: str | None = None, opacity: float = 1.0, keep: Box | None = None, zorder: float = 25.0,
) -> None:  # fmt: skip
    """The silhouette of ``meshes`` as a line, filled if asked."""
    rings = [page.placement.on_canvas(ring) for ring in silhouette(meshes, page.view)]
    area(canvas, rings, fill=fill, opacity=opacity, edge=colour, width=width, keep=keep, dashes=dashes, zorder=zorder)


def _worn(scene: FitScene) -> list[Surface]:
    plate = plate_mesh(scene)
    worn = [] if plate is None else [_surface("plate", plate, PLATE)]
    return worn if scene.harness is None else [*worn, _surface("harness", scene.harness, WEBBING)]


def _paint_cylinders(canvas: Canvas, scene: FitScene, page: OnPage) -> None:
    """See-through cylinders and bands, the farther first; valves solid."""
    towards = page.view.axes[2]
    for mesh in sorted(scene.cylinders, key=lambda m: float((m.vertices @ towards).mean())):
        outline(canvas, [mesh], page, fill=GLASSY, opacity=SEEN_THROUGH, width=1.1, zorder=21.0)
    if scene.bands:
        outline(canvas, scene.bands, page, fill=METAL, opacity=0.35, width=0.6, colour="#59646c", zorder=22.0)
    if scene.valves:
        _paint(canvas, [_surface("valves", joined(scene.valves), METAL)], page, None, 23.0)


def _surface(name: str, mesh: Mesh, colour: str) -> Surface:
    rgba = np.round(np.multiply((*rgb(colour), 1.0), 255.0)).astype(np.uint8)
    return Surface(name, mesh, np.tile(rgba, (len(mesh.vertices), 1)), 0.1)


def _paint(canvas: Canvas, surfaces: Sequence[Surface], page: OnPage, keep: Box | None, zorder: float) -> None:
    shapes = flat_shapes(tuple(surfaces), page.view, FINENESS / page.placement.scale, PALE)
    paint_flat(canvas, shapes, page.placement, zorder, keep)
