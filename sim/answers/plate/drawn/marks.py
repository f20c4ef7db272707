"""What a technical drawing is made of, in millimetres on paper: lines, areas and words, and lines with measures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.drawing.letters import set_width
from sim.telling.language import comma

Look = Literal["edge", "bend", "middle", "thin", "gap", "frame", "cut", "zone"]
LETTERS: Final = 3.2  # mm high, of figures
ROW: Final = 4.6  # mm from one line of words to the next
ARROW: Final = (3.0, 0.5)  # mm: length and half width of an arrow head
GAP: Final = 1.0  # mm between what is measured and the line that leads away from it
BEYOND: Final = 1.5  # mm that this line reaches beyond the arrow


@dataclass(frozen=True, eq=False)
class Stroke:
    """A line through points (n, 2) [mm]."""

    points: Floats
    look: Look = "thin"


@dataclass(frozen=True, eq=False)
class Area:
    """What rings (n, 2) [mm] enclose, by the even-odd rule; ``tone`` "sheet" or "ink"."""

    rings: tuple[Floats, ...]
    tone: Literal["sheet", "ink"] = "sheet"


@dataclass(frozen=True)
class Word:
    """A line of words whose ``across`` and ``along`` lies at (x, y) [mm]; size [mm], turned by ``angle`` degrees."""

    text: str
    at: tuple[float, float]
    size: float = LETTERS
    across: Literal["left", "center", "right"] = "left"
    along: Literal["bottom", "center", "top", "baseline"] = "center"
    angle: float = 0.0
    bold: bool = False
    warns: bool = False


Mark = Stroke | Area | Word


def line(*points: ArrayLike, look: Look = "thin") -> Stroke:
    """A line through points (2,) [mm]."""
    return Stroke(np.array(points, dtype=float), look)


def millimetres(length: float) -> str:
    """A length [mm] as figures, as "65.5" and "279"; 0 has no sign."""
    return comma(f"{round(length, 1) + 0.0:.1f}".removesuffix(".0"))


def ordinates(
    places: Sequence[tuple[Floats, str]], way: Literal["up", "across"], foot: float, side: int
) -> Iterator[Mark]:
    """Measures from one edge as a column (``way`` "up") or row ("across") of figures that keep clear of one another.

    places : what is measured (2,) [mm], and its figure;  foot : x of a column, y of a row [mm]
    side : to which the figures lie from it, -1 left or below, +1 right or above
    """
    if not places:
        return
    from scipy.optimize import isotonic_regression

    along = 1 if way == "up" else 0
    ordered = sorted(places, key=lambda one: one[0][along])
    spread = np.arange(len(ordered)) * (1.35 * LETTERS)
    wanted = np.array([place[along] for place, _ in ordered])
    kept = isotonic_regression(wanted - spread).x + spread
    for (place, figure), at in zip(ordered, kept, strict=True):
        first, knee, end = np.array(place, dtype=float), np.array(place, dtype=float), np.zeros(2)
        first[1 - along] += side * GAP
        knee[1 - along] = foot
        end[along], end[1 - along] = at, foot + side * 4.0
        yield Stroke(np.array([first, knee, end]))
        word = end.copy()
        word[1 - along] += side * 0.8
        if way == "up":
            yield Word(figure, (word[0], word[1]), across="left" if side > 0 else "right")
        else:
            turned: Literal["bottom", "top"] = "bottom" if side > 0 else "top"
            yield Word(figure, (word[0], word[1]), across="center", along=turned, angle=90.0)


def dimension(
    ends: tuple[ArrayLike, ArrayLike], way: Literal["up", "across"], foot: float, figure: str = ""
) -> Iterator[Mark]:
    """The distance of two ends (2,) [mm] up or across, with arrow heads on a line at ``foot`` [mm]."""
    along = 1 if way == "up" else 0
    pair = sorted((np.asarray(end, dtype=float) for end in ends), key=lambda end: float(end[along]))
    feet = [end.copy() for end in pair]
    for end, tip in zip(pair, feet, strict=True):
        tip[1 - along] = foot
        reach = np.sign(foot - end[1 - along])
        start, stop = end.copy(), tip.copy()
        start[1 - along] += reach * GAP
        stop[1 - along] += reach * BEYOND
        yield Stroke(np.array([start, stop]))
    span = float(feet[1][along] - feet[0][along])
    outside = span < 3.0 * ARROW[0]
    unit = np.eye(2)[along]
    tail = (2.5 * ARROW[0] if outside else 0.0) * unit
    yield Stroke(np.array([feet[0] - tail, feet[1] + tail]))
    for tip, inward in zip(feet, (unit, -unit), strict=True):
        yield arrow(tip, inward if outside else -inward)
    told = figure or millimetres(span)
    middle = (feet[0] + feet[1]) / 2
    room = set_width(told, LETTERS) + 2.0
    if outside or span < room + 2.0 * ARROW[0]:
        beyond = feet[1] + max(tail[along], 1.0) * unit + 0.8 * unit
        if way == "up":
            yield Word(told, (float(beyond[0]), float(beyond[1])), across="center", along="bottom")
        else:
            yield Word(told, (float(beyond[0]), float(beyond[1])))
    elif way == "up":
        yield Word(told, (float(middle[0]) - 0.4, float(middle[1])), across="right", along="center", angle=90.0)
    else:
        yield Word(told, (float(middle[0]), float(middle[1]) + 0.6), across="center", along="bottom")


def arrow(tip: Floats, way: Floats) -> Area:
    """An arrow head at ``tip`` (2,) that points along ``way`` (2,) unit."""
    base, half = tip - ARROW[0] * way, ARROW[1] * np.array([-way[1], way[0]])
    return Area((np.array([tip, base + half, base - half]),), "ink")
