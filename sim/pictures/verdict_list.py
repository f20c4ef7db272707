"""Verdicts in a column: a tick in a disc, a cross in a square, a dot in a ring, and the words beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.pictures.canvas import Canvas, points
from sim.pictures.fit_scene import Judged
from sim.pictures.fit_sheet import Word, stroke, write
from sim.pictures.free_space import Box
from sim.pictures.letters import wrapped_to
from sim.pictures.palette import BUOYANCY, INK, PAPER, SOFT_INK, WEIGHT

SIZE: Final = 11.0  # of the sentences; subjects stand out in bold
COMFORTABLE: Final = 9.0  # at which a page of usual findings is printed
SMALLEST: Final = 8.0
MARK: Final = 7.5  # radius
INDENT: Final = 24.0
ORDER: Final = {False: 0, True: 1, None: 2}
SAID: Final = {True: "passes", False: "fails", None: "told, not judged"}
COLOURS: Final = {True: BUOYANCY, False: WEIGHT, None: SOFT_INK}


@dataclass(frozen=True)
class VerdictRow:
    """One verdict laid out: middle of its mark, and its words."""

    passes: bool | None
    mark: tuple[float, float]
    words: tuple[Word, ...]


def laid_rows(verdicts: Sequence[Judged], room: Box) -> tuple[VerdictRow, ...]:
    """Rows from the top of ``room`` down, what fails first; letters shrink until all of it fits."""
    told = sorted(verdicts, key=lambda v: ORDER[v.passes])
    for size in np.arange(SIZE, SMALLEST - 0.01, -0.5):
        rows, bottom = _rows(told, room, float(size))
        if bottom >= room.bottom:
            return rows
    return rows


def column_height(verdicts: Sequence[Judged], width: float) -> float:
    """Room that the verdicts take in a column of that width, in letters that read comfortably."""
    return -_rows(verdicts, Box(0.0, 0.0, width, 0.0), COMFORTABLE)[1]


def _shortened(verdict: Judged) -> str:
    """Of what passes the first clause is enough; the text report has the rest."""
    if not verdict.passes:
        return verdict.sentence
    return verdict.sentence.split(";")[0].rstrip(".") + "."


def _rows(verdicts: Sequence[Judged], room: Box, size: float) -> tuple[tuple[VerdictRow, ...], float]:
    rows, top = [], room.top
    for verdict in verdicts:
        head = Word(
            f"{verdict.subject}: {SAID[verdict.passes]}", (room.left + INDENT, top - 0.6 * size), size, bold=True,
            colour=INK,
        )  # fmt: skip
        lines = wrapped_to(_shortened(verdict), room.right - room.left - INDENT, size)
        under = [
            Word(line, (room.left + INDENT, top - (0.6 + 1.3 * (k + 1)) * size), size) for k, line in enumerate(lines)
        ]
        rows.append(VerdictRow(verdict.passes, (room.left + MARK, top - 0.6 * size), (head, *under)))
        top -= (1.3 * (len(lines) + 1) + 0.75) * size
    return tuple(rows), top


def draw_verdicts(canvas: Canvas, rows: Sequence[VerdictRow]) -> None:
    """Marks and words of the column."""
    for row in rows:
        draw_mark(canvas, row.mark, row.passes)
        for word in row.words:
            write(canvas, word, halo=0.0)


def draw_mark(canvas: Canvas, middle: tuple[float, float], passes: bool | None, radius: float = MARK) -> None:
    """Told apart by shape: filled disc with a tick, open square with a cross, open ring with a dot."""
    from matplotlib.patches import Circle, Rectangle

    at, colour = np.asarray(middle), COLOURS[passes]
    if passes is False:
        corner = (at[0] - radius, at[1] - radius)
        mark = Rectangle(
            corner, 2 * radius, 2 * radius, facecolor=PAPER, edgecolor=colour, linewidth=points(1.8), zorder=61
        )
        canvas.axes.add_artist(mark)
        reach = 0.58 * radius
        for sign in (1.0, -1.0):
            stroke(
                canvas, [at - reach * np.array([1.0, sign]), at + reach * np.array([1.0, sign])],
                colour=colour, width=2.4, zorder=62,
            )  # fmt: skip
        return
    filled = passes is True
    canvas.axes.add_artist(
        Circle(
            middle, radius, facecolor=colour if filled else PAPER, edgecolor=colour, linewidth=points(1.4), zorder=61
        )
    )
    if filled:
        tick = at + radius * np.array([[-0.50, 0.02], [-0.12, -0.40], [0.52, 0.42]])
        stroke(canvas, tick, colour=PAPER, width=2.2, zorder=62)
    else:
        canvas.axes.add_artist(Circle(middle, 1.6, facecolor=colour, edgecolor="none", zorder=62))
