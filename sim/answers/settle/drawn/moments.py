"""Where letting go leads: the diver after a few seconds and at the end, side by side on one strip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.settle.drawn.placed_view import bubble_radii, extent, seen_corners
from sim.answers.settle.drawn.story import Moment
from sim.drawing.canvas import Canvas, SheetOnCanvas, fitted
from sim.drawing.free_space import Box
from sim.drawing.letters import wrapped_to
from sim.drawing.marks import draw_barb, draw_bubbles, draw_line, draw_word
from sim.drawing.surfaces import DressedScene
from sim.drawing.views import View, projected, side_view

BIGGEST: Final = 400.0  # pixels a metre
BROADEST: Final = 560.0  # of a moment
ROW: Final = 1000.0  # and where they stand below one another
GAP: Final = 60.0  # between moments, room of an arrow
WORDS: Final = 21.0  # size of letters
LINE: Final = 26.0
BESIDE: Final = 0.42  # of a moment's breadth, for words


@dataclass(frozen=True, eq=False)
class MomentPanel:
    """One moment on the strip.

    room : all of it;  words : its right part;  view, placement : of the diver
    drawn : (n, 2) points [pixels] that hold the diver
    """

    moment: Moment
    room: Box
    words: Box
    view: View
    placement: SheetOnCanvas
    drawn: Floats


def moment_panels(moments: Sequence[Moment], dresses: Sequence[DressedScene], strip: Box) -> tuple[MomentPanel, ...]:
    """A panel for each moment, all to one scale."""
    if not moments:
        return ()
    rooms = _rooms(strip, len(moments))
    views = [side_view(m.scene.up, m.scene.cm) for m in moments]
    sheets = [seen_corners(v, d) for v, d in zip(views, dresses, strict=True)]
    ends = [extent(s) for s in sheets]
    split = [r.left + (1.0 - BESIDE) * (r.right - r.left) for r in rooms]
    inner = [(r.left, r.bottom + 4.0, x, r.top - 4.0) for r, x in zip(rooms, split, strict=True)]
    scale = min(fitted(*end, room, BIGGEST).scale for end, room in zip(ends, inner, strict=True))
    found = []
    for number, moment in enumerate(moments):
        room, place = rooms[number], fitted(*ends[number], inner[number], scale)
        words = Box(split[number] + 14.0, room.bottom, room.right, room.top)
        found.append(MomentPanel(moment, room, words, views[number], place, place.on_canvas(np.array(ends[number]))))
    return tuple(found)


def _rooms(strip: Box, count: int) -> list[Box]:
    """Side by side, or below one another where the strip is taller than wide."""
    breadth, height = strip.right - strip.left, strip.top - strip.bottom
    if height > breadth:
        each = (height + GAP) / count
        left, right = strip.left + 0.5 * (breadth - ROW), strip.left + 0.5 * (breadth + ROW)
        tops = [strip.top - k * each for k in range(count)]
        return [Box(left, top - each + GAP, right, top) for top in tops]
    each = min((breadth + GAP) / count, BROADEST)
    lefts = [strip.left + k * each for k in range(count)]
    return [Box(x, strip.bottom, x + each - GAP, strip.top) for x in lefts]


def draw_moments(canvas: Canvas, panels: Sequence[MomentPanel], *, horizon: bool) -> None:
    """A level line behind each diver, when and how beside it, an arrow from each to the next."""
    for number, panel in enumerate(panels):
        level = panel.placement.origin[1]
        if horizon:
            ends = np.array([[panel.room.left, level], [panel.words.left - 8.0, level]])
            draw_line(canvas, ends, canvas.style.soft_ink, 1.8, 2.0, dashes=(7, 4), halo=False)
        _draw_loose(canvas, panel)
        _write(canvas, panel)
        if number:
            before, room = panels[number - 1].room, panel.room
            if before.bottom >= room.top:
                at = np.array([0.5 * (room.left + room.right), 0.5 * (before.bottom + room.top)])
                _draw_step(canvas, at, np.array([0.0, -1.0]))
            else:
                at = np.array([0.5 * (before.right + room.left), 0.5 * (room.bottom + room.top)])
                _draw_step(canvas, at, np.array([1.0, 0.0]))


def _draw_loose(canvas: Canvas, panel: MomentPanel) -> None:
    """Of a rig told by numbers, whose balls look alike from every side: its gas, and which way its head is."""
    scene = panel.moment.scene
    if scene.loose_gas is None:
        return
    scale = panel.placement.scale
    seen = panel.placement.on_canvas(projected(panel.view, scene.loose_gas.centre))
    draw_bubbles(canvas, seen, bubble_radii(scene.loose_gas) * scale, 12.0)
    middle, ahead = panel.placement.on_canvas(projected(panel.view, np.stack([scene.cm, scene.cm + [0.4, 0.0, 0.0]])))
    way = (ahead - middle) / max(float(np.hypot(*(ahead - middle))), 1e-9)
    draw_line(canvas, np.stack([middle, middle + 80.0 * way]), canvas.style.ink, 3.0, 13.0)
    draw_barb(canvas, middle + 96.0 * way, way, canvas.style.ink, 18.0, 14.0)


def _write(canvas: Canvas, panel: MomentPanel) -> None:
    """When and how the diver lies, in lines as long as there is room."""
    words, size = panel.words, WORDS
    breadth, height = words.right - words.left, words.top - words.bottom
    lines = _lines(panel.moment.words, breadth, size)
    while len(lines) * LINE * size / WORDS > height and size > 15.0:
        size -= 1.0
        lines = _lines(panel.moment.words, breadth, size)
    step = LINE * size / WORDS
    y = 0.5 * (words.bottom + words.top) + 0.5 * step * (len(lines) - 1)
    for line, bold in lines:
        draw_word(canvas, (words.left, y), line, size=size, across="left", bold=bold, halo=False)
        y -= step


def _lines(words: tuple[str, str], breadth: float, size: float) -> list[tuple[str, bool]]:
    when, how = words
    return [(line, bold) for text, bold in ((when, True), (how, False)) for line in wrapped_to(text, breadth, size, bold=bold)]  # fmt: skip  # noqa: E501


def _draw_step(canvas: Canvas, at: Floats, way: Floats) -> None:
    """An arrow about a place (2,), along the unit ``way`` (2,) to the next moment."""
    draw_line(canvas, np.stack([at - 19.0 * way, at + 3.0 * way]), canvas.style.ink, 4.0)
    draw_barb(canvas, at + 19.0 * way, way, canvas.style.ink, 20.0)
