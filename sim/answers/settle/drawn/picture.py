"""The picture of a diver who stops moving: held flat with what turns them, and below it where letting go leads."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from sim.answers.settle.drawn.backdrop import draw_grid, draw_ground
from sim.answers.settle.drawn.flat_panel import draw_panel
from sim.answers.settle.drawn.foot import FOOT, write_foot
from sim.answers.settle.drawn.moments import MomentPanel, draw_moments, moment_panels
from sim.answers.settle.drawn.painting import paint
from sim.answers.settle.drawn.placed_view import FlatPanel, bubble_radii, panel_of
from sim.answers.settle.drawn.story import Story
from sim.answers.settle.drawn.words import (
    FREE,
    HELD,
    INDIFFERENT,
    LENGTHS,
    SCALES,
    VIEW_NAMES,
    headline,
    rest_words,
)
from sim.drawing.canvas import Canvas, blank
from sim.drawing.free_space import Box
from sim.drawing.letters import size_for
from sim.drawing.marks import draw_bubbles, draw_word
from sim.drawing.saved import checked_path, save
from sim.drawing.scene import DrawnPicture
from sim.drawing.sheet_options import Chosen
from sim.drawing.surfaces import DressedScene, dressed_all
from sim.drawing.views import projected
from sim.said import note
from sim.telling.language import set_apart, told

MARGIN: Final = 40.0
HEAD: Final = 160.0  # pixels kept for title and answer
STRIP: Final = 0.40  # of what is between, for the moments after letting go
TALL_STRIP: Final = 0.62  # where the picture is taller than wide
HEADING: Final = 34.0  # over the strip


def draw_story(story: Story, path: str | Path, chosen: Chosen | None = None) -> DrawnPicture:
    """Draw a story into a PNG, SVG or PDF file by the path's ending.

    PNG is shaded by VTK in a child process if a graphics library works there; SVG and PDF, and PNG where none
    works or HANGFLAT_FLAT_PICTURES is set, are drawn in flat shapes.
    Raises ValueError for another ending or a size out of bounds, OSError when the file cannot be written.
    """
    target, chosen = checked_path(path), chosen or Chosen()
    canvas = blank(chosen.size, style=chosen.look)
    dresses = _dressed(story, chosen)
    panels, moments = laid_out(canvas, story, dresses, chosen)
    draw_ground(canvas)
    for panel in panels:
        draw_grid(canvas, panel.placement, panel.room)
    places = [(p.view, p.placement, p.drawn) for p in panels] + [(m.view, m.placement, m.drawn) for m in moments]
    painted = [(*place, d) for place, d in zip(places, _each(panels, dresses), strict=True)]
    renderer, note = paint(canvas, painted, target)
    annotate(canvas, story, panels, moments, dresses[0], chosen)
    save(canvas, target)
    return DrawnPicture(target, renderer, note)


def _dressed(story: Story, chosen: Chosen) -> tuple[DressedScene, ...]:
    """The diver held flat, then at each moment that is drawn."""
    moments = () if chosen.view == "all" else tuple(m.scene for m in story.moments)
    return shown_of(chosen, dressed_all((story.flat, *moments)))


def shown_of(chosen: Chosen, dresses: Sequence[DressedScene]) -> tuple[DressedScene, ...]:
    """The divers without gas where that layer is not wanted."""
    if "gas" in chosen.layers:
        return tuple(dresses)
    return tuple(DressedScene(tuple(s for s in d.surfaces if not s.layer), 0.0) for d in dresses)


def laid_out(
    canvas: Canvas, story: Story, dresses: Sequence[DressedScene], chosen: Chosen
) -> tuple[tuple[FlatPanel, ...], tuple[MomentPanel, ...]]:
    """Where every view of the diver lies."""
    page = Box(MARGIN, FOOT, canvas.width - MARGIN, canvas.height - HEAD)
    if chosen.view == "all":
        return _four(page, story, dresses[0]), ()
    low = page.bottom
    moments: tuple[MomentPanel, ...] = ()
    if story.moments:
        tall = page.top - page.bottom > page.right - page.left
        low += (TALL_STRIP if tall else STRIP) * (page.top - page.bottom)
        strip = Box(page.left, page.bottom, page.right, low - HEADING)
        moments = moment_panels(story.moments, dresses[1:], strip)
    room = Box(page.left, low, page.right, page.top)
    return (panel_of(chosen.view, story, dresses[0], room),), moments


def _four(page: Box, story: Story, dress: DressedScene) -> tuple[FlatPanel, ...]:
    """All views on one sheet: from the side large, from ahead beside it, the other two below."""
    across, level = page.left + 0.66 * (page.right - page.left), page.bottom + 0.43 * (page.top - page.bottom)
    half = page.left + 0.5 * (page.right - page.left)
    rooms = {
        "side": Box(page.left, level, across, page.top),
        "front": Box(across, level, page.right, page.top),
        "top": Box(page.left, page.bottom, half, level),
        "three-quarter": Box(half, page.bottom, page.right, level),
    }
    return tuple(
        panel_of(name, story, dress, room, small=True, words=told(VIEW_NAMES[name])) for name, room in rooms.items()
    )


def _each(panels: Sequence[FlatPanel], dresses: Sequence[DressedScene]) -> list[DressedScene]:
    """The flat diver for each panel, then each moment's."""
    return [*(dresses[0] for _ in panels), *dresses[1:]]


def annotate(
    canvas: Canvas, story: Story, panels: Sequence[FlatPanel], moments: Sequence[MomentPanel], dress: DressedScene,
    chosen: Chosen,
) -> None:  # fmt: skip
    """All lines and words, each where it hides nothing else."""
    gas = story.flat.loose_gas
    for panel in panels:
        if gas is not None and "gas" in chosen.layers:
            seen = panel.placement.on_canvas(projected(panel.view, gas.centre))
            draw_bubbles(canvas, seen, bubble_radii(gas) * panel.placement.scale, 12.0)
        draw_panel(canvas, panel, story, chosen.layers)
    if moments:
        draw_moments(canvas, moments, horizon="horizon" in chosen.layers)
        heading = HELD if story.kept_level else FREE
        at = (MARGIN + 8.0, moments[0].room.top + 0.5 * HEADING)
        draw_word(canvas, at, told(heading), size=24.0, across="left", bold=True, halo=False)
    _write_head(canvas, story)
    arrows = "arrows" in chosen.layers and any(p.turning for p in panels)
    said = f"{told(LENGTHS)} {rest_words(story.others)} {told(SCALES)}" if arrows else ""
    small, turns = set_apart(story.flat.caption), any(p.coloured(chosen.layers) for p in panels)
    write_foot(canvas, story.flat, dress.deepest, said, small, turns=turns, measured=bool(story.measures))


def _write_head(canvas: Canvas, story: Story) -> None:
    """Title, what turns the diver, and what that asks of them."""
    left, top = MARGIN + 8.0, canvas.height
    held = story.held
    if not story.moments:
        held = told(INDIFFERENT)
    lines = ((story.flat.title, 34.0, True, 46.0), (headline(story.flat.trimming_moment), 28.0, True, 94.0),
             (held, 25.0, False, 135.0))  # fmt: skip
    for text, size, bold, down in lines:
        if text:
            size = size_for(text, canvas.width - 2.0 * left, size, bold=bold, zoom=canvas.zoom)
            draw_word(canvas, (left, top - down), text, size=size, across="left", bold=bold, halo=False)


def how_drawn(drawn: DrawnPicture) -> str:
    """In a few words."""
    return note("shaded") if drawn.renderer == "shaded" else in_flat_shapes(drawn.note)


def in_flat_shapes(why: str) -> str:
    """How a picture was drawn that was not shaded, and why; ``why`` may be empty."""
    return note("in flat shapes: {why}", why=why) if why else note("in flat shapes")
