"""The plate by itself, seen from behind, with the measures that decide whether it fits."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from sim.answers.fit.drawn.dimension_lines import Dimension, draw_dimension
from sim.answers.fit.drawn.sheet import BACK_AXES, OnPage, Word, area, stroke
from sim.drawing.canvas import Canvas, SheetOnCanvas
from sim.drawing.free_space import Box
from sim.drawing.palette import INK, SOFT_INK
from sim.drawing.silhouettes import silhouette
from sim.drawing.views import View
from sim.telling.language import quantity, reader, say, set_apart, unit_name

FILL: Final = "#dfe4e8"
SIDE_ROOM: Final = 58.0
ROW: Final = 21.0  # from one dimension line to the next
TITLE: Final = 47.0  # of three lines above
NO_CHANNEL: Final = 5e-4  # m, below the shown digits


def inset_view(plate: Plate, room: Box) -> OnPage:
    """The plate as large as ``room`` lets it be with its measures round it."""
    edge = plate.outline
    low, high = edge.min(axis=0), edge.max(axis=0)
    tall, wide = room.top - TITLE - room.bottom - 3.4 * ROW, room.right - room.left - 2.0 * SIDE_ROOM
    scale = float(min(tall / (high[0] - low[0]), wide / (high[1] - low[1])))
    origin = (
        0.5 * (room.left + room.right) + 0.5 * scale * float(low[1] + high[1]),
        room.bottom + 2.0 * ROW - scale * float(low[0]),
    )
    return OnPage(View(BACK_AXES, np.zeros(3)), SheetOnCanvas(origin, scale))


def inset_dimensions(plate: Plate, page: OnPage) -> tuple[Dimension, ...]:
    """Length and bolts at the sides, widths and slots above and below."""
    edge = page.placement.on_canvas(np.column_stack([-plate.outline[:, 1], plate.outline[:, 0]]))
    low, high = edge.min(axis=0), edge.max(axis=0)
    edge_low, edge_high = plate.outline[:, 0].min(), plate.outline[:, 0].max()
    widest = edge[[edge[:, 0].argmin(), edge[:, 0].argmax()]]

    def across(ends: np.ndarray, line: float, words: str, side: int) -> Dimension:
        ends = ends[ends[:, 0].argsort()]
        return Dimension(ends, line, "across", float(np.ptp(ends[:, 0])) / page.placement.scale, words, side)

    def upright(a: np.ndarray, b: np.ndarray, line: float, words: str, side: int) -> Dimension:
        ends = np.concatenate([page.at(a), page.at(b)])
        return Dimension(ends, line, "up", float(abs(b[0] - a[0])), words, side)

    return (
        upright(
            np.array([edge_low, 0.0, 0.0]), np.array([edge_high, 0.0, 0.0]), float(low[0]) - 14.0, say("long"), -1
        ),
        upright(plate.lower_bolt, plate.upper_bolt, float(high[0]) + 14.0, say("bolts"), 1),
        across(page.at(plate.shoulder_slots), float(high[1]) + 10.0, say("shoulder slots"), 1),
        across(page.at(plate.waist_slots), float(low[1]) - 8.0, say("waist slots"), -1),
        across(widest, float(low[1]) - 8.0 - ROW, say("width"), -1),
    )


def inset_words(plate: Plate, page: OnPage, room: Box) -> tuple[Word, ...]:
    """All that is written about the plate."""
    deep = plate.channel_depth
    if deep > NO_CHANNEL:
        depth = say("channel {deep} deep", deep=quantity(100.0 * deep, "cm", 1))
    else:
        depth = say("flat, no channel")
    slots = (plate.shoulder_slots[0], plate.waist_slots[0], plate.crotch_slot)
    downs = say(
        "bolts {bolts}; slots {slots}",
        bolts=_from_top(plate, plate.upper_bolt, plate.lower_bolt),
        slots=_from_top(plate, *slots),
    )
    return (
        Word(say("The plate, from behind"), (room.left, room.top), 12.0, along="top", bold=True),
        Word(
            say("{depth}; from the top edge, in {unit}:", depth=depth, unit=unit_name("cm")),
            (room.left, room.top - 15.0),
            10.5,
            along="top",
            colour=SOFT_INK,
        ),
        Word(downs, (room.left, room.top - 28.0), 10.5, along="top", colour=SOFT_INK),
        *(d.word for d in inset_dimensions(plate, page)),
    )


def _from_top(plate: Plate, *places: Floats) -> str:
    """Distances from the top edge [cm], as "6.5, 34.5"."""
    top = plate.outline[:, 0].max()
    far = (quantity(100.0 * (top - place[0]), "cm", 1, bare=True) for place in places)
    return ", ".join(far) if reader().language == "en" else set_apart(far)  # no second comma beside the decimal one


def draw_inset(canvas: Canvas, plate: Plate, page: OnPage) -> None:
    """The plate with its measured lines; the words are written with all others."""
    if plate.solid.mesh is not None:
        rings = [page.placement.on_canvas(r) for r in silhouette([plate.solid.mesh], page.view)]
        area(canvas, rings, fill=FILL, edge=INK, width=1.0, zorder=21.0)
    for bolt in (plate.upper_bolt, plate.lower_bolt):
        at = page.at(bolt)[0]
        for way in (np.array([5.0, 0.0]), np.array([0.0, 5.0])):
            stroke(canvas, [at - way, at + way], width=0.8, zorder=46.0)
    for dimension in inset_dimensions(plate, page):
        draw_dimension(canvas, dimension)
