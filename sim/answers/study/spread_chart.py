"""How an answer is spread over all rows of a study: a histogram with its 5th, 50th and 95th percentile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.drawing.chart_sheet import finished_all, named, only_words, sheet
from sim.drawing.palette import INK, SERIES, SERIES_PALE, SOFT_INK
from sim.telling.language import comma, say, unit_name

MOST_BINS: Final = 60
CLOSE: Final = 0.12  # of the axis: what is said of two places nearer than this would run together


@dataclass(frozen=True, eq=False)
class Spread:
    """Values (n,) of one answer, those that there are;  yes_or_no : whether it is 1 or 0 for yes or no."""

    label: str
    unit: str
    values: Floats
    yes_or_no: bool = False


def draw_spreads(
    spreads: Sequence[Spread], paths: Sequence[Path], *, title: str, lead: str, small_print: str
) -> list[Path]:
    """A panel for each answer; PNG, SVG or PDF by the ending of each path."""
    figure, panels = sheet(len(spreads), 3, (3.7, 2.9), title, lead, small_print)
    for axes, spread in zip(panels, spreads, strict=True):
        _draw(axes, spread)
    return finished_all(figure, paths)


def _draw(axes: Any, spread: Spread) -> None:
    values = spread.values
    axes.set_xlabel(named(spread.label, spread.unit), fontsize=9.5, color=INK)
    if not len(values) or values.min() == values.max():
        words = say("no row has one")
        if len(values):
            shown = comma(f"{values[0]:.4g}")
            words = say("{value} {unit} in all rows", value=shown, unit=unit_name(spread.unit))
        only_words(axes, words)
        return
    axes.set_ylabel(say("share of the rows [%]"), fontsize=9.5, color=INK)
    if spread.yes_or_no:
        yes = 100.0 * float(values.mean())
        axes.bar(
            [say("no"), say("yes")],
            [100.0 - yes, yes],
            width=0.5,
            color=SERIES_PALE,
            edgecolor=SOFT_INK,
            linewidth=0.4,
        )
        axes.set_xlim(-0.8, 1.8)
        return
    counts, edges = np.histogram(values, _edges(values))
    axes.stairs(
        100.0 * counts / len(values), edges, fill=True, facecolor=SERIES_PALE, edgecolor=SOFT_INK, linewidth=0.6
    )
    shares = (5, 50, 95)
    places = np.percentile(values, shares)
    for place, style in zip(places, ("--", "-", "--"), strict=True):
        axes.axvline(place, color=SERIES[2], linestyle=style, linewidth=1.4)
    for at, words in percentile_words(places, shares, CLOSE * float(np.ptp(axes.get_xlim()))):
        axes.annotate(f"{words} %", (at, 1.0), xycoords=("data", "axes fraction"), xytext=(0, 2), fontsize=8,
                      color=INK, textcoords="offset points", ha="center", va="bottom")  # fmt: skip


def percentile_words(places: Floats, shares: Sequence[int], close: float) -> list[tuple[float, str]]:
    """Where to write which percentiles; those nearer to one another than ``close`` go together."""
    groups = [[(float(places[0]), shares[0])]]
    for place, share in zip(places[1:].tolist(), shares[1:], strict=True):
        if place - groups[-1][-1][0] < close:
            groups[-1].append((place, share))
        else:
            groups.append([(place, share)])
    return [(sum(p for p, _ in g) / len(g), ", ".join(str(s) for _, s in g)) for g in groups]


def _edges(values: Floats) -> Floats:
    """Bins as wide as Freedman and Diaconis (1981) have it, but no more than MOST_BINS."""
    low, high = float(values.min()), float(values.max())
    edges = np.histogram_bin_edges(values, "fd")
    count = int(min(max(len(edges) - 1, 5), MOST_BINS))
    return np.linspace(low, high, count + 1)
