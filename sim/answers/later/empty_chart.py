"""The diver as the cylinders empty, as curves over the pressure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.later.empty_answer import EmptyAnswer, Point
from sim.answers.later.empty_report import BAR
from sim.drawing.chart_sheet import finished, named, sheet
from sim.drawing.palette import GAS_LINE, INK, PAPER, SOFT_INK
from sim.said import word
from sim.telling.language import in_unit, number, quantity, say, told
from sim.telling.words import NO_WEIGHT


@dataclass(frozen=True)
class Panel:
    """One curve.

    of : its value at a point;  meaning : which way is which;  nothing : said where there is only nil to draw
    nil_at_empty : whether it is nil where the wing runs empty
    """

    of: Callable[[Point], float]
    label: str
    unit: str
    colour: str
    meaning: str = ""
    nothing: str = ""
    nil_at_empty: bool = False


MOMENT: Final = Panel(
    lambda p: p.moment,
    word("what turns the diver held flat"),
    "N m",
    INK,
    word("above 0: head-up, below: head-down"),
)
WING: Final = Panel(
    lambda p: p.wing_gas / LITRE,
    word("gas in the wing"),
    "l",
    GAS_LINE,
    nothing=word("The wing holds no gas."),
    nil_at_empty=True,
)
FLOATS: Final = Panel(
    lambda p: p.net_buoyancy, word("buoyancy"), "kg", INK, word("above 0: floats up, below: sinks"),
    word("Neutral all along: neither sinks nor floats up."), nil_at_empty=True,
)  # fmt: skip
PANELS: Final = (MOMENT, WING, FLOATS)
LITRE: Final = 1e-3
WIDE: Final = 12.3  # inch, of all panels
LEAST_RANGE: Final = 1.0  # N m, l, kg: less would show what does not matter large
UNDER: Final = {"facecolor": PAPER, "edgecolor": "none", "pad": 1.0, "alpha": 0.8}


def draw_empty_chart(answer: EmptyAnswer, path: str | Path) -> Path:
    """Chart of what ``hangflat empty`` tells; PNG, SVG or PDF by the path's ending."""
    title = (
        say("As the cylinders empty: {title}", title=answer.title) if answer.title else say("As the cylinders empty")
    )
    first, last = answer.points[0].pressure / BAR, answer.points[-1].pressure / BAR
    lead = say(
        "Held flat, from {first} to {last}; depth, suit and pose stay as they are.",
        first=quantity(first, "bar", 0, bare=True),
        last=quantity(last, "bar", 0),
    )
    told_of = [panel for panel in PANELS if _says_something(answer, panel)]
    lead += "".join(f" {told(panel.nothing)}" for panel in PANELS if panel not in told_of)
    figure, panels = sheet(len(told_of), len(told_of), (WIDE / len(told_of), 3.3), title, lead, answer.caution)
    for axes, panel in zip(panels, told_of, strict=True):
        x, values = _curve(answer, panel)
        axes.axhline(0.0, color=SOFT_INK, linewidth=1.0)
        axes.plot(x, values, color=panel.colour, linewidth=2.2)
        axes.plot(x[[0, -1]], values[[0, -1]], color=panel.colour, linestyle="none", marker="o", markersize=5)
        axes.set_xlabel(named(say("pressure, as the gauge shows"), "bar"), fontsize=9.5, color=INK)
        axes.set_ylabel(named(told(panel.label), panel.unit), fontsize=9.5, color=INK)
        axes.set_title(told(panel.meaning), fontsize=8.5, color=SOFT_INK, loc="right")
        axes.set_xlim(x[0] + 0.06 * np.ptp(x), x[-1] - 0.06 * np.ptp(x))
        low, high = min(float(values.min()), 0.0), max(float(values.max()), 0.0)
        wide = max(high - low, LEAST_RANGE)
        axes.set_ylim(low - 0.14 * wide, max(high, low + wide) + 0.14 * wide)
        _mark_empty(axes, answer.wing_empty_at, panel)
        falls = values[0] > values[-1]  # then the last number stands below, off the line
        for i, side, across, up in ((0, "left", 3, 8), (-1, "right", -3, -15 if falls else 8)):
            axes.annotate(_number(values[i]), (x[i], values[i]), xytext=(across, up),
                          textcoords="offset points", ha=side, fontsize=9.5, color=INK, bbox=UNDER)  # fmt: skip
    return finished(figure, path)


def _says_something(answer: EmptyAnswer, panel: Panel) -> bool:
    """Whether a curve is more than a line of zeros, which a sentence says better; the moment is always drawn."""
    return not panel.nothing or any(abs(panel.of(p)) >= NO_WEIGHT for p in answer.points)


def _curve(answer: EmptyAnswer, panel: Panel) -> tuple[Floats, Floats]:
    """Pressures and values, with the corner where the wing runs empty between two of them."""
    x = in_unit(np.array([p.pressure / BAR for p in answer.points]), "bar")
    values = in_unit(np.array([panel.of(p) for p in answer.points]), panel.unit)
    if answer.wing_empty_at is None or not panel.nil_at_empty:
        return x, values
    at = in_unit(answer.wing_empty_at / BAR, "bar")
    if not x[-1] < at < x[0]:
        return x, values
    place = int(np.searchsorted(-x, -at))
    return np.insert(x, place, at), np.insert(values, place, 0.0)


def _number(value: float) -> str:
    return number(round(float(value), 1) + 0.0, 1).replace("-", "\N{MINUS SIGN}")


def _mark_empty(axes: Any, pressure: float | None, panel: Panel) -> None:
    if pressure is None:
        return
    at = in_unit(pressure / BAR, "bar")
    axes.axvline(at, color=SOFT_INK, linewidth=1.0, linestyle=(0, (5, 3)))
    if panel is WING:
        left = at < axes.get_xlim()[0] - 0.1 * abs(np.ptp(axes.get_xlim()))  # room beside it; the axis falls
        words = say("empty at {pressure}", pressure=quantity(pressure / BAR, "bar", 0))
        axes.annotate(words, (at, 0.6), xycoords=("data", "axes fraction"),
                      xytext=(-6 if left else 6, 0), textcoords="offset points", ha="right" if left else "left",
                      rotation=90, va="center", fontsize=9, color=INK)  # fmt: skip
