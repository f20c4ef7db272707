"""What measurements have taught: the moment's band before and after, and which unknowns moved."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from sim.answers.calibrate.answer import CalibrationTold
from sim.drawing.canvas import Canvas, blank, points
from sim.drawing.marks import draw_title
from sim.drawing.palette import HEAD_DOWN, HEAD_UP, INK, PAPER, SERIES, SERIES_PALE, SOFT_INK, WATER_BOTTOM
from sim.drawing.saved import checked_path, save
from sim.drawing.ticks import tick_step
from sim.telling.caution import told_caution
from sim.telling.language import comma, number, quantity, say, told

WIDTH: Final = 1600
BARS: Final = (470.0, 1110.0)  # of both panels
NAMES: Final = 445.0  # right edge of the names
WORDS: Final = 1140.0  # left edge of what is said beside a row
HEAD: Final = 150.0
BANDS: Final = 250.0  # height of the first panel
BETWEEN: Final = 130.0
ROW: Final = 58.0
FOOT: Final = 185.0
BAR: Final = 26.0
MOST_ROWS: Final = 10
LETTERS: Final = 150  # in a line of small print
NINETY: Final = 1.645  # SDs from the middle to the 5th or 95th percentile
REACH: Final = 3.2  # SDs either way that the second panel shows
NOW: Final = SERIES[1]
BEFORE: Final = SERIES_PALE


def draw_calibration_chart(answer: CalibrationTold, path: str | Path) -> Path:
    """Chart of what ``hangflat calibrate`` tells; PNG, SVG or PDF by the path's ending.

    Where the measurements contradict the model, the second panel holds the readings, in SDs of what was expected.
    """
    target = checked_path(path)
    rows = _reading_rows(answer) if answer.contradicted else _unknown_rows(answer)
    height = int(HEAD + BANDS + BETWEEN + ROW * len(rows) + FOOT)
    canvas = blank((WIDTH, height), zoom=1.0)
    canvas.figure.set_facecolor(PAPER)
    axes = canvas.axes
    draw_title(canvas, answer.title, 62.0)
    axes.text(60, height - 104, _subtitle(answer), fontsize=points(23), color=SOFT_INK)
    _draw_bands(canvas, answer, height - HEAD)
    _draw_rows(canvas, rows, height - HEAD - BANDS - BETWEEN, contradicted=answer.contradicted)
    for line, text in enumerate(reversed(textwrap.wrap(told_caution(answer.caution), LETTERS))):
        axes.text(60, 20 + 24 * line, text, fontsize=points(17), color=SOFT_INK)
    save(canvas, target)
    return target


def _subtitle(answer: CalibrationTold) -> str:
    day = say(" of {day}", day=answer.measured_on) if answer.measured_on else ""
    if answer.contradicted:
        return say("The measurements{day} contradict the model: nothing was fitted", day=day)
    return say("What the measurements{day} taught: the moment of the diver held flat, before and after", day=day)


def _draw_bands(canvas: Canvas, answer: CalibrationTold, top: float) -> None:
    """Both bands on one axis of the moment, head-down to the left."""
    axes = canvas.axes
    moment = answer.pitch_moment
    bands = [
        (moment.before, say("moment before, 5 to 95 %"), BEFORE),
        (moment.after, say("moment after, 5 to 95 %"), NOW),
    ]
    reach = 5.0 * tick_step(1.1 * max(abs(end) for b, _, _ in bands if b for end in (b.p5, b.p95)))
    bottom = top - BANDS + 70.0
    middle, half = 0.5 * (BARS[0] + BARS[1]), 0.5 * (BARS[1] - BARS[0])

    def at(value: float) -> float:
        return middle + half * value / reach

    for k in range(-5, 6):
        x = at(k * reach / 5.0)
        colour, width, order = (INK, 2.0, 3) if k == 0 else (WATER_BOTTOM, 1.4, 0)
        axes.plot([x, x], [bottom, top - 6], color=colour, linewidth=points(width), zorder=order)
        label = comma(f"{abs(k) * reach / 5.0:g}")
        axes.text(x, bottom - 8, label, ha="center", va="top", fontsize=points(19), color=INK)
    axes.text(middle, bottom - 38, "N m", ha="center", va="top", fontsize=points(21), color=INK)
    for x, side, words, colour in (
        (middle - 42, "right", say("← turns head-down"), HEAD_DOWN),
        (middle + 42, "left", say("turns head-up →"), HEAD_UP),
    ):  # fmt: skip
        axes.text(x, bottom - 38, words, ha=side, va="top", fontsize=points(22), fontweight="bold", color=colour)
    for place, (band, name, colour) in enumerate(bands):
        level = top - 45.0 - 75.0 * place
        _name(canvas, name, level)
        if band is None:
            axes.text(WORDS, level, say("not fitted"), va="center", fontsize=points(21), color=SOFT_INK)
            continue
        _bar(canvas, at(band.p5), at(band.p95), at(band.p50), level, colour, 1.5 * BAR)
        words = say("{least} to {greatest}", least=_moment(band.p5), greatest=_moment(band.p95))
        axes.text(WORDS, level, words, va="center", fontsize=points(21), color=INK)


def _unknown_rows(answer: CalibrationTold) -> list[tuple[str, float, float, str]]:
    """Name, middle and SD (in SDs of before) and what it is now, of the unknowns that moved most."""
    return [(told(u.name), u.moved, u.sd_ratio, told(u.now)) for u in answer.unknowns[:MOST_ROWS]]


def _reading_rows(answer: CalibrationTold) -> list[tuple[str, float, float, str]]:
    found = []
    for r in answer.readings:
        away, own = (r.measured - r.expected) / r.expected_sd, r.spread / r.expected_sd
        words = say(
            "{measured}, expected {expected} +- {spread}",
            measured=quantity(r.measured, r.unit, 1, sign=True, bare=True),
            expected=quantity(r.expected, r.unit, 1, sign=True, bare=True),
            spread=quantity(r.expected_sd, r.unit, 1),
        )
        found.append((told(r.name), away, own, words))
    return found


def _draw_rows(
    canvas: Canvas, rows: Sequence[tuple[str, float, float, str]], top: float, *, contradicted: bool
) -> None:
    axes = canvas.axes
    bottom = top - ROW * len(rows)
    middle, half = 0.5 * (BARS[0] + BARS[1]), 0.5 * (BARS[1] - BARS[0])
    reach = max([REACH, *(abs(m) + NINETY * s for _, m, s, _ in rows)])
    what = (
        say("Readings, in spreads of what was expected")
        if contradicted
        else say("Unknowns that moved most, in their spreads")
    )
    axes.text(60, top + 52, what, fontsize=points(23), fontweight="bold", color=INK)
    was, now = (say("expected"), say("measured")) if contradicted else (say("before"), say("now"))
    for x, colour, words in ((WORDS - 215, BEFORE, was), (WORDS, NOW, now)):
        _bar(canvas, x, x + 60, None, top + 60, colour, 0.8 * BAR)
        axes.text(x + 72, top + 60, words, va="center", fontsize=points(20), color=SOFT_INK)
    axes.plot([middle, middle], [bottom, top + 8], color=INK, linewidth=points(1.6), zorder=1)
    for place, (name, mean, sd, words) in enumerate(rows):
        level = top - ROW * (place + 0.5)
        _name(canvas, name, level)
        scale = half / reach
        _bar(canvas, middle - NINETY * scale, middle + NINETY * scale, None, level, BEFORE, 1.2 * BAR)
        low, high = middle + (mean - NINETY * sd) * scale, middle + (mean + NINETY * sd) * scale
        _bar(canvas, low, high, middle + mean * scale, level, NOW, 0.6 * BAR)
        axes.text(WORDS, level, _set(words), va="center", fontsize=points(20), color=INK)


def _name(canvas: Canvas, name: str, level: float) -> None:
    shown = name if len(name) <= 36 else name[:35].rstrip() + "…"
    canvas.axes.text(NAMES, level, shown, ha="right", va="center", fontsize=points(21), color=INK)


def _bar(
    canvas: Canvas, low: float, high: float, middle: float | None, level: float, colour: str, thick: float
) -> None:
    from matplotlib.patches import Rectangle

    axes = canvas.axes
    axes.add_patch(Rectangle((low, level - 0.5 * thick), high - low, thick, facecolor=colour, zorder=2))
    if middle is not None:
        axes.plot(
            [middle, middle], [level - 0.75 * thick, level + 0.75 * thick], color=INK, linewidth=points(3.0), zorder=4
        )


def _set(words: str) -> str:
    """Words of the plain text with the signs of print."""
    return re.sub(r"(?<![\w^])-(?=\d)", "−", words.replace("+-", "±").replace("^3", "³").replace("^2", "²"))


def _moment(moment: float) -> str:
    size = number(abs(moment), 1)
    return say("{size} head-up", size=size) if moment > 0.0 else say("{size} head-down", size=size)
