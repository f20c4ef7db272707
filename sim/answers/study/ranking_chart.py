"""Which input moves an answer: a bar for each, longest first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sim.drawing.chart_sheet import finished_all, only_words, sheet
from sim.drawing.palette import INK, SERIES, SERIES_PALE, SOFT_INK
from sim.telling.language import say

MOST_BARS: Final = 12


@dataclass(frozen=True)
class Bar:
    """One input's part.

    value, low, high : of the bar and its interval;  alone : of the part it has by itself, None where not known
    """

    name: str
    value: float
    low: float
    high: float
    alone: float | None = None


@dataclass(frozen=True)
class Ranking:
    """Bars of one answer. title : the answer;  measure : what the bars tell, with its unit"""

    title: str
    measure: str
    bars: Sequence[Bar]


def draw_ranking(
    rankings: Sequence[Ranking], paths: Sequence[Path], *, title: str, lead: str, small_print: str
) -> list[Path]:
    """A panel for each answer, MOST_BARS inputs at most; PNG, SVG or PDF by the ending of each path."""
    rows = max(min(len(r.bars), MOST_BARS) for r in rankings)
    longest = max((len(b.name) for r in rankings for b in r.bars), default=0)
    size = (3.4 + 0.075 * min(longest, 34), 1.0 + 0.3 * rows)
    figure, panels = sheet(len(rankings), 2, size, title, lead, small_print)
    for axes, ranking in zip(panels, rankings, strict=True):
        _draw(axes, ranking)
    return finished_all(figure, paths)


def _draw(axes: Any, ranking: Ranking) -> None:
    bars = sorted(ranking.bars, key=lambda b: -b.value)[:MOST_BARS]
    places = range(len(bars))
    axes.set_title(ranking.title, fontsize=11, fontweight="bold", color=INK, loc="left")
    if not any(b.value > 0.0 for b in bars):
        only_words(axes, say("the same in all rows"))
        return
    axes.barh(places, [b.value for b in bars], height=0.62, color=SERIES_PALE, edgecolor=SOFT_INK, linewidth=0.8)
    for place, bar in zip(places, bars, strict=True):
        axes.plot([bar.low, bar.high], [place, place], color=INK, linewidth=1.4, solid_capstyle="butt")
        if bar.alone is not None:
            axes.plot([max(bar.alone, 0.0)] * 2, [place - 0.31, place + 0.31], color=SERIES[2], linewidth=2.6)
    axes.set_yticks(places, [_shortened(b.name) for b in bars])
    axes.set_ylim(len(bars) - 0.4, -0.6)
    axes.set_xlim(left=0.0, right=max((1.03 * max(b.high, b.value) for b in bars), default=0.0) or 1.0)
    axes.set_xlabel(ranking.measure, fontsize=9.5, color=INK)
    axes.grid(visible=False, axis="y")


def _shortened(name: str, most: int = 34) -> str:
    return name if len(name) <= most else name[: most - 1].rstrip() + "…"
