"""The picture of a diver who stops moving: held flat with what turns them, and below it where letting go leads."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from meshes.mesh import Floats
from sim.answers.settle.drawn.backdrop import draw_grid, draw_ground
from sim.answers.settle.drawn.flat_panel import FlatPanel, bubble_radii, draw_panel, panel_of
from sim.answers.settle.drawn.insets import draw_gas_scale, draw_key, key_colours
from sim.answers.settle.drawn.moments import MomentPanel, draw_moments, moment_panels
from sim.answers.settle.drawn.story import Story
from sim.answers.settle.drawn.words import (
    FREE,
    HELD,
    INDIFFERENT,
    LENGTHS,
    SCALES,
    headline,
    rest_words,
)
from sim.drawing.canvas import Canvas, SheetOnCanvas, blank
from sim.drawing.diver_painter import paint_flat, paint_rendered, sheet_for
from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.free_space import Box
from sim.drawing.letters import set_width, wrapped_to
from sim.drawing.marks import draw_bubbles, draw_word
from sim.drawing.offscreen import Rendered, Sheet, rendered
from sim.drawing.saved import checked_path, save
from sim.drawing.scene import DrawnPicture
from sim.drawing.sheet_options import Chosen
from sim.drawing.surfaces import DressedScene, Surface, dressed_all
from sim.drawing.views import View, projected
from sim.telling.language import say, told

FORCE_FLAT_SHAPES: Final = "HANGFLAT_FLAT_PICTURES"  # environment variable; any text but "" and "0" counts as yes
FINENESS: Final = 0.8  # pixels, of the flat shapes
MARGIN: Final = 40.0
HEAD: Final = 160.0  # pixels kept for title and answer
FOOT: Final = 156.0  # and for the small print
STRIP: Final = 0.40  # of what is between, for the moments after letting go
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
    renderer, note = _paint(canvas, painted, target)
    annotate(canvas, story, panels, moments, dresses[0], chosen)
    save(canvas, target)
    return DrawnPicture(target, renderer, note)


def _dressed(story: Story, chosen: Chosen) -> tuple[DressedScene, ...]:
    """The diver held flat, then at each moment that is drawn; without gas where that layer is not wanted."""
    moments = () if chosen.view == "all" else tuple(m.scene for m in story.moments)
    every = dressed_all((story.flat, *moments))
    if "gas" in chosen.layers:
        return every
    return tuple(DressedScene(tuple(s for s in d.surfaces if not s.layer), 0.0) for d in every)


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
        low += STRIP * (page.top - page.bottom)
        strip = Box(page.left, page.bottom, page.right, low - HEADING)
        moments = moment_panels(story.moments, dresses[1:], strip)
    room = Box(page.left, low, page.right, page.top)
    return (panel_of(chosen.view, story, dresses[0], room),), moments


def _four(page: Box, story: Story, dress: DressedScene) -> tuple[FlatPanel, ...]:
    """All views on one sheet: from the side large, from ahead beside it, the other two below."""
    across, level = page.left + 0.66 * (page.right - page.left), page.bottom + 0.46 * (page.top - page.bottom)
    half = page.left + 0.5 * (page.right - page.left)
    rooms = {
        "side": Box(page.left, level, across, page.top),
        "front": Box(across, level, page.right, page.top),
        "top": Box(page.left, page.bottom, half, level),
        "three-quarter": Box(half, page.bottom, page.right, level),
    }
    return tuple(panel_of(name, story, dress, room, small=True) for name, room in rooms.items())


def _each(panels: Sequence[FlatPanel], dresses: Sequence[DressedScene]) -> list[DressedScene]:
    """The flat diver for each panel, then each moment's."""
    return [*(dresses[0] for _ in panels), *dresses[1:]]


def _paint(
    canvas: Canvas, painted: Sequence[tuple[View, SheetOnCanvas, Floats, DressedScene]], target: Path
) -> tuple[str, str]:
    """Every view of the diver; which renderer was used and why not the other."""
    surfaces: list[Surface] = []
    sheets = []
    for view, placement, drawn, dress in painted:
        sheet, box = sheet_for(canvas, view, placement, _hull_box(drawn))
        sheets.append((Sheet(sheet.view, sheet.middle, sheet.pixels, sheet.scale, _numbers(surfaces, dress)), box))
    answer = Rendered((), "")
    if target.suffix.lower() == ".png":
        answer = _shaded(tuple(surfaces), [s for s, _ in sheets], canvas.style.outline)
    if answer.pictures:
        for picture, (_, box) in zip(answer.pictures, sheets, strict=True):
            paint_rendered(canvas, picture, box, 10.0)
        return "shaded", ""
    for view, placement, _, dress in painted:
        shapes = flat_shapes(dress.surfaces, view, FINENESS / placement.scale, line=canvas.style.outline)
        paint_flat(canvas, shapes, placement, 10.0)
    return "vector", answer.failure


def _numbers(surfaces: list[Surface], dress: DressedScene) -> tuple[int, ...]:
    """Numbers of a diver's surfaces among all, which those not there yet are added to."""
    known = {id(s): k for k, s in enumerate(surfaces)}
    for surface in dress.surfaces:
        if id(surface) not in known:
            known[id(surface)] = len(surfaces)
            surfaces.append(surface)
    return tuple(known[id(s)] for s in dress.surfaces)


def _shaded(surfaces: tuple[Surface, ...], sheets: list[Sheet], line: str) -> Rendered:
    if os.environ.get(FORCE_FLAT_SHAPES, "0") not in ("", "0"):
        return Rendered((), f"asked for by {FORCE_FLAT_SHAPES}")
    return rendered(surfaces, tuple(sheets), line)


def _hull_box(drawn: Floats, margin: float = 8.0) -> Box:
    low, high = drawn.min(axis=0) - margin, drawn.max(axis=0) + margin
    return Box(*(float(v) for v in (*low, *high)))


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
        draw_word(canvas, at, told(heading), size=24.0, across="left", bold=True)
    _write_head(canvas, story)
    _write_foot(canvas, story, dress, chosen)


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
            size *= min(1.0, (canvas.width - 2.0 * left) / set_width(text, size, bold=bold))
            draw_word(canvas, (left, top - down), text, size=size, across="left", bold=bold)


def _write_foot(canvas: Canvas, story: Story, dress: DressedScene, chosen: Chosen) -> None:
    """Colours, gas scale, small print, caution."""
    left, style = MARGIN + 8.0, canvas.style
    start = left
    if dress.deepest > 0.0:
        draw_gas_scale(canvas, (left, 98.0), dress.deepest, story.flat.gas_scale)
        start = left + 440.0
    room, arrows = canvas.width - start - MARGIN, "arrows" in chosen.layers
    draw_key(
        canvas, (start, 138.0), key_colours(canvas, bool(chosen.layers & {"arrows", "arc"}), bool(story.measures))
    )
    said = f"{told(LENGTHS)} {rest_words(story.others)} {told(SCALES)}" if arrows else ""
    for number, line in enumerate(wrapped_to(said, room, 18.0)[:2]):
        draw_word(canvas, (start, 112.0 - 23.0 * number), line, size=18.0, across="left")
    small = "; ".join(story.flat.caption)
    size = min(18.0, 18.0 * room / max(set_width(small, 18.0), 1.0))
    draw_word(canvas, (start, 64.0), small, size=size, across="left", colour=style.soft_ink)
    for number, line in enumerate(reversed(wrapped_to(story.flat.caution, canvas.width - 2.0 * left, 18.0)[:2])):
        draw_word(canvas, (left, 15.0 + 23.0 * number), line, size=18.0, across="left", colour=style.soft_ink)


def draw_settled(story: Story, path: Path, chosen: Chosen | None = None) -> str:
    """Draw a story; says in a few words how it was drawn."""
    drawn = draw_story(story, path, chosen)
    return say("shaded") if drawn.renderer == "shaded" else in_flat_shapes(drawn.note)


def in_flat_shapes(note: str) -> str:
    """How a picture was drawn that was not shaded, and why; ``note`` may be empty."""
    return say("in flat shapes: {why}", why=note) if note else say("in flat shapes")
