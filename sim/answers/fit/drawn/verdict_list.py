"""Verdicts in a column: a tick in a disc, a cross in a square, a dot in a ring, and the words beside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.answers.fit.drawn.sheet import Word, stroke, write
from sim.answers.fit.verdict import Verdict
from sim.drawing.canvas import Canvas, points
from sim.drawing.free_space import Box
from sim.drawing.letters import set_width, wrapped_to
from sim.drawing.palette import FAILS, PAPER, PASSES, SOFT_INK
from sim.said import word
from sim.telling.language import told

SIZE: Final = 11.5  # of the sentences; subjects stand out in bold
SMALLEST: Final = 10.5  # 7.56 points on A4, below which print strains the eyes (common practice)
MARK: Final = 7.5  # radius
INDENT: Final = 24.0
WHOLE: Final = 99  # clauses of a sentence
ORDER: Final = {False: 0, True: 1, None: 2}
SAID: Final = {True: word("passes."), False: word("FAILS."), None: ""}
COLOURS: Final = {True: PASSES, False: FAILS, None: SOFT_INK}


@dataclass(frozen=True)
class VerdictRow:
    """One verdict laid out: middle of its mark, and its words."""

    passes: bool | None
    mark: tuple[float, float]
    words: tuple[Word, ...]


def laid_rows(verdicts: Sequence[Verdict], room: Box) -> tuple[VerdictRow, ...]:
    """Rows from the top of ``room`` down, what fails first; letters shrink, then sentences, until all fits."""
    told = sorted(verdicts, key=lambda v: ORDER[v.passes])
    for clauses in (WHOLE, 2, 1, 0):
        for size in np.arange(SIZE, SMALLEST - 0.01, -0.5):
            rows, bottom = _rows(told, room, float(size), clauses)
            if bottom >= room.bottom:
                return rows
    return rows


def column_height(verdicts: Sequence[Verdict], width: float) -> float:
    """Room that the verdicts take in a column of that width, in letters that read comfortably."""
    return -_rows(verdicts, Box(0.0, 0.0, width, 0.0), SMALLEST, WHOLE)[1]


def _shortened(verdict: Verdict, clauses: int) -> str:
    """Of what passes the first clause is enough, or none; the text report has the rest."""
    kept = verdict.sentence.rstrip(".").split(";")[: min(clauses, 1) if verdict.passes else max(clauses, 1)]
    return ";".join(kept) + "." if kept else ""


def _rows(verdicts: Sequence[Verdict], room: Box, size: float, clauses: int) -> tuple[tuple[VerdictRow, ...], float]:
    """Each row's subject in bold, the sentence running on behind it; and where the last one ends."""
    rows, top = [], room.top
    left, width = room.left + INDENT, room.right - room.left - INDENT
    for verdict in verdicts:
        head = f"{verdict.subject}: {told(SAID[verdict.passes])}".rstrip()
        taken = set_width(head + " ", size, bold=True) + 0.3 * size
        text = _shortened(verdict, clauses)
        (first, *_) = wrapped_to(text, width - taken, size) or [""]
        if set_width(first, size) > width - taken:  # not even a word beside the subject
            first = ""
        lines = wrapped_to(" ".join(text.split())[len(first) :], width, size)
        level = top - 0.6 * size
        words = [Word(head, (left, level), size, bold=True), Word(first, (left + taken, level), size)]
        words += [Word(line, (left, level - 1.3 * (k + 1) * size), size) for k, line in enumerate(lines)]
        rows.append(VerdictRow(verdict.passes, (room.left + MARK, level), tuple(w for w in words if w.text)))
        top -= (1.3 * (len(lines) + 1) + 0.5) * size
    return tuple(rows), top


def draw_verdicts(canvas: Canvas, rows: Sequence[VerdictRow]) -> None:
    """Marks and words of the column."""
    for row in rows:
        draw_mark(canvas, row.mark, row.passes)
        for one in row.words:
            write(canvas, one, halo=0.0)


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
