"""How an answer goes with each input: its mean and a band about it at every level, whatever the other inputs."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.drawing.chart_sheet import finished_all, led_anew, named, sheet
from sim.drawing.palette import INK, SERIES, SOFT_INK
from sim.telling.language import comma, say

MARKS: Final = "osD^vP"

ACROSS: Final = 3  # panels in a row
MINUS, FIGURE_SPACE = "\u2212", "\u2007"  # the latter as wide as a digit
WIDTH: Final = 5  # of a number on the answer's scale, in letters: the room for it is laid out once


@dataclass(frozen=True, eq=False)
class Line:
    """An answer along one input; arrays (k,).

    name : of what is told apart, "" for all together;  at : values of the input, or the names of its choices
    mean, low, high : of the answer there
    """

    name: str
    at: Floats | tuple[str, ...]
    mean: Floats
    low: Floats
    high: Floats


@dataclass(frozen=True, eq=False)
class Levels:
    """One input with its unit, and the lines along it."""

    label: str
    unit: str
    lines: Sequence[Line]


@dataclass(frozen=True, eq=False)
class LevelsChart:
    """How one answer, named with its unit, goes with each input;  lead : the line under the title."""

    answer: str
    lead: str
    levels: Sequence[Levels]


def draw_levels(
    charts: Sequence[LevelsChart], paths: Sequence[Sequence[Path]], *, title: str, small_print: str
) -> None:
    """For each chart a panel for each input, all to one scale of the answer; PNG, SVG or PDF by each path's ending.

    Charts along the same inputs, one after another, share a sheet: to make panels and scales and find their places
    takes as long as all the rest.
    """
    drawn_on: _Sheet | None = None
    for chart, targets in zip(charts, paths, strict=True):
        if drawn_on is None or drawn_on.inputs != _inputs(chart) or not led_anew(drawn_on.figure, chart.lead):
            figure, panels = sheet(len(chart.levels), ACROSS, (3.9, 3.1), title, chart.lead, small_print)
            drawn_on = _Sheet(figure, panels, _inputs(chart))
            _scales(drawn_on, chart)
        drawn = _drawn(drawn_on, chart)
        finished_all(drawn_on.figure, targets)
        for artist in drawn:
            artist.remove()


@dataclass(frozen=True, eq=False)
class _Sheet:
    """Empty panels for inputs."""

    figure: Any
    panels: Sequence[Any]
    inputs: Sequence[object]


def _inputs(chart: LevelsChart) -> list[object]:
    """What of a chart is on its empty sheet."""
    return [
        (
            one.label,
            one.unit,
            len(one.lines),
            *(at if isinstance(at, tuple) else (at.min(), at.max()) for at in _at(one)),
        )
        for one in chart.levels
    ]


def _at(one: Levels) -> list[Floats | tuple[str, ...]]:
    return [line.at for line in one.lines]


def _scales(empty: _Sheet, chart: LevelsChart) -> None:
    from matplotlib.ticker import FuncFormatter

    for number, (axes, one) in enumerate(zip(empty.panels, chart.levels, strict=True)):
        axes.set_xlabel(named(one.label, one.unit), fontsize=9.5, color=INK)
        at = one.lines[0].at
        if isinstance(at, tuple):
            room = max(6, 30 // len(at))
            names = ["\n".join(textwrap.wrap(_choice(n), room, break_long_words=False)) for n in at]
            axes.set_xticks(range(len(at)), names, fontsize=8)
            axes.set_xlim(-0.6, len(at) - 0.4)
            axes.grid(visible=False, axis="x")
        else:
            ends = [
                (float(line.at.min()), float(line.at.max())) for line in one.lines if not isinstance(line.at, tuple)
            ]
            low, high = min(e[0] for e in ends), max(e[1] for e in ends)
            room_beside = 0.05 * max(high - low, 1e-9)
            axes.set_xlim(low - room_beside, high + room_beside)
        if number % ACROSS == 0:
            axes.yaxis.set_major_formatter(FuncFormatter(_as_wide_as_any))
        else:
            axes.tick_params(labelleft=False)  # all panels have one scale


def _choice(name: str) -> str:
    """A choice as it is read, its numbers not torn from their units."""
    truth = {"true": say("yes"), "false": say("no")}
    return truth.get(name, re.sub(r"(?<=\d) (?=\w{1,3}\b)", "\u00a0", name))


def _as_wide_as_any(value: float, _: object) -> str:
    """A number of the answer's scale, filled up to one width, since the room for it is laid out once."""
    return comma(f"{value:.6g}").replace("-", MINUS).rjust(WIDTH, FIGURE_SPACE)


def _drawn(empty: _Sheet, chart: LevelsChart) -> list[Any]:
    """What stands in the panels of this chart alone."""
    lines = [line for one in chart.levels for line in one.lines]
    low = min(float(np.nanmin(line.low)) for line in lines)
    high = max(float(np.nanmax(line.high)) for line in lines)
    room = 0.06 * max(high - low, 1e-9)
    drawn: list[Any] = []
    for number, (axes, one) in enumerate(zip(empty.panels, chart.levels, strict=True)):
        for place, line in enumerate(one.lines):
            drawn += _draw(axes, line, place, len(one.lines))
        axes.set_ylim(low - room, high + room)
        if number % ACROSS == 0:
            axes.set_ylabel(chart.answer, fontsize=9.5, color=INK)
    if len(chart.levels[0].lines) > 1:
        drawn.append(empty.panels[0].legend(fontsize=8, frameon=True, framealpha=0.85, edgecolor="none"))
    return drawn


def _draw(axes: Any, line: Line, place: int, lines: int) -> list[Any]:
    colour, mark = SERIES[place % len(SERIES)], MARKS[place % len(MARKS)]
    band = SOFT_INK if lines == 1 else colour
    if isinstance(line.at, tuple):
        at = np.arange(len(line.at)) + 0.5 * (place - 0.5 * (lines - 1)) / lines
        bars = axes.vlines(at, line.low, line.high, color=band, linewidth=5.0 if lines == 1 else 3.0, alpha=0.35)
        return [bars, *axes.plot(at, line.mean, mark, color=colour, markersize=6, label=line.name)]
    strip = axes.fill_between(
        line.at, line.low, line.high, color=band, alpha=0.25 if lines == 1 else 0.15, linewidth=0.0
    )
    return [
        strip,
        *axes.plot(line.at, line.mean, f"{mark}-", color=colour, markersize=4, linewidth=1.6, label=line.name),
    ]
