"""A plate as it looks, bent: from behind and from the side that lies against the diver."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from meshes.plate.back_plate import Plate
from scenarios.materials import Material
from sim.answers.plate.answer import PLATE_CAUTION, PlateAnswer
from sim.answers.plate.drawn.place_names import (
    LETTERS,
    Label,
    beside,
    column_width,
    named_places,
    rooms_beside,
    seen_pieces,
)
from sim.answers.plate.text import made_words, mass_words
from sim.drawing.canvas import REFERENCE, Canvas, SheetOnCanvas, blank, haloed, points
from sim.drawing.diver_painter import paint_flat, paint_rendered, sheet_for
from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.free_space import Box
from sim.drawing.letters import size_for, wrapped_to
from sim.drawing.offscreen import rendered
from sim.drawing.palette import INK, SOFT_INK, Finish, rgb
from sim.drawing.saved import checked_path, save
from sim.drawing.scene import DrawnPicture
from sim.drawing.surfaces import Surface
from sim.drawing.views import View, projected
from sim.telling.language import quantity, say, set_apart, told
from sim.telling.words import as_printed

TURNED: Final = (np.radians(32.0), np.radians(20.0))  # of the view, about the long axis and from above
ROOM, LEAST = 1520.0, 0.7  # pixels for a line, and how much smaller it may be set to fit
FINENESS: Final = 0.0008  # m of the smallest detail where no graphics library works
FIXED: Final = Finish("#8d6f4d", 0.2)
LOOKS: Final = {
    "metal": Finish("#c9d0d5", 0.7), "laminate": Finish("#4a5056", 0.5), "sandwich": Finish("#4a5056", 0.5),
    "plastic": Finish("#5f6b73", 0.2),
}  # fmt: skip


def draw_plate(plate: Plate, material: Material | None, answer: PlateAnswer, path: str | Path) -> DrawnPicture:
    """Draw to ``path`` (PNG, SVG or PDF). Raises ValueError for a plate without a shape."""
    target = checked_path(path)
    if plate.solid.mesh is None:
        raise ValueError("this plate has no shape to be drawn")
    canvas = blank(REFERENCE, 1.0)
    surfaces = (
        _surface("plate", plate.solid.mesh, LOOKS[material.kind] if material else LOOKS["metal"]),
        *(_surface(one.name, one.solid.mesh, FIXED) for one in plate.additions if one.solid.mesh is not None),
    )
    vertices = np.concatenate([surface.mesh.vertices for surface in surfaces])
    centre = (vertices.min(axis=0) + vertices.max(axis=0)) / 2
    views = [View(_axes(behind), centre) for behind in (True, False)]
    named = named_places(plate)
    rooms = rooms_beside(column_width([name for name, _, _ in named]))
    placed = _placed(views, vertices, rooms)
    sheets = [sheet_for(canvas, view, at, room) for view, at, room in zip(views, placed, rooms, strict=True)]
    pictures = rendered(surfaces, tuple(sheet for sheet, _ in sheets))
    for k, (view, at) in enumerate(zip(views, placed, strict=True)):
        if pictures.failure:
            paint_flat(canvas, flat_shapes(surfaces, view, FINENESS), at, 2.0)
        else:
            paint_rendered(canvas, pictures.pictures[k], sheets[k][1], 2.0)
    right = float(placed[0].on_canvas(projected(views[0], vertices))[:, 0].max())
    spots = placed[0].on_canvas(projected(views[0], np.array([place for _, place, _ in named])))
    seen = [placed[0].on_canvas(projected(views[0], s.mesh.vertices))[s.mesh.faces] for s in surfaces]
    _name_places(canvas, beside([(name, mark) for name, _, mark in named], spots, right), np.concatenate(seen))
    _words(canvas, answer, rooms)
    save(canvas, target)
    return DrawnPicture(target, "vector" if pictures.failure else "shaded", pictures.failure)


def _surface(name: str, mesh: Mesh, look: Finish) -> Surface:
    rgba = np.round(np.multiply((*rgb(look.colour), 1.0), 255.0)).astype(np.uint8)
    return Surface(name, mesh, np.tile(rgba, (len(mesh.vertices), 1)), look.shine, faceted=True)


def _axes(behind: bool) -> Floats:
    """Right, up and towards the viewer in the plate's axes: x to the head, y to the diver's left, z to the back."""
    about, above = TURNED
    right, towards = np.array([0.0, -1.0, 0.0]), np.array([0.0, 0.0, 1.0])
    if not behind:
        right, towards = -right, -towards
    right, towards = (
        np.cos(about) * right - np.sin(about) * towards,
        np.sin(about) * right + np.cos(about) * towards,
    )
    head = np.array([1.0, 0.0, 0.0])
    return np.stack(
        [right, np.cos(above) * head - np.sin(above) * towards, np.sin(above) * head + np.cos(above) * towards]
    )


def _placed(views: Sequence[View], vertices: Floats, rooms: Sequence[Box]) -> list[SheetOnCanvas]:
    """Both views at one scale, each in the middle of its room."""
    seen = [projected(view, vertices)[:, :2] for view in views]
    scale = min(
        0.92 * min((room.right - room.left) / np.ptp(s[:, 0]), (room.top - room.bottom) / np.ptp(s[:, 1]))
        for s, room in zip(seen, rooms, strict=True)
    )
    found = []
    for s, room in zip(seen, rooms, strict=True):
        middle = (s.min(axis=0) + s.max(axis=0)) / 2
        x, y = (room.left + room.right) / 2 - scale * middle[0], (room.bottom + room.top) / 2 - scale * middle[1]
        found.append(SheetOnCanvas((float(x), float(y)), float(scale)))
    return found


def _name_places(canvas: Canvas, labels: Sequence[Label], seen: Floats) -> None:
    """What the holes are for, those at the right; and the centre of mass. seen : (n, 3, 2) triangles of the plate"""
    for label in labels:
        (x, y), (_, height) = label.leader
        for piece in seen_pieces(label.leader, seen):
            canvas.axes.plot(*piece.T, color=INK, linewidth=points(1.2), zorder=5.0, path_effects=haloed())
        canvas.axes.plot([x], [y], label.mark, color=INK, markersize=points(6.0), zorder=5.5)
        canvas.axes.text(
            label.box.left, height, label.name, fontsize=points(LETTERS), color=INK, va="center", zorder=6.0
        )


def _words(canvas: Canvas, answer: PlateAnswer, rooms: Sequence[Box]) -> None:
    said = as_printed(set_apart((made_words(answer), mass_words(answer))))
    if answer.loaded is not None:
        said = say("{plate}; with what is fixed to it {mass}", plate=said, mass=quantity(answer.loaded.mass, "kg", 3))
    for text, at, size, bold in ((answer.title, 950.0, 30.0, True), (said, 908.0, 19.0, False)):
        size = size_for(text, ROOM, size, bold=bold, least=LEAST * size)
        first = next(iter(wrapped_to(text, ROOM, size, bold=bold)), "")
        weight, colour = ("bold", INK) if bold else ("normal", SOFT_INK)
        canvas.axes.text(
            40.0, at, first, fontsize=points(size), color=colour, fontweight=weight, va="center", parse_math=False
        )
    for room, words in zip(rooms, (say("from behind"), say("the side that lies against the diver")), strict=True):
        canvas.axes.text(
            (room.left + room.right) / 2, 62.0, words, fontsize=points(19.0), color=SOFT_INK, ha="center"
        )
    canvas.axes.text(40.0, 24.0, told(PLATE_CAUTION), fontsize=points(15.0), color=SOFT_INK, va="center")
