"""How an answer goes with each input: its mean and a band about it at every level, whatever the other inputs."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.drawing.chart_sheet import finished_all, named, sheet
from sim.drawing.palette import HEAD_DOWN, HEAD_UP, INK

# told apart by lightness and mark as well as by colour (Okabe & Ito 2008, from memory)
COLOURS: Final = (HEAD_DOWN, HEAD_UP, "#009e73", "#cc79a7", "#e69f00", "#17232e")
MARKS: Final = "osD^vP"


ACROSS: Final = 3  # panels in a row


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


def draw_levels(
    levels: Sequence[Levels], paths: Sequence[Path], *, answer: str, title: str, lead: str, small_print: str
) -> list[Path]:
    """A panel for each input, all to one scale of the answer; PNG, SVG or PDF by the ending of each path."""
    figure, panels = sheet(len(levels), ACROSS, (3.9, 3.1), title, lead, small_print)
    lines = [line for one in levels for line in one.lines]
    low = min(float(np.nanmin(line.low)) for line in lines)
    high = max(float(np.nanmax(line.high)) for line in lines)
    room = 0.06 * max(high - low, 1e-9)
    for number, (axes, one) in enumerate(zip(panels, levels, strict=True)):
        axes.set_xlabel(named(one.label, one.unit), fontsize=9.5, color=INK)
        for place, line in enumerate(one.lines):
            _draw(axes, line, place, len(one.lines))
        axes.set_ylim(low - room, high + room)
        if number % ACROSS == 0:
            axes.set_ylabel(answer, fontsize=9.5, color=INK)
        else:
            axes.tick_params(labelleft=False)  # all panels have one scale
    if len(levels[0].lines) > 1:
        panels[0].legend(fontsize=8, frameon=True, framealpha=0.85, edgecolor="none")
    return finished_all(figure, paths)


def _draw(axes: Any, line: Line, place: int, lines: int) -> None:
    colour, mark = COLOURS[place % len(COLOURS)], MARKS[place % len(MARKS)]
    band = HEAD_UP if lines == 1 else colour
    if isinstance(line.at, tuple):
        at = np.arange(len(line.at)) + 0.5 * (place - 0.5 * (lines - 1)) / lines
        axes.vlines(at, line.low, line.high, color=band, linewidth=5.0 if lines == 1 else 3.0, alpha=0.35)
        axes.plot(at, line.mean, mark, color=colour, markersize=6, label=line.name)
        room = max(6, 30 // len(line.at))
        axes.set_xticks(
            range(len(line.at)),
            ["\n".join(textwrap.wrap(n, room, break_long_words=False)) for n in line.at],
            fontsize=8,
        )
        axes.set_xlim(-0.6, len(line.at) - 0.4)
        axes.grid(visible=False, axis="x")
    else:
        axes.fill_between(line.at, line.low, line.high, color=band, alpha=0.25 if lines == 1 else 0.15, linewidth=0.0)
        axes.plot(line.at, line.mean, f"{mark}-", color=colour, markersize=4, linewidth=1.6, label=line.name)
