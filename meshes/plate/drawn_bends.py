"""Bend lines of a drawing: what it says of them, and what is amiss with them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.drawings.bend_words import BendWords
from meshes.mesh import Floats
from meshes.plate.reading import DrawnBend
from meshes.plate.sheet import Bend

BEND_LINE_TOLERANCE: Final = 1e-3  # m, between a drawn bend line and a stated bend, and pieces of one line
SAME_ANGLE: Final = np.radians(0.5)
MOST_SLANT: Final = np.tan(np.radians(20.0))  # of a bend line that is still meant to run up and down


def drawn_bends(lines: Floats, words: Sequence[BendWords | None]) -> tuple[DrawnBend, ...]:
    """The bends of lines (n, 2, 2) [m], y from the plate's middle line, of which the drawing says how they turn.

    Pieces of one line are one bend. What is said of a line holds for its mirror image, where nothing is said there.
    """
    said = {y: next((words[k] for k in pieces if words[k] is not None), None) for y, pieces in _lines(lines)}

    def of_mirror(y: float) -> BendWords | None:
        return next((w for other, w in said.items() if w is not None and abs(other + y) <= BEND_LINE_TOLERANCE), None)

    found = ((y, own or of_mirror(y)) for y, own in said.items())
    return tuple(DrawnBend(y, w.angle, w.inner_radius) for y, w in found if w is not None)


def running_up(lines: Floats) -> NDArray[np.bool_]:
    """Which of the lines (n, 2, 2) [m] run up and down the plate, more or less."""
    up, across = np.abs(lines[:, 1] - lines[:, 0]).T
    return np.asarray((up > 0.0) & (across <= MOST_SLANT * up))


def about_lines_across(number: int) -> tuple[str, ...]:
    """What is amiss with so many bend lines that do not run up and down."""
    if not number:
        return ()
    which = (
        "a bend line that runs across the plate is" if number == 1 else f"{number} bend lines across the plate are"
    )
    return (
        f"{which} left out: only what runs from top to bottom is bent here; for the rest draw the plate as a solid",
    )


def about_bends(lines: Floats, stated: Sequence[Bend], drawn: Sequence[DrawnBend]) -> tuple[str, ...]:
    """What is amiss with bend lines drawn (n, 2, 2), in the flat frame from the middle line, and the bends stated."""
    if not stated and not drawn:
        first = 1e3 * np.abs(lines[:, :, 1].mean(axis=1)).min() if len(lines) else 35.0
        like = f'bends = [{{ offset = "{first:.1f} mm", angle = "45 deg" }}]'
        flat = f"it is taken as a flat sheet without a channel; if it is bent, say how, like {like}"
        if not len(lines):
            return (f"no bends are stated: {flat}",)
        return (f"bend lines are drawn {_from_middle(lines)}, but no angles are stated: {flat}",)
    return tuple(_doubts(lines, stated, drawn))


def _doubts(lines: Floats, stated: Sequence[Bend], drawn: Sequence[DrawnBend]) -> Iterator[str]:
    off = sorted(
        {f"{1e3 * abs(b.at):.1f}" for b in stated if len(lines) and _nearest(lines, b) > BEND_LINE_TOLERANCE}
    )
    if off:
        yield (
            f"no bend line is drawn for the bends stated {' and '.join(off)} mm from the middle line; lines are "
            f"drawn {_from_middle(lines)}"
        )
    if stated and any(_contradicts(bend, other) for bend in stated for other in drawn):
        yield "the drawing says another angle beside a bend line than was stated, which was used: is that right?"
    if not stated:
        bent = np.array([b.at for b in drawn])
        unsaid = np.array([np.abs(bent - y).min() > BEND_LINE_TOLERANCE for y in lines[:, :, 1].mean(axis=1)])
        if unsaid.any():
            yield (
                f"no angle is written beside the bend lines drawn {_from_middle(lines[unsaid])}, which are taken as "
                'not bent; write one on their layer, like "65 deg toward R4"'
            )
    if len(lines) and np.ptp(lines[:, :, 1], axis=1).max() > BEND_LINE_TOLERANCE:
        yield "a bend line that slants is taken as straight up"


def _contradicts(bend: Bend, drawn: DrawnBend) -> bool:
    return abs(bend.at - drawn.at) <= BEND_LINE_TOLERANCE and abs(bend.angle + drawn.angle) > SAME_ANGLE


def _lines(lines: Floats) -> Iterator[tuple[float, list[int]]]:
    """Where lines lie, from right to left, and the pieces of each."""
    places = lines[:, :, 1].mean(axis=1)
    here: list[int] = []
    for k in map(int, np.argsort(places, kind="stable")):
        if here and places[k] - places[here[0]] > BEND_LINE_TOLERANCE:
            yield float(places[here].mean()), here
            here = []
        here.append(k)
    if here:
        yield float(places[here].mean()), here


def _nearest(lines: Floats, bend: Bend) -> float:
    return float(np.abs(lines[:, :, 1].mean(axis=1) - bend.at).min())


def _from_middle(lines: Floats) -> str:
    """As "32.4 and 93.4 mm from the middle line"."""
    places = dict.fromkeys(f"{abs(y):.1f}" for y in sorted(1e3 * lines[:, :, 1].mean(axis=1), key=abs))
    return f"{' and '.join(places)} mm from the middle line"
