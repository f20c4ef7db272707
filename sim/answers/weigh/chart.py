"""A weighing as a picture: the lead with its band, where it should lie, what a failure leaves."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import numpy as np

from sim.answers.weigh.answer import WeighAnswer
from sim.answers.weigh.failures_text import SWUM, lost_words
from sim.answers.weigh.text import WHERE, headline
from sim.drawing.chart_sheet import finished, named, sheet
from sim.drawing.letters import wrapped_to
from sim.drawing.palette import GRID, INK, PAPER, SERIES, SOFT_INK
from sim.telling.language import in_unit, number, quantity, say, told, unit_name
from sim.telling.waters import WATERS

WIDE: Final = 4.6  # inch, of a panel
LABEL: Final = 3.2  # inch, of it for a line under the scale
ROW: Final = 0.42  # inch
ENDS: Final = 1.5  # inch, for axis and label
UNDER: Final = {"facecolor": PAPER, "edgecolor": "none", "pad": 0.8}  # lines end where words begin
NOTHING_LEFT: Final = 0.05  # kg, below the shown digits


def draw_weigh_chart(answer: WeighAnswer, path: str | Path) -> Path:
    """The answer of ``hangflat weigh``; PNG, SVG or PDF by the path's ending."""
    drawn: list[Callable[[Any, WeighAnswer], None]] = [_lead, _failures]
    if answer.places:
        drawn.insert(1, _places)
    most = max(len(answer.waters), len(answer.failures), len(answer.places), 4)
    title = say("How much lead: {title}", title=answer.title) if answer.title else say("How much lead")
    size = (WIDE, ROW * most + ENDS)
    figure, panels = sheet(len(drawn), len(drawn), size, title, headline(answer), answer.caution)
    for axes, draw in zip(panels, drawn, strict=True):
        draw(axes, answer)
    return finished(figure, path)


def _lead(axes: Any, answer: WeighAnswer) -> None:
    """A bar a water; what the diver sinks with without any lead is drawn to the left of nil."""
    values = [in_unit(w.lead if w.lead > 0.0 else -w.heavy_without_lead, "kg") for w in answer.waters]
    _rows(axes, [told(WATERS[w.water]) for w in answer.waters])
    axes.barh(range(len(values)), values, height=0.36, color=SERIES[0], alpha=0.85)
    worn = in_unit(answer.worn_lead, "kg")
    ends = [0.0, worn, *values]
    if answer.sure is not None:
        low, high = in_unit(answer.sure.lead.low, "kg"), in_unit(answer.sure.lead.high, "kg")
        axes.plot([low, high], [0.0, 0.0], color=INK, linewidth=1.6, marker="|", markersize=9)
        ends += [low, high]
    if answer.how is not None:
        axes.axvline(worn, color=SERIES[2], linewidth=1.8, linestyle=(0, (5, 2)))
        words = say("worn {worn}", worn=number(worn, 1)) if worn > 0.0 else say("none worn")
        axes.annotate(words, (worn, 1.0), xycoords=("data", "axes fraction"),
                      xytext=(0, 2), textcoords="offset points", ha="center", va="bottom", fontsize=9,
                      color=SERIES[2])  # fmt: skip
    for row, value in enumerate(values):
        words = number(value, 1) if value >= 0.0 else say("none, {size} too heavy", size=number(-value, 1))
        axes.annotate(words, (max(value, 0.0), row), xytext=(4, -14 if row == 0 else 0), textcoords="offset points",
                      ha="left", va="center", fontsize=9, color=INK, bbox=UNDER)  # fmt: skip
    if min(values) < 0.0:  # room for words beside nil
        ends.append(0.9 * (max(ends) - min(ends)))
    _scaled(axes, ends)
    under = named(say("lead for neutral"), "kg")
    if answer.sure is not None:
        under = say("lead for the last stop [{unit}]; line: 5 to 95 %", unit=unit_name("kg"))
    _under(axes, under)


def _places(axes: Any, answer: WeighAnswer) -> None:
    """From the end to the start with all lead in a place; what a kilogram does where no lead is needed."""
    places = sorted(answer.places, key=lambda p: -p.per_kilogram)
    _rows(axes, [told(WHERE[p.place]) for p in places])
    if answer.best is None:
        values = [in_unit(p.per_kilogram, "N m") for p in places]
        axes.barh(range(len(places)), values, height=0.5, color=SOFT_INK)
        _scaled(axes, [0.0, *values])
        words = say("what a kilogram there does [{unit}], plus head-up", unit=unit_name("N m"))
        _under(axes, words)
        return
    rows = np.arange(len(places))
    start, end = (in_unit(np.array([getattr(p, k) for p in places]), "N m") for k in ("start", "end"))
    axes.hlines(rows, start, end, color=SOFT_INK, linewidth=1.6)
    axes.plot(start, rows, "o", color=SERIES[1], markersize=7, label=say("at the start"))
    axes.plot(end, rows, "s", color=SERIES[0], markersize=6, label=say("at the last stop"))
    _named(axes)
    _scaled(axes, [0.0, *start, *end])
    words = say("what turns you, all lead there [{unit}]: plus head-up", unit=unit_name("N m"))
    _under(axes, words)


def _failures(axes: Any, answer: WeighAnswer) -> None:
    """Two bars a failure: to the right what is to be swum up, to the left what is to be held down."""
    _rows(axes, [lost_words(f.lost) for f in answer.failures])
    swum, least = in_unit(SWUM, "kg"), in_unit(NOTHING_LEFT, "kg")
    axes.axvspan(-swum, swum, color=GRID, alpha=0.3, linewidth=0.0)
    both = [(-0.2, "start", SERIES[1], say("at the start")), (0.2, "end", SERIES[0], say("at the last stop"))]
    shown = both if answer.how is not None else [(0.0, "start", SERIES[1], say("as it stands"))]
    ends = [-swum, swum]
    for off, key, colour, label in shown:
        values = in_unit(np.array([getattr(f, key).weight for f in answer.failures]), "kg")
        axes.barh(np.arange(len(values)) + off, values, height=0.36, color=colour, alpha=0.85, label=label)
        ends += list(values)
        for row, value in enumerate(values):
            if abs(value) >= least:
                axes.annotate(number(abs(value), 1), (value, row + off), xytext=(3 if value > 0.0 else -3, 0),
                              textcoords="offset points", ha="left" if value > 0.0 else "right", va="center",
                              fontsize=8.5, color=INK, bbox=UNDER)  # fmt: skip
    _named(axes)
    _scaled(axes, ends)
    for row, failure in enumerate(answer.failures):
        if all(abs(getattr(failure, key).weight) < NOTHING_LEFT for _, key, *_ in shown):
            words = say("the wing holds it") if failure.start.wing_gas else say("neutral")
            axes.annotate(words, (0.0, row), xytext=(4, 0),
                          textcoords="offset points", va="center", fontsize=8.5, color=INK, bbox=UNDER)  # fmt: skip
    words = say("left of 0 hold down, right swim up [{unit}]", unit=unit_name("kg"))
    _under(axes, words, say("shaded: what fins lift, {swum} (from memory)", swum=quantity(SWUM, "kg", 0)))


def _under(axes: Any, *lines: str) -> None:
    """What a scale tells, each of its lines no wider than the panel."""
    wrapped = [part for line in lines for part in wrapped_to(line, 72.0 * LABEL, 9.5)]
    axes.set_xlabel("\n".join(wrapped), fontsize=9.5, color=INK)


def _named(axes: Any) -> None:
    """The legend, above the panel."""
    axes.legend(fontsize=8.5, labelcolor=INK, frameon=False, loc="lower right", bbox_to_anchor=(1.02, 0.99), ncols=2,
                borderaxespad=0.0, columnspacing=1.2, handletextpad=0.5)  # fmt: skip


def _rows(axes: Any, names: list[str]) -> None:
    axes.set_yticks(range(len(names)), names, fontsize=9)
    axes.set_ylim(max(len(names), 2) - 0.4, -0.6)
    axes.grid(axis="y", visible=False)
    axes.axvline(0.0, color=SOFT_INK, linewidth=1.0)


def _scaled(axes: Any, ends: list[float]) -> None:
    low, high = min(ends), max(ends)
    room = 0.16 * max(high - low, 1.0)
    axes.set_xlim(low - room, high + room)
