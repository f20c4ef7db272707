"""How an answer goes with each input: its mean and its 5 to 95 % band at every level, whatever the other inputs."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from meshes.mesh import Floats
from sim.pictures.palette import HEAD_DOWN, HEAD_UP, INK
from sim.pictures.study_sheet import finished, named, sheet


@dataclass(frozen=True, eq=False)
class Levels:
    """An answer along one input; arrays (k,).

    at : values of the input, or the names of its choices;  mean, low, high : of the answer there
    """

    label: str
    unit: str
    at: Floats | tuple[str, ...]
    mean: Floats
    low: Floats
    high: Floats


def draw_levels(
    levels: Sequence[Levels], path: str | Path, *, answer: str, title: str, lead: str, small_print: str
) -> Path:
    """A panel for each input, all to one scale of the answer; PNG, SVG or PDF by the path's ending."""
    figure, panels = sheet(len(levels), 3, (3.9, 3.1), title, lead, small_print)
    low = min(float(np.nanmin(one.low)) for one in levels)
    high = max(float(np.nanmax(one.high)) for one in levels)
    room = 0.06 * max(high - low, 1e-9)
    for number, (axes, one) in enumerate(zip(panels, levels, strict=True)):
        _draw(axes, one)
        axes.set_ylim(low - room, high + room)
        if number % 3 == 0:
            axes.set_ylabel(answer, fontsize=9.5, color=INK)
    return finished(figure, path)


def _draw(axes: Any, one: Levels) -> None:
    axes.set_xlabel(named(one.label, one.unit), fontsize=9.5, color=INK)
    if isinstance(one.at, tuple):
        places = np.arange(len(one.at))
        axes.vlines(places, one.low, one.high, color=HEAD_UP, linewidth=5.0, alpha=0.35)
        axes.plot(places, one.mean, "o", color=HEAD_DOWN, markersize=6)
        room = max(6, 30 // len(one.at))
        axes.set_xticks(places, ["\n".join(textwrap.wrap(name, room)) for name in one.at], fontsize=8)
        axes.set_xlim(-0.6, len(one.at) - 0.4)
        axes.grid(visible=False, axis="x")
    else:
        axes.fill_between(one.at, one.low, one.high, color=HEAD_UP, alpha=0.25, linewidth=0.0)
        axes.plot(one.at, one.mean, "o-", color=HEAD_DOWN, markersize=4, linewidth=1.6)
