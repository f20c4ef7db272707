"""The moment budget as bars: which item turns the diver held flat, which way and how hard."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from sim.answers.why.answer import WhyAnswer
from sim.drawing.canvas import Canvas, blank, points
from sim.drawing.marks import draw_title
from sim.drawing.palette import HEAD_DOWN, HEAD_UP, INK, PAPER, SOFT_INK, WATER_BOTTOM
from sim.drawing.saved import checked_path, save
from sim.drawing.ticks import tick_step
from sim.said import word
from sim.telling.caution import told_caution
from sim.telling.language import comma, in_unit, number, quantity, say, say_count, told, unit_name

MOST_ROWS: Final = 18
ROW: Final = 38.0  # reference pixels
HEAD: Final = 190.0  # above the first row
FOOT: Final = 150.0  # below the last
NAMES: Final = 400.0  # right edge of the names
BARS: Final = (430.0, 1180.0)
COLUMNS: Final = ((1330.0, word("apparent weight\n(+ sinks)")), (1530.0, word("arm")))
SIZE: Final = 21.0
LETTERS: Final = 160  # in a line of small print


@dataclass(frozen=True)
class Bar:
    """One line of the chart; fields as those of ``Item``, no arm (nan) for several items together."""

    name: str
    moment: float
    apparent_weight: float
    arm: float


def draw_moment_chart(answer: WhyAnswer, path: str | Path) -> Path:
    """Chart of a moment budget; see ``draw_budget``."""
    bars = [Bar(told(i.name), in_unit(i.moment, "N m"), i.apparent_weight, i.arm) for i in answer.items]
    return draw_budget(bars, path, title=answer.title, small_print=told_caution(answer.caution))


def draw_budget(items: Sequence[Bar], path: str | Path, *, title: str = "", small_print: str = "") -> Path:
    """Bars of each item's moment, largest first, the sum last; PNG, SVG or PDF by the path's ending.

    Beyond MOST_ROWS items the smallest are drawn as one. Raises ValueError without items or for another ending.
    """
    if not items:
        raise ValueError("a moment budget needs at least one item")
    target = checked_path(path)
    rows = rows_of(items)
    canvas = blank((1600, int(HEAD + FOOT + ROW * (len(rows) + 1.5))), zoom=1.0)
    total = _together(say("together"), items)
    reach = 5.0 * tick_step(1.15 * max(abs(r.moment) for r in (*rows, total)))
    top = canvas.height - HEAD
    _draw_frame(canvas, title, reach, top, top - ROW * (len(rows) + 1.5))
    for place, row in enumerate(rows):
        _draw_row(canvas, row, top - ROW * (place + 0.5), reach, bold=False)
    line = top - ROW * (len(rows) + 0.25)
    canvas.axes.plot([60.0, COLUMNS[-1][0]], [line, line], color=INK, linewidth=points(1.6))
    _draw_row(canvas, total, top - ROW * (len(rows) + 1.0), reach, bold=True)
    lines = textwrap.wrap(small_print, LETTERS)
    low, step, size = (24, 25, 18) if len(lines) <= 2 else (14, 21, 17)  # a translation is longer
    for place, text in enumerate(reversed(lines)):
        canvas.axes.text(60, low + step * place, text, fontsize=points(size), color=SOFT_INK)
    save(canvas, target)
    return target


def rows_of(items: Sequence[Bar]) -> list[Bar]:
    """Largest moment first; what is beyond MOST_ROWS added up as one row, last."""
    ordered = sorted(items, key=lambda i: -abs(i.moment))
    if len(ordered) <= MOST_ROWS:
        return ordered
    kept, rest = ordered[: MOST_ROWS - 1], ordered[MOST_ROWS - 1 :]
    return [*kept, _together(say_count("{n} smaller item", "{n} smaller items", len(rest)), rest)]


def _together(name: str, items: Sequence[Bar]) -> Bar:
    """Several items as one, which has no single arm."""
    return Bar(name, sum(i.moment for i in items), sum(i.apparent_weight for i in items), np.nan)


def bar_end(moment: float, reach: float) -> float:
    """Where a bar ends, reference pixels: head-up to the right of the middle, head-down to the left."""
    middle, half = 0.5 * (BARS[0] + BARS[1]), 0.5 * (BARS[1] - BARS[0])
    return middle + half * moment / reach


def _draw_frame(canvas: Canvas, title: str, reach: float, top: float, bottom: float) -> None:
    axes = canvas.axes
    canvas.figure.set_facecolor(PAPER)
    draw_title(canvas, title, 66.0)
    axes.text(
        60, canvas.height - 108, say("What turns the diver held flat: each item by itself"),
        fontsize=points(23), color=SOFT_INK,
    )  # fmt: skip
    for k in range(-5, 6):
        x = bar_end(k * reach / 5.0, reach)
        colour, width, zorder = (INK, 2.0, 3) if k == 0 else (WATER_BOTTOM, 1.4, 0)
        axes.plot([x, x], [bottom, top], color=colour, linewidth=points(width), zorder=zorder)
        axes.text(
            x, bottom - 10, comma(f"{abs(k) * reach / 5.0:g}"), ha="center", va="top", fontsize=points(19), color=INK
        )
    middle = bar_end(0.0, reach)
    axes.text(middle, bottom - 44, unit_name("N m"), ha="center", va="top", fontsize=points(21), color=INK)
    for x, side, words, colour in (
        (middle - 40, "right", say("← turns head-down"), HEAD_DOWN),
        (middle + 40, "left", say("turns head-up →"), HEAD_UP),
    ):
        axes.text(x, bottom - 44, words, ha=side, va="top", fontsize=points(23), fontweight="bold", color=colour)
    for x, words in COLUMNS:
        axes.text(
            x, top + 8, told(words), ha="right", va="bottom", fontsize=points(19), color=SOFT_INK, linespacing=1.15
        )


def _draw_row(canvas: Canvas, row: Bar, level: float, reach: float, *, bold: bool) -> None:
    from matplotlib.patches import Rectangle

    axes = canvas.axes
    weight = "bold" if bold else "normal"
    start, end = bar_end(0.0, reach), bar_end(row.moment, reach)
    thick = (0.74 if bold else 0.60) * ROW
    axes.add_patch(
        Rectangle(
            (min(start, end), level - thick / 2), abs(end - start), thick,
            facecolor=HEAD_UP if row.moment > 0 else HEAD_DOWN,
            edgecolor=INK if bold else "none", linewidth=points(2.0),
        )
    )  # fmt: skip
    words: dict[str, Any] = {"va": "center_baseline", "fontsize": points(SIZE), "fontweight": weight, "color": INK}
    axes.text(NAMES, level, _shortened(row.name), ha="right", **words)
    outward = 1 if row.moment > 0 else -1
    axes.text(end + outward * 8, level, number(abs(row.moment), 1), ha="left" if outward > 0 else "right", **words)
    axes.text(COLUMNS[0][0], level, _weight_in_words(row.apparent_weight), ha="right", **words)
    if np.isfinite(row.arm):
        axes.text(COLUMNS[1][0], level, _arm_in_words(row.arm), ha="right", **words)


def _shortened(name: str, most: int = 30) -> str:
    return name if len(name) <= most else name[: most - 1].rstrip() + "…"


def _arm_in_words(arm: float) -> str:
    """As "32 cm headward", from the held point."""
    if abs(arm) < 0.005:
        return say("at the point")
    size = quantity(abs(arm) * 100, "cm", 0)
    return say("{size} headward", size=size) if arm > 0 else say("{size} footward", size=size)


def _weight_in_words(weight: float) -> str:
    """As "+2.10 kg"; no sign before zero."""
    shown = round(weight, 2)
    return quantity(shown, "kg", 2, sign=True).replace("-", "−") if shown else quantity(0.0, "kg", 2)
