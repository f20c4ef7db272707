"""A plate's technical drawing on one sheet: the flat sheet, the bent plate from below, and words beneath them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from sim.answers.plate.answer import PLATE_CAUTION, PlateAnswer
from sim.answers.plate.drawn import flat_view
from sim.answers.plate.drawn.end_view import ABOVE, BELOW, end_view, heights
from sim.answers.plate.drawn.flat_view import on_paper
from sim.answers.plate.drawn.marks import LETTERS, ROW, Area, Mark, Stroke, Word, arrow, line
from sim.answers.plate.drawn.paper import LARGEST, MARGIN, Rectangle, sheet_for
from sim.answers.plate.drawn.printed import page
from sim.answers.plate.fixed import balance_words, zone_words
from sim.answers.plate.text import NEUTRAL, made_words, mass_words, not_as_wanted
from sim.drawing.letters import wrapped_to
from sim.drawing.saved import checked_path, save_figure
from sim.telling.language import say, set_apart, told
from sim.telling.words import as_printed

TITLE: Final = 5.5  # mm high
NARROWEST: Final = 190.0  # mm for the words beneath
BAR: Final = 100.0  # mm, to check the printer by
MOST_TOLD: Final = 8  # of what is not as wanted


@dataclass(frozen=True, eq=False)
class Drawing:
    """A drawing at full size [mm].

    views : marks;  extent : what holds them;  told : lines to stand beneath, and whether each warns
    """

    title: str
    views: tuple[Mark, ...]
    extent: Rectangle
    told: tuple[tuple[str, bool], ...]


def plate_drawing(plate: Plate, answer: PlateAnswer) -> Drawing:
    """The whole drawing. Raises ValueError for what is too large to be a plate."""
    outer = on_paper(plate.pattern.outline.outer)
    low, high = outer.min(axis=0), outer.max(axis=0)
    if not float((high - low).max()) <= LARGEST:
        size = float((high - low).max()) / 1e3
        raise ValueError(f"it measures {size:.1f} m, too large to be drawn at full size; check its unit")
    left, right = float(low[0]) - flat_view.LEFT, float(high[0]) + flat_view.RIGHT
    widened = max(0.0, NARROWEST - (right - left)) / 2
    front, back = heights(plate)
    ground = float(low[1]) - flat_view.BOTTOM - ABOVE - back
    views = (*flat_view.flat_view(plate), *(moved(mark, np.array([0.0, ground])) for mark in end_view(plate)))
    bottom, top = ground + front - BELOW, float(high[1]) + flat_view.TOP
    extent = Rectangle(left - widened, bottom, right - left + 2.0 * widened, top - bottom)
    return Drawing(answer.title, views, extent, tuple(_told(answer)))


def moved(mark: Mark, by: Floats) -> Mark:
    """The same mark elsewhere, by (2,) [mm]."""
    if isinstance(mark, Stroke):
        return replace(mark, points=mark.points + by)
    if isinstance(mark, Area):
        return replace(mark, rings=tuple(ring + by for ring in mark.rings))
    return replace(mark, at=(mark.at[0] + float(by[0]), mark.at[1] + float(by[1])))


def _told(answer: PlateAnswer) -> Iterator[tuple[str, bool]]:
    """What it is made of, what is shown, and what is not as wanted."""
    yield as_printed(set_apart((made_words(answer), mass_words(answer)))), False
    if answer.thickness is None:
        shown = say(
            "The plate from behind, head up, the diver's left at the left; below it the same from below. Lengths in "
            "mm, scale 1:1."
        )
    else:
        shown = say(
            "The flat sheet from behind, head up, the diver's left at the left; below it the bent plate from below. "
            "Lengths in mm, scale 1:1."
        )
    yield shown, False
    if answer.bends:
        yield f"{told(NEUTRAL)}.", False
    for zone in answer.zones:
        yield zone_words(zone), False
    for one in answer.fixed:
        name, balance = told(one.name), balance_words(one.balance)
        yield say("Fixed to it, no part of the sheet: {name}, {balance}", name=name, balance=balance), False
    failing = not_as_wanted(answer.checks)
    for words in failing[:MOST_TOLD]:
        yield say("NOT AS WANTED: {failing}", failing=words), True
    if len(failing) > MOST_TOLD:
        yield say("and {more} more", more=len(failing) - MOST_TOLD), True
    yield told(PLATE_CAUTION), False


def beneath(drawing: Drawing, left: float, right: float, top: float, bar: bool = True) -> Iterator[Word]:
    """Title and lines from ``top`` [mm] down, a ``bar`` beside the title leaving room."""
    room = right - left - (1.5 * BAR if bar else 0.0)
    title = next(iter(wrapped_to(drawing.title, room, TITLE, bold=True)), "")
    yield Word(title, (left, top - TITLE / 2), TITLE, bold=True)
    at = top - 1.8 * TITLE
    for text, warns in drawing.told:
        for row in wrapped_to(text, right - left, LETTERS):
            yield Word(row, (left, at), warns=warns)
            at -= ROW


def measured_bar(left: float, at: float, words: str) -> Iterator[Mark]:
    """A bar to check the printer by, with words before it."""
    yield line((left, at), (left + BAR, at))
    for x, way in ((left, -1.0), (left + BAR, 1.0)):
        yield line((x, at - 2.0), (x, at + 2.0))
        yield arrow(np.array([x, at]), np.array([way, 0.0]))
    yield Word(words, (left - 2.0, at), across="right")


def draw_sheet(drawing: Drawing, path: str | Path) -> None:
    """Draw it at full size on the smallest sheet that holds it (SVG, PDF, PNG)."""
    target, views = checked_path(path), drawing.extent
    right = views.left + views.width
    words = tuple(beneath(drawing, views.left, right, views.bottom))
    bar = tuple(measured_bar(right - BAR, views.bottom - TITLE / 2, say("measure: 100 mm")))
    bottom = min(word.at[1] for word in words) - ROW / 2
    height = views.bottom + views.height - bottom
    name, (wide, tall) = sheet_for(views.width, height)
    whole = Rectangle(views.left - (wide - views.width) / 2, bottom - (tall - height) / 2, wide, tall)
    marks = (*drawing.views, *words, *bar, *_frame(whole, name))
    save_figure(page(marks, (wide, tall), whole, 0.0, 0.0), target)


def _frame(whole: Rectangle, name: str) -> Iterator[Mark]:
    inset = MARGIN / 2
    low, left = whole.bottom + inset, whole.left + inset
    high, right = whole.bottom + whole.height - inset, whole.left + whole.width - inset
    yield line((left, low), (right, low), (right, high), (left, high), (left, low), look="frame")
    yield Word(say("{paper}, print at 100 %", paper=name), (right - 2.0, low + 3.0), across="right")
