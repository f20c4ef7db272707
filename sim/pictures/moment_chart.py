"""The moment budget as a bar chart: one bar for each item, head-down to the left, head-up to the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

HEAD_UP: Final = "#0072B2"  # blue and vermilion: Okabe & Ito 2008, told apart by the colour-blind
HEAD_DOWN: Final = "#D55E00"
SHOWN: Final = 14  # bars; the rest are added up in one


def draw_moment_chart(budget: Mapping[str, Any], out: Path) -> None:
    """Draw a ``hangflat.why/1`` object; the ending of ``out`` chooses PNG, SVG or PDF."""
    bars = chart_bars(budget["items"])
    figure = Figure(figsize=(9.0, 1.7 + 0.34 * (len(bars) + 1)), layout="constrained")
    FigureCanvasAgg(figure)
    axes = figure.add_subplot()
    _draw_bars(axes, [*bars, ("together", budget["flat"]["pitch_moment_nm"])])
    axes.set_title("What turns the diver held flat and motionless", fontsize=13, pad=24)
    figure.savefig(out, dpi=150)


def chart_bars(items: Sequence[Mapping[str, Any]]) -> list[tuple[str, float]]:
    """Names and moments [N m] of the bars, as ordered in ``items``; small ones beyond SHOWN are added up."""
    bars = [(str(i["name"]), float(i["moment_nm"])) for i in items]
    if len(bars) <= SHOWN:
        return bars
    rest = bars[SHOWN - 1 :]
    return [*bars[: SHOWN - 1], (f"{len(rest)} others", sum(m for _, m in rest))]


def _draw_bars(axes: Axes, bars: Sequence[tuple[str, float]]) -> None:
    moments = [m for _, m in bars]
    span = max([abs(m) for m in moments] + [0.1])
    places = [*range(len(bars) - 1), len(bars) - 0.5]  # the sum stands a little apart
    axes.barh(places, moments, color=[HEAD_UP if m >= 0 else HEAD_DOWN for m in moments], height=0.72)
    for place, moment in zip(places, moments, strict=True):
        side = 1 if moment >= 0 else -1
        axes.text(
            moment + side * 0.015 * span,
            place,
            f"{moment:+.1f}".replace("-", "−"),
            va="center",
            ha="left" if side > 0 else "right",
        )
    axes.axvline(0.0, color="#333333", linewidth=1.0)
    axes.axhline(len(bars) - 1.25, color="#999999", linewidth=0.8)
    axes.set_yticks(places, [name if len(name) <= 34 else name[:33] + "…" for name, _ in bars])
    axes.invert_yaxis()
    axes.set_xlim(-1.22 * span, 1.22 * span)
    axes.set_xlabel("moment about the pitch axis [N m]")
    axes.text(0.0, 1.02, "◀ turns head-down", transform=axes.transAxes, color=HEAD_DOWN, ha="left", va="bottom")
    axes.text(1.0, 1.02, "turns head-up ▶", transform=axes.transAxes, color=HEAD_UP, ha="right", va="bottom")
    for edge in ("top", "right", "left"):
        axes.spines[edge].set_visible(False)
    axes.tick_params(axis="y", length=0)
    axes.grid(axis="x", color="#dddddd", linewidth=0.7)
    axes.set_axisbelow(True)
