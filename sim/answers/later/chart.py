"""The diver later in the dive, as curves over the time."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.later.answer import LaterAnswer, LaterPoint
from sim.drawing.chart_sheet import finished, named, sheet
from sim.drawing.palette import GAS_LINE, GRID, INK, PAPER, SERIES, SOFT_INK
from sim.telling.language import in_unit, number, quantity, say, told

BAR: Final = 1e5
LITRE: Final = 1e-3
MINUTE: Final = 60.0
SIZE: Final = (5.6, 2.6)  # inch, of a panel
LEAST_RANGE: Final = 1.0  # N m, l, kg: less would show what does not matter large
LINES: Final = tuple(zip(SERIES, ("-", (0, (6, 2)), (0, (2, 1.5)), (0, (6, 2, 1, 2))), strict=False))
LATELY: Final = 0.9  # of the time: from there on the curve comes to where its end is told
UNDER: Final = {"facecolor": PAPER, "edgecolor": "none", "pad": 1.0, "alpha": 0.8}


def draw_later_chart(answer: LaterAnswer, path: str | Path) -> Path:
    """Depth, gas in cylinders, in wing and suit, and moment; PNG, SVG or PDF by the path's ending."""
    points = answer.points
    title = say("Later in the dive: {title}", title=answer.title) if answer.title else say("Later in the dive")
    lead = say("Held flat. {course}", course=told(answer.course))
    figure, panels = sheet(4, 2, SIZE, title, lead, answer.caution)
    time = np.array([p.time for p in points]) / MINUTE
    depth, cylinders, soft, moment = panels
    for axes in panels:
        axes.set_xlim(0.0, time[-1])
        axes.set_xlabel(named(say("time"), "min"), fontsize=9.5, color=INK)
    _depth(depth, time, points)
    _cylinders(cylinders, time, points)
    _soft_gas(soft, time, points)
    _moment(moment, time, answer)
    return finished(figure, path)


def _depth(axes: Any, time: Floats, points: Sequence[LaterPoint]) -> None:
    values = in_unit(np.array([p.depth for p in points]), "m")
    axes.plot(time, values, color=INK, linewidth=2.2)
    axes.set_ylim(1.1 * max(values.max(), 1.0), 0.0)
    axes.set_ylabel(named(say("depth"), "m"), fontsize=9.5, color=INK)
    left = [set(p.left_behind) for p in points]
    for i in range(1, len(points)):
        for name, word in [
            *((n, "left") for n in left[i] - left[i - 1]),
            *((n, "taken") for n in left[i - 1] - left[i]),
        ]:
            words = say("{name} left", name=name) if word == "left" else say("{name} taken", name=name)
            axes.annotate(words, (time[i], values[i]), xytext=(4, 5 if word == "left" else 15),
                          textcoords="offset points", fontsize=8.5, color=INK, bbox=UNDER)  # fmt: skip


def _cylinders(axes: Any, time: Floats, points: Sequence[LaterPoint]) -> None:
    names = list(points[0].pressure)
    for name, (colour, dashes) in zip(names, LINES * (len(names) // len(LINES) + 1), strict=False):
        values = in_unit(np.array([p.pressure[name] for p in points]) / BAR, "bar")
        away = np.array([name in p.left_behind for p in points])
        axes.plot(
            time, np.where(away, np.nan, values), color=colour, linestyle=dashes, linewidth=2.0, label=told(name)
        )
    axes.set_ylim(0.0, None)
    axes.set_ylabel(named(say("pressure, as the gauge shows"), "bar"), fontsize=9.5, color=INK)
    if len(names) > 1:
        axes.legend(fontsize=8.5, labelcolor=INK, frameon=True, framealpha=0.85, edgecolor="none")


def _soft_gas(axes: Any, time: Floats, points: Sequence[LaterPoint]) -> None:
    wing, suit = (in_unit(np.array([getattr(p, k) for p in points]) / LITRE, "l") for k in ("wing_gas", "suit_gas"))
    axes.plot(time, wing, color=GAS_LINE, linewidth=2.2, label=say("wing"))
    if suit.any():
        axes.plot(time, suit, color=SOFT_INK, linewidth=2.0, linestyle=(0, (6, 2)), label=say("drysuit"))
        axes.legend(fontsize=8.5, labelcolor=INK, frameon=True, framealpha=0.85, edgecolor="none")
    axes.set_ylim(0.0, 1.12 * max(wing.max(), suit.max(), LEAST_RANGE))
    where = say("gas at depth") if suit.any() else say("gas in the wing, at depth")
    axes.set_ylabel(named(where, "l"), fontsize=9.5, color=INK)
    net = np.array([p.net_buoyancy for p in points])
    if (light := net.max()) > 0.05:
        axes.set_title(
            say("wing empty, up to {light} too light", light=quantity(light, "kg", 1)),
            fontsize=8.5,
            color=SOFT_INK,
            loc="right",
        )


def _moment(axes: Any, time: Floats, answer: LaterAnswer) -> None:
    """With what lets the diver hang by themselves, shaded, and what posture holds: beyond the dashed lines it takes
    the fins, or other gear."""
    values = in_unit(np.array([p.pitch_moment for p in answer.points]), "N m")
    axes.axhline(0.0, color=SOFT_INK, linewidth=1.0)
    axes.plot(time, values, color=INK, linewidth=2.2)
    low, high = min(values.min(), 0.0), max(values.max(), 0.0)
    wide = max(high - low, LEAST_RANGE)
    axes.set_ylim(low - 0.16 * wide, max(high, low + wide) + 0.16 * wide)
    hangs = in_unit(answer.hangs_by_itself, "N m")
    axes.axhspan(-hangs, hangs, color=GRID, alpha=0.35, linewidth=0.0)
    bottom, top = axes.get_ylim()
    for limit, words, at in (
        (in_unit(answer.holds_head_up, "N m"), say("posture holds no more head-up"), "bottom"),
        (-in_unit(answer.holds_head_down, "N m"), say("posture holds no more head-down"), "top"),
    ):
        if bottom < limit < top:
            axes.axhline(limit, color=INK, linewidth=1.2, linestyle=(0, (5, 3)))
            axes.annotate(words, (time[-1], limit), xytext=(-4, 3 if at == "bottom" else -3), ha="right", va=at,
                          textcoords="offset points", fontsize=8.5, color=INK, bbox=UNDER)  # fmt: skip
    axes.set_ylabel(named(say("what turns the diver"), "N m"), fontsize=9.5, color=INK)
    words = say("above 0: head-up, below: head-down; shaded: the diver hangs by themselves")
    axes.set_title(words, fontsize=8.5, color=SOFT_INK, loc="right")
    falls = np.interp(LATELY * time[-1], time, values) > values[-1]  # then the last stands below
    for i, side, across, over in ((0, "left", 6, 6), (-1, "right", -4, -15 if falls else 6)):
        axes.annotate(
            number(values[i], 1).replace("-", "\N{MINUS SIGN}"), (time[i], values[i]), xytext=(across, over),
            textcoords="offset points", ha=side, fontsize=9.5, color=INK, bbox=UNDER,
        )  # fmt: skip
