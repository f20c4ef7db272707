"""The sheet that charts of a study share: panels side by side under one title, with small print at the foot."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from sim.drawing.canvas import new_figure
from sim.drawing.palette import GRID, INK, PAPER, SOFT_INK
from sim.drawing.saved import checked_path, save_figure
from sim.telling.caution import told_caution
from sim.telling.language import comma, reader, unit_name

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

DOTS: Final = 150.0  # a inch
LETTERS: Final = 17.0  # of small print in an inch
HEAD: Final = 0.75  # inch
LINE: Final = 0.16  # inch, of small print
TITLE_LETTERS: Final = 8.0  # of the title in an inch
LEAD_LETTERS: Final = 12.0  # of the line under the title in an inch
LEAD: Final = "lead"
STEPS: Final = 5  # of a scale at most, each with a line and a number that are drawn


def sheet(
    panels: int, across: int, size: tuple[float, float], title: str, lead: str, small_print: str
) -> tuple[Figure, Sequence[Axes]]:
    """Figure with ``panels`` axes, ``across`` of them in a row, each about ``size`` inches with its labels."""
    across = min(across, panels)
    down = -(-panels // across)
    width = max(size[0] * across, 6.0)
    under = lead_lines(lead, width)
    head = HEAD + 0.2 * (len(under) - 1)
    notes = textwrap.wrap(told_caution(small_print), int(LETTERS * width))
    foot = LINE * (len(notes) + 1)
    height = size[1] * down + head + foot
    figure = new_figure((width, height), DOTS, PAPER)
    edge = 0.1 / width
    room = (edge, foot / height, 1.0 - 2.0 * edge, 1.0 - (head + foot) / height)
    figure.set_layout_engine("constrained", rect=room, wspace=0.06)
    title = textwrap.shorten(title, int(TITLE_LETTERS * width), placeholder=" ...")
    figure.text(0.15 / width, 1.0 - 0.34 / height, title, fontsize=14, fontweight="bold", color=INK)
    for number, line in enumerate(under):
        at = 0.15 / width, 1.0 - (0.58 + 0.2 * number) / height
        figure.text(*at, line, fontsize=10.5, color=SOFT_INK, label=LEAD)
    for number, line in enumerate(reversed(notes)):
        figure.text(0.15 / width, (0.1 + LINE * number) / height, line, fontsize=7.5, color=SOFT_INK)
    grid = figure.subplots(down, across, squeeze=False).ravel()
    for axes in grid[panels:]:
        axes.set_visible(False)
    for axes in grid[:panels]:
        plain(axes)
    return figure, list(grid[:panels])


def lead_lines(lead: str, width: float) -> list[str]:
    """The line under the title, as many as it takes on a sheet that is ``width`` inches wide."""
    return textwrap.wrap(lead, int(LEAD_LETTERS * width))


def led_anew(figure: Figure, lead: str) -> bool:
    """Put another line under the title, unless it takes another number of lines; whether that was done."""
    old = [text for text in figure.texts if text.get_label() == LEAD]
    new = lead_lines(lead, figure.get_figwidth())
    if len(new) != len(old):
        return False
    for text, line in zip(old, new, strict=True):
        text.set_text(line)
    return True


def plain(axes: Any) -> None:
    """Only the lines that are read off."""
    axes.spines[["top", "right"]].set_visible(False)
    axes.spines[["left", "bottom"]].set_color(SOFT_INK)
    axes.tick_params(colors=INK, labelsize=9, left=False, bottom=False)  # the grid's lines mark the numbers
    axes.grid(visible=True, color=GRID, alpha=0.45, linewidth=0.6)
    axes.locator_params(nbins=STEPS)
    axes.set_axisbelow(True)
    with_commas(axes)


def with_commas(axes: Any) -> None:
    """The scales' numbers with the reader's decimal sign."""
    if reader().language == "en":
        return
    from matplotlib.ticker import ScalarFormatter

    class Commas(ScalarFormatter):
        def __call__(self, x: float, pos: int | None = None) -> str:
            return comma(super().__call__(x, pos))

    for axis in (axes.xaxis, axes.yaxis):
        axis.set_major_formatter(Commas())
        axis.isDefault_majfmt = True  # so that a scale of names still puts its own in place


def finished(figure: Figure, path: str | Path) -> Path:
    """The figure as a PNG, SVG or PDF file, by the path's ending."""
    return finished_all(figure, [path])[0]


def finished_all(figure: Figure, paths: Sequence[str | Path]) -> list[Path]:
    """As ``finished``, to several files; laid out once."""
    targets = [checked_path(path) for path in paths]
    _placed(figure)
    for target in targets:
        save_figure(figure, target)
    return targets


def _placed(figure: Figure) -> None:
    """Lay panels and their labels out for good: the layout's last digits differ from run to run, and with them names
    in an SVG; and each file would be laid out, and drawn for that, anew."""
    layout = figure.get_layout_engine()
    if layout is not None:
        layout.execute(figure)
    figure.set_layout_engine(None)
    for axes in figure.axes:
        left, low, wide, tall = (round(edge, 6) for edge in axes.get_position().bounds)
        axes.set_position((left, low, wide, tall))


def only_words(axes: Axes, words: str) -> None:
    """A sentence where there is nothing to be drawn."""
    axes.text(0.5, 0.5, words, ha="center", va="center", transform=axes.transAxes, color=INK, fontsize=10)
    axes.set_xticks([])
    axes.set_yticks([])
    axes.spines[["left", "bottom"]].set_visible(False)


def named(label: str, unit: str) -> str:
    """A label with its unit, "trimming moment [N m]", in what the reader measures in."""
    return f"{label} [{unit_name(unit)}]" if unit else label
