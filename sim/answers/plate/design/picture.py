"""What can be had: each plate by whom it suits and what turns the diver, its mass in colour; start and choice."""

from __future__ import annotations

from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.plate.edges import edges_of
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.design.answer import DesignTold
from sim.answers.plate.design.search import Searched
from sim.answers.plate.design.trial import Trial
from sim.drawing.canvas import Canvas, new_figure
from sim.drawing.chart_sheet import named, with_commas
from sim.drawing.palette import GRID, HEAD_DOWN, HEAD_UP, INK, PAPER, SOFT_INK
from sim.drawing.saved import checked_path, save
from sim.telling.caution import told_caution
from sim.telling.language import in_unit, quantity, say, told

if TYPE_CHECKING:
    from matplotlib.axes import Axes

WIDE, TALL = 13.0, 7.4  # inches
MASSES: Final = "cividis"  # of matplotlib: read alike with and without colour vision


def draw_design(answer: DesignTold, found: Searched, path: str | Path) -> None:
    """Draw to ``path`` (PNG, SVG or PDF)."""
    target = checked_path(path)
    figure = new_figure((WIDE, TALL), 150.0, PAPER)
    figure.text(0.02, 0.965, say("What can be had together"), fontsize=17, color=INK, fontweight="bold", va="top")
    head = _head(answer)
    figure.text(0.02, 0.915, "\n".join(wrap(head, 150)), fontsize=10, color=SOFT_INK, va="top", linespacing=1.35)
    axes = figure.add_axes((0.07, 0.20, 0.50, 0.62))
    _dots(axes, found)
    outline = figure.add_axes((0.645, 0.20, 0.34, 0.62))
    _outlines(outline, found)
    words = [*wrap(say("Chosen: {rule}.", rule=told(answer.rule)), 160), *wrap(told_caution(), 160)]
    figure.text(0.02, 0.02, "\n".join(words), fontsize=9, color=SOFT_INK, va="bottom")
    save(Canvas(figure, axes, WIDE, TALL, 1.0), target)


def _head(answer: DesignTold) -> str:
    who = told(answer.who)
    if answer.most_mass is None:
        return say("Plates of any mass for {who}. Each dot is a plate worked out in full.", who=who)
    mass = quantity(answer.most_mass, "kg", 2)
    return say("Plates of at most {mass} for {who}. Each dot is a plate worked out in full.", mass=mass, who=who)


def _dots(axes: Axes, found: Searched) -> None:
    every = found.every
    masses = [in_unit(t.built.mass, "kg") for t in every]
    low, high = min(masses), max(masses)

    def placed(trials: list[Trial]) -> tuple[list[float], list[float], list[float]]:
        moments, masses = ([in_unit(v, unit) for v in values] for values, unit in (
            ([t.moment for t in trials], "N m"), ([t.built.mass for t in trials], "kg"),
        ))  # fmt: skip
        return [100.0 * t.share for t in trials], moments, masses

    front = [t for t in every if any(t is f for f in found.front)]
    others = [t for t in every if not any(t is f for f in found.front)]
    colours: dict[str, Any] = {"cmap": MASSES, "vmin": low, "vmax": high + 1e-9}
    axes.scatter(*placed(others)[:2], c=placed(others)[2], s=26, alpha=0.55, linewidths=0.0, **colours)
    dots = axes.scatter(*placed(front)[:2], c=placed(front)[2], s=95, edgecolors=INK, linewidths=1.3, zorder=3,
                        label=say("none is better"), **colours)  # fmt: skip
    marks = [(found.start, "s", 120, HEAD_DOWN, say("at the start"))]
    if found.chosen is not None:
        marks.append((found.chosen, "*", 330, HEAD_UP, say("chosen")))
    for trial, mark, size, colour, words in marks:
        axes.scatter(*placed([trial])[:2], marker=mark, s=size, facecolors="none", edgecolors=colour, linewidths=2.0,
                     zorder=4, label=words)  # fmt: skip
    axes.set_xlabel(say("suits, of the group [%]"), fontsize=10.5, color=INK)
    axes.set_ylabel(named(say("turns the diver held flat"), "N m"), fontsize=10.5, color=INK)
    axes.grid(color=GRID, linewidth=0.6, alpha=0.5)
    axes.set_axisbelow(True)
    axes.margins(0.08)
    with_commas(axes)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    bar = axes.figure.colorbar(dots, ax=axes, pad=0.02)
    bar.set_label(named(say("mass"), "kg"), fontsize=10.5, color=INK)
    axes.legend(loc="lower center", bbox_to_anchor=(0.5, 1.0), ncols=3, fontsize=9.5, frameon=False, labelcolor=INK)


def _outlines(axes: Axes, found: Searched) -> None:
    """The flat sheets of start and choice on one another, bolts on bolts."""
    axes.set_aspect("equal")
    axes.set_axis_off()
    shown = [(found.start, HEAD_DOWN, "--")]
    if found.chosen is not None and found.chosen is not found.start:
        shown.append((found.chosen, HEAD_UP, "-"))
    for trial, colour, dashes in shown:
        _outline(axes, trial.built.bench, colour, dashes)
    title = say("Flat sheet, seen from behind: the start")
    if len(shown) > 1:
        title = say("Flat sheets, seen from behind: start dashed, choice in full")
    axes.set_title(title, fontsize=10.5, color=INK)
    axes.autoscale_view()


def _outline(axes: Axes, bench: BenchPlate, colour: str, dashes: str) -> None:
    pattern = bench.plate.pattern
    middle = edges_of(pattern.outline.outer).middle
    for ring in (pattern.outline.outer, *pattern.outline.holes):
        closed = np.vstack([ring, ring[:1]])
        axes.plot(-(closed[:, 1] - middle), closed[:, 0], color=colour, linestyle=dashes, linewidth=1.5)
