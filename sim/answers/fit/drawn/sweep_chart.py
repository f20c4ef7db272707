"""The trade-off as one figure: what each height of the rig gives and takes, for every plate, on one person."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.limits import EASY_REACH, SEES_AHEAD_DEG
from sim.answers.fit.sweep import FitSweep, PlateSweep, SweepPoint
from sim.answers.fit.told.sweep import left_out_words
from sim.answers.fit.waist import strap_heights
from sim.drawing.canvas import new_figure
from sim.drawing.letters import wrapped_to
from sim.drawing.own_style import own_style
from sim.drawing.palette import INK, PAPER, SERIES, SOFT_INK
from sim.drawing.saved import checked_path, save_figure
from sim.said import amount, note, word
from sim.telling.caution import told_caution
from sim.telling.language import say, told

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

# told apart by colour, dashes and marker, so that a photocopy will do
DASHES: Final = ("-", (0, (6, 2)), (0, (2, 1.5)), (0, (7, 2, 1.5, 2)), (0, (1, 1)), (0, (4, 1, 1, 1, 1, 1)))
STYLES: Final = tuple(zip(SERIES, DASHES, "os^DvP", strict=True))
MOST_PLATES: Final = len(STYLES)
SIZE: Final = (8.27, 11.0)  # inches: A4 upright, less its foot
UNMET: Final = "#eceff1"
LEFT, RIGHT, TOP = 0.105, 0.965, 0.925  # of the panels, shares of the page
LEFT_TEXT: Final = 0.05
GAP: Final = 0.034  # between panels, for their titles
ROW: Final = 0.0148  # from one line of words to the next
SAMPLE: Final = 0.075  # of the panels' width, kept for a sample of each plate's line
POINTS: Final = 9.0  # of the letters
ROOM: Final = 72.0 * SIZE[0] * (RIGHT - LEFT_TEXT)  # points across


@dataclass(frozen=True)
class Panel:
    """One curve over what is swept.

    of : a point's number;  factor : to the unit shown
    least : the limit below which a demand fails, in the unit shown; None where nothing is demanded
    """

    name: str
    title: str
    unit: str
    of: Callable[[SweepPoint], float]
    factor: float
    least: float | None
    limit: str = ""


PANELS: Final = (
    Panel("moment", word("What turns the diver held flat"), "N m", lambda p: p.moment, 1.0, None,
          word("above 0: turns head-up, below: head-down")),
    Panel("ahead", word("How high the eyes look, held flat (0: straight ahead)"), word("degrees"), lambda p: p.ahead,
          180.0 / np.pi, SEES_AHEAD_DEG,
          note("at least −{least:.0f}°, or no gear stops the head (assumed)", least=-SEES_AHEAD_DEG)),
    Panel("reach", word("Reach to spare at the valve hardest to reach"), "cm", lambda p: p.reach, 100.0,
          100.0 * EASY_REACH, note("at least {least} (assumed)", least=amount(100.0 * EASY_REACH, "cm", 0))),
    Panel("strap", word("Waist strap's middle above the hip bones"), "cm", lambda p: p.strap, 100.0, 0.0,
          word("webbing between hip bones and ribs (common practice)")),
)  # fmt: skip


def draw_fit_sweep(sweep: FitSweep, path: str | Path) -> Path:
    """Draw to a PNG, SVG or PDF file by the path's ending.

    Raises ValueError for another ending or more plates than can be told apart, OSError when it cannot be written.
    """
    own_style()
    from matplotlib import rc_context

    target = checked_path(path)
    with rc_context({"hatch.linewidth": 0.5}):
        save_figure(sweep_figure(sweep), target, dpi=200)
    return target


def sweep_figure(sweep: FitSweep) -> Figure:
    """The figure itself: where all is met on top, then the panels over the same axis.

    Raises ValueError for more plates than can be told apart.
    """
    own_style()
    from matplotlib import rc_context

    if len(sweep.plates) > MOST_PLATES:
        raise ValueError(f"the chart tells {MOST_PLATES} plates apart, got {len(sweep.plates)}")
    with rc_context({"font.size": POINTS}):
        return _figure(sweep)


def _figure(sweep: FitSweep) -> Figure:
    figure = new_figure(SIZE, facecolor=PAPER)
    foot = _small_print(sweep)
    low = 0.012 + ROW * len(foot) + 0.052
    strip = 1.02 * ROW * (0.2 + sum(_strip_rows(p) for p in sweep.plates))
    height = (TOP - strip - low) / len(PANELS) - GAP
    axes = [figure.add_axes((LEFT, TOP - strip, RIGHT - LEFT, strip))]
    for k in range(len(PANELS)):
        place = (LEFT, TOP - strip - (k + 1) * (height + GAP), RIGHT - LEFT, height)
        axes.append(figure.add_axes(place, sharex=axes[0]))
    _draw_strip(axes[0], sweep)
    for ax, panel in zip(axes[1:], PANELS, strict=True):
        _draw_panel(ax, panel, sweep)
    _finish(axes, sweep)
    figure.text(
        LEFT_TEXT,
        0.968,
        say("The trade-off over {name}", name=told(sweep.asked.kind.name)),
        fontsize=14,
        fontweight="bold",
    )
    title = sweep.title[:1].upper() + sweep.title[1:]
    said = say(
        "{title}. Bars and tinted columns: waist strap, look-ahead and reach all met. Grey: not met.", title=title
    )
    for k, line in enumerate(wrapped_to(said, ROOM, POINTS)[:2]):
        figure.text(LEFT_TEXT, 0.949 - ROW * k, line, color=SOFT_INK)
    for k, line in enumerate(reversed(foot)):
        figure.text(LEFT_TEXT, 0.012 + ROW * k, line, color=SOFT_INK, fontsize=POINTS - 1.0)
    return figure


def _strip_words(plate: PlateSweep) -> list[str]:
    """What the plate's row says."""
    room = 72.0 * SIZE[0] * (RIGHT - LEFT) * (1.0 - SAMPLE) - 6.0
    return wrapped_to(f"{told(plate.plate)}: {told(plate.told)}", room, POINTS)


def _strip_rows(plate: PlateSweep) -> float:
    """Room of the plate's row, in lines: its words, and its bar if it has one."""
    return len(_strip_words(plate)) + (1.05 if plate.bands else 0.35)


def _small_print(sweep: FitSweep) -> list[str]:
    """What could not be made, and the caution."""
    lines = []
    if sweep.left_out:
        words = left_out_words(sweep.left_out[0], len(sweep.left_out) - 1)
        lines += wrapped_to(say("Left out: {left_out}", left_out=words), ROOM, POINTS - 1.0)[:2]
    return lines + wrapped_to(told_caution(), ROOM, POINTS - 1.0)


def _draw_strip(ax: Axes, sweep: FitSweep) -> None:
    """For each plate a sample of its line, the words, and a bar where every demand is met."""
    down = 0.0  # in rows of text
    for row, (plate, (colour, dashes, marker)) in enumerate(zip(sweep.plates, STYLES, strict=False)):
        lines = _strip_words(plate)
        ax.plot(
            [0.003, 0.5 * SAMPLE, SAMPLE - 0.012], [down + 0.5] * 3, color=colour, linestyle=dashes, marker=marker,
            markevery=[1], markersize=4.0, linewidth=1.7, transform=ax.get_yaxis_transform(), clip_on=False,
        )  # fmt: skip
        for k, line in enumerate(lines):
            ax.text(
                SAMPLE, down + k + 0.5, line, va="center", color=INK, transform=ax.get_yaxis_transform(), zorder=6
            )  # fmt: skip
        for band in plate.bands:
            span = 100.0 * (band.greatest - band.least)
            ax.barh(
                down + len(lines) + 0.45, span, 0.62, 100.0 * band.least, color=colour, gid=f"band-{row}", zorder=3
            )
        down += _strip_rows(plate)
    ax.set_ylim(down + 0.1, -0.1)
    ax.set_yticks([])
    for side in ("top", "right", "left"):
        ax.spines[side].set_visible(False)


def _draw_panel(ax: Axes, panel: Panel, sweep: FitSweep) -> None:
    for row, (plate, (colour, dashes, marker)) in enumerate(zip(sweep.plates, STYLES, strict=False)):
        x, y = 100.0 * plate.values, panel.factor * shown(plate, panel)
        ax.plot(
            x, y, color=colour, linestyle=dashes, marker=marker, markersize=4.0, markevery=max(1, len(x) // 9),
            linewidth=1.7, label=told(plate.plate), gid=f"{panel.name}-{row}", zorder=4,
        )  # fmt: skip
        for band in plate.bands:
            ax.axvspan(100.0 * band.least, 100.0 * band.greatest, color=colour, alpha=0.10, linewidth=0.0, zorder=1)
    ax.set_title(told(panel.title), loc="left", fontsize=POINTS, fontweight="bold", color=INK, pad=4.0)
    ax.set_title(told(panel.limit), loc="right", fontsize=POINTS - 1.0, color=SOFT_INK, pad=4.0)
    ax.set_ylabel(told(panel.unit))
    if panel.name == "moment":
        _mark_moment(ax)
    elif panel.least is not None:
        _mark_limit(ax, panel, sweep)


def shown(plate: PlateSweep, panel: Panel) -> Floats:
    """What to draw (n,); a hand with no way to the valve is no point of the curve."""
    column = np.array([panel.of(p) for p in plate.points], dtype=float)
    return np.where(np.isfinite(column), column, np.nan)


def _mark_moment(ax: Axes) -> None:
    """Zero, and room on both sides of it."""
    low, high = ax.get_ylim()
    ax.set_ylim(min(low, -0.12 * (high - low)), max(high, 0.12 * (high - low)))
    ax.axhline(0.0, color=INK, linewidth=0.9, zorder=2)


def _mark_limit(ax: Axes, panel: Panel, sweep: FitSweep) -> None:
    """What fails is grey and hatched; for the strap both sides of the waist."""
    least = float(panel.least or 0.0)
    most = None
    if panel.name == "strap":
        least, most = (100.0 * h for h in strap_heights(float(np.median([p.waist for p in sweep.plates[0].points]))))
    low, high = ax.get_ylim()
    top = least if most is None else most
    room = 0.14 * (max(high, top) - min(low, least))
    low, high = min(low, least - room), max(high, top + room)
    ax.set_ylim(low, high)
    failing = [(low, least)] + ([] if most is None else [(most, high)])
    for a, b in failing:
        ax.axhspan(a, b, facecolor=UNMET, edgecolor="#c3cbd1", hatch="///", linewidth=0.0, zorder=0)
    for y in [least] + ([] if most is None else [most]):
        ax.axhline(y, color=INK, linewidth=1.0, dashes=(6, 3), zorder=2, gid=f"limit-{panel.name}")


def _finish(axes: list[Axes], sweep: FitSweep) -> None:
    low, high = _range(sweep)
    axes[0].set_xlim(100.0 * low, 100.0 * high)
    for ax in axes:
        ax.grid(axis="x", color="#d5dde2", linewidth=0.6, zorder=0)
        ax.tick_params(labelbottom=ax is axes[-1], colors=INK)
    axes[-1].set_xlabel(f"{told(sweep.asked.kind.name)}: {told(sweep.asked.kind.words)} [cm]")


def _range(sweep: FitSweep) -> tuple[float, float]:
    return float(sweep.asked.values[0]), float(sweep.asked.values[-1])
