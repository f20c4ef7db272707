"""A plate on divers beside the catalogue's: from each an arrow for mass, place and fit, a panel for each answer."""

from __future__ import annotations

from pathlib import Path
from textwrap import shorten, wrap
from typing import TYPE_CHECKING, Final, Literal

from sim.answers.plate.dimension_words import short_unit
from sim.answers.plate.divers.answer import DiversTold, DiverWith
from sim.answers.plate.divers.text import set_up_words
from sim.answers.plate.divers.words import ANSWERS, Answer
from sim.answers.plate.divers.worn import WornAnswers
from sim.drawing.canvas import Canvas, new_figure
from sim.drawing.chart_sheet import with_commas
from sim.drawing.palette import GRID, INK, PAPER, SOFT_INK
from sim.drawing.saved import checked_path, save
from sim.said import word
from sim.telling.caution import told_caution
from sim.telling.language import in_unit, say, told

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Dashes = Literal["-", "--", ":"]
# Okabe & Ito's colours, from memory, and lines that differ without colour
STEPS: Final[tuple[tuple[str, str, str, Dashes], ...]] = (
    ("by_mass", word("by its mass"), "#e69f00", "-"),
    ("by_place", word("by its places"), "#0072b2", "--"),
    ("by_fit", word("worn so that it passes"), "#009e73", ":"),
)
NEW, OLD = "#17232e", "#ffffff"
WIDE, HEAD, ROW, FOOT = 12.0, 1.75, 0.92, 1.15  # inches
BACK: Final = 0.2  # of a row: by the fit it often goes back the way that it came
NOTHING: Final = 0.02  # of a panel's width: no arrow is drawn for less


def draw_divers(answer: DiversTold, path: str | Path) -> None:
    """Draw to ``path`` (PNG, SVG or PDF)."""
    target = checked_path(path)
    tall = HEAD + ROW * len(ANSWERS) + FOOT
    figure = new_figure((WIDE, tall), 150.0, PAPER)
    left, gap = 0.125, 0.035
    wide = (0.985 - left - gap * (len(answer.divers) - 1)) / len(answer.divers)
    for column, diver in enumerate(answer.divers):
        x = left + column * (wide + gap)
        top = 1.0 - 0.78 / tall
        figure.text(x, top, shorten(diver.diver, int(110 * wide), placeholder=" …"), fontsize=11.5, color=INK,
                    fontweight="bold", va="top")  # fmt: skip
        words = "\n".join(wrap(set_up_words(diver), int(115 * wide)))
        figure.text(x, top - 0.27 / tall, words, fontsize=9.5, color=SOFT_INK, va="top")
        for row, one in enumerate(ANSWERS):
            bottom = (FOOT + ROW * (len(ANSWERS) - 1 - row) + 0.30) / tall
            axes = figure.add_axes((x, bottom, wide, (ROW - 0.36) / tall))
            _panel(axes, diver, one, column == 0)
    plate = shorten(told(answer.plate), 50, placeholder=" …")
    title = say("What {plate} does to divers, beside plates of the catalogue", plate=plate)
    figure.text(0.025, 1.0 - 0.25 / tall, title, fontsize=16, color=INK, fontweight="bold", va="top")
    _legend(figure, tall)
    figure.text(0.025, 0.10 / tall, "\n".join(wrap(told_caution(), 155)), fontsize=8.5, color=SOFT_INK, va="bottom")
    save(Canvas(figure, figure.axes[0], WIDE, tall, 1.0), target)


def _panel(axes: Axes, diver: DiverWith, answer: Answer, named: bool) -> None:
    """One answer on one diver: a row for each plate of the catalogue."""
    rows = [_stops(diver, number, answer) for number in range(len(diver.beside))]
    values = [v for row in rows for v in row]
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    room = max(0.22 * (high - low), 1.5 * 10.0**-answer.digits)
    axes.set_xlim(low - room, high + room)
    axes.set_ylim(len(rows) - 0.4, -0.6)
    for y, (row, beside) in enumerate(zip(rows, diver.beside, strict=True)):
        axes.text(0.0, y - 0.17, f" {told(beside.plate)}", transform=axes.get_yaxis_transform(), fontsize=7.5,
                  color=SOFT_INK, va="bottom")  # fmt: skip
        if row:
            _arrows(axes, row, y, NOTHING * (high - low + 2.0 * room))
    axes.set_yticks([])
    axes.tick_params(axis="x", labelsize=8, colors=INK, length=2, pad=1)
    with_commas(axes)
    axes.grid(axis="x", color=GRID, linewidth=0.5, alpha=0.5)
    axes.set_axisbelow(True)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    if named:
        label = "\n".join([*wrap(told(answer.name), 18), f"[{short_unit(answer.unit)}]"])
        axes.text(-0.02, 0.5, label, transform=axes.transAxes, fontsize=9.5, color=INK,
                  ha="right", va="center")  # fmt: skip
    if not values:
        axes.set_xticks([])
        axes.text(
            0.5, 0.5, say("none"), transform=axes.transAxes, color=SOFT_INK, fontsize=9, ha="center", va="center"
        )


def _arrows(axes: Axes, stops: list[float], y: int, least: float) -> None:
    at = y + 0.08
    for step, (start, end, (_, _, colour, dashes)) in enumerate(zip(stops, stops[1:], STEPS, strict=False)):
        if abs(end - start) > least:
            axes.annotate(
                "", (end, at + BACK * (step == 2)), (start, at + BACK * (step == 2)),
                arrowprops={"arrowstyle": "-|>", "color": colour, "linewidth": 2.0, "linestyle": dashes,
                            "shrinkA": 0.0, "shrinkB": 0.0},
            )  # fmt: skip
    axes.plot(stops[0], at, "o", color=OLD, markeredgecolor=INK, markersize=6.0, zorder=3)
    axes.plot(stops[2], at, "o", color=NEW, markersize=6.0, zorder=4)
    if len(stops) > 3:
        axes.plot(stops[3], at + BACK, "D", color=STEPS[2][2], markeredgecolor=INK, markersize=5.0, zorder=3)


def _stops(diver: DiverWith, number: int, answer: Answer) -> list[float]:
    """The answer with the catalogue's plate, with its mass changed, with the new plate, and so that it passes."""
    beside = diver.beside[number]
    of: list[WornAnswers | None] = [beside.worn, beside.by_mass, diver.worn, diver.fitted]
    first, by_mass, new, fitted = (None if t is None else _shown(answer, t) for t in of)
    if first is None or by_mass is None or new is None:
        return []
    return [first, first + by_mass, new, *([] if fitted is None else [fitted])]


def _shown(answer: Answer, of: WornAnswers) -> float | None:
    """In the reader's unit."""
    value = answer.value(of)
    return None if value is None else float(in_unit(value, answer.unit))


def _legend(figure: Figure, tall: float) -> None:
    from matplotlib.lines import Line2D

    def dot(mark: str, face: str, words: str) -> Line2D:
        return Line2D([], [], marker=mark, color="none", markerfacecolor=face, markeredgecolor=INK, label=words)

    steps = (
        Line2D([], [], color=c, linestyle=dashes, linewidth=2.0, label=told(name)) for _, name, c, dashes in STEPS
    )
    catalogue, new, so_worn = say("catalogue's plate"), say("new plate"), say("so worn")
    marks = [dot("o", OLD, catalogue), *steps, dot("o", NEW, new), dot("D", STEPS[2][2], so_worn)]
    figure.legend(handles=marks, loc="lower left", bbox_to_anchor=(0.02, 0.52 / tall), ncols=6, fontsize=9.5,
                  frameon=False, labelcolor=INK, handlelength=2.4)  # fmt: skip
