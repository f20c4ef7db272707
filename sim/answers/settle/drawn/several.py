"""Several divers in one frame, to one scale: each held flat with what turns them, and where letting go leads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.settle.drawn.backdrop import draw_grid, draw_ground
from sim.answers.settle.drawn.flat_panel import draw_panel
from sim.answers.settle.drawn.foot import FOOT, write_foot
from sim.answers.settle.drawn.moments import MomentPanel, draw_moments, moment_panels
from sim.answers.settle.drawn.painting import paint
from sim.answers.settle.drawn.picture import MARGIN, shown_of
from sim.answers.settle.drawn.placed_view import FlatPanel, panel_of
from sim.answers.settle.drawn.story import Story
from sim.answers.settle.drawn.words import LENGTHS
from sim.drawing.canvas import Canvas, blank
from sim.drawing.free_space import Box
from sim.drawing.letters import size_for
from sim.drawing.marks import draw_line, draw_word
from sim.drawing.saved import checked_path, save
from sim.drawing.scene import DrawnPicture
from sim.drawing.sheet_options import Chosen
from sim.drawing.surfaces import DressedScene, deepest_of, dressed_all
from sim.telling.language import told

MOST: Final = 4  # divers in a frame
HEAD: Final = 44.0  # of a row, for its words
END: Final = 430.0  # reference pixels of a row kept for where letting go leads
SIZE: Final = 25.0


@dataclass(frozen=True, eq=False)
class Row:
    """One diver: the story, the diver held flat and at the end, and where both are drawn."""

    story: Story
    dresses: tuple[DressedScene, ...]
    flat: FlatPanel
    end: tuple[MomentPanel, ...]
    top: float


def draw_several(stories: Sequence[Story], path: str | Path, chosen: Chosen | None = None) -> DrawnPicture:
    """Draw stories below one another into a PNG, SVG or PDF file by the path's ending.

    Raises ValueError for more than MOST, another ending or a size out of bounds, OSError when it cannot be written.
    """
    if not 1 <= len(stories) <= MOST:
        raise ValueError(f"one frame holds 1 to {MOST} divers, got {len(stories)}")
    target, chosen = checked_path(path), chosen or Chosen()
    canvas = blank(chosen.size, style=chosen.look)
    rows = rows_of(canvas, stories, chosen)
    draw_ground(canvas)
    painted = []
    for row in rows:
        draw_grid(canvas, row.flat.placement, row.flat.room)
        flat = row.flat
        places = [(flat.view, flat.placement, flat.drawn), *((p.view, p.placement, p.drawn) for p in row.end)]
        painted += [(*place, dress) for place, dress in zip(places, row.dresses, strict=True)]
    renderer, note = paint(canvas, painted, target)
    annotate_rows(canvas, rows, chosen)
    save(canvas, target)
    return DrawnPicture(target, renderer, note)


def rows_of(canvas: Canvas, stories: Sequence[Story], chosen: Chosen) -> tuple[Row, ...]:
    """The rows from the top down, every diver to the scale of the one who needs most room."""
    ends = [s.moments[-1:] for s in stories]
    scenes = [[story.flat, *(m.scene for m in end)] for story, end in zip(stories, ends, strict=True)]
    deepest = deepest_of([scene for own in scenes for scene in own])
    view = "side" if chosen.view == "all" else chosen.view
    high = (canvas.height - FOOT - 12.0) / len(stories)
    laid = []
    for number, (story, end, own) in enumerate(zip(stories, ends, scenes, strict=True)):
        top = canvas.height - 12.0 - number * high
        dresses = shown_of(chosen, dressed_all(own, deepest))
        room = Box(MARGIN, top - high + 8.0, canvas.width - MARGIN - END, top - HEAD)
        last = Box(canvas.width - MARGIN - END + 20.0, room.bottom, canvas.width - MARGIN, room.top)
        laid.append((story, end, dresses, room, last, top))
    full = max((abs(t.moment) for s in stories for t in s.turners), default=1.0)
    first = [panel_of(view, story, d[0], room, small=True, full=full) for story, _, d, room, _, _ in laid]
    scale = min(p.placement.scale for p in first)
    rows = []
    for story, end, d, room, last, top in laid:
        flat = panel_of(view, story, d[0], room, small=True, most=scale, full=full)
        rows.append(Row(story, d, flat, moment_panels(end, d[1:], last), top))
    return tuple(rows)


def annotate_rows(canvas: Canvas, rows: Sequence[Row], chosen: Chosen) -> None:
    """All lines and words."""
    style, left = canvas.style, MARGIN + 8.0
    for number, row in enumerate(rows):
        story = row.story
        draw_panel(canvas, row.flat, story, chosen.layers)
        draw_moments(canvas, row.end, horizon="horizon" in chosen.layers)
        title = story.flat.title
        size = size_for(title, canvas.width - 2.0 * left, SIZE, bold=True, zoom=canvas.zoom)
        draw_word(canvas, (left, row.top - 24.0), title, size=size, across="left", bold=True, halo=False)
        if number:
            draw_line(canvas, _across(canvas, row.top + 2.0), style.soft_ink, 1.2, 3.0, halo=False)
    first = rows[0]
    said = told(LENGTHS) if "arrows" in chosen.layers and first.flat.turning else ""
    turns, measured = first.flat.coloured(chosen.layers), any(row.story.measures for row in rows)
    write_foot(canvas, first.story.flat, first.dresses[0].deepest, said, "", turns=turns, measured=measured)


def _across(canvas: Canvas, level: float) -> Floats:
    """A level line (2, 2) over the sheet."""
    return np.array([[MARGIN, level], [canvas.width - MARGIN, level]])
