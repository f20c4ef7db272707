"""What to change in a plate: its flat sheet with a numbered arrow for each dimension, beside what each moves."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from textwrap import shorten, wrap
from typing import TYPE_CHECKING, Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.edges import Edges, edges_of
from sim.answers.plate import dimensions
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.change.answer import ChangeTold, Lever
from sim.answers.plate.change.text import SHORT, SHOWN, dimension_words, mass_words, meanings, more_of
from sim.answers.plate.dimension_words import short_unit
from sim.answers.plate.divers.words import Answer, cell
from sim.drawing.canvas import Canvas, haloed, new_figure
from sim.drawing.palette import GRID, HEAD_DOWN, HEAD_UP, INK, PAPER, SOFT_INK
from sim.drawing.saved import checked_path, save
from sim.telling.caution import told_caution
from sim.telling.language import in_unit, number, say, told, unit_name

if TYPE_CHECKING:
    from matplotlib.axes import Axes

WIDE, HEAD, FOOT = 14.0, 1.1, 1.0  # inches
SHEET: Final = 0.32  # of the width, for the plate
ROW: Final = 0.27  # inches, of the table
LONG: Final = 0.035  # m, an arrow
STEEL: Final = "#e6e9eb"
Arrow = tuple[Floats, Floats]  # where it begins, and its direction: across and down on the flat sheet [m]


def draw_change(answer: ChangeTold, bench: BenchPlate, path: str | Path) -> None:
    """Draw to ``path`` (PNG, SVG or PDF)."""
    target = checked_path(path)
    levers = [lever for lever in answer.levers if lever.divers]
    tall = HEAD + FOOT + max(len(answer.now) * (ROW * (len(levers) + 3) + 0.35), 4.6)
    figure = new_figure((WIDE, tall), 150.0, PAPER)
    title = say("What to change in {plate}", plate=shorten(told(bench.name), 60, placeholder=" …"))
    figure.text(0.02, 1.0 - 0.22 / tall, title, fontsize=17, color=INK, fontweight="bold", va="top")
    figure.text(
        0.02, 1.0 - 0.60 / tall,
        say(
            "The flat sheet, seen from behind, head up. Each number is a dimension that grows as its arrow points, "
            "all others kept; beside it, how much each answer grows by that."
        ),
        fontsize=10.5, color=SOFT_INK, va="top",
    )  # fmt: skip
    axes = figure.add_axes((0.015, FOOT / tall, SHEET - 0.02, 1.0 - (HEAD + FOOT) / tall))
    _plate(axes, bench, levers)
    table = figure.add_axes((SHEET, FOOT / tall, 0.99 - SHEET, 1.0 - (HEAD + FOOT) / tall))
    _tables(table, answer, levers)
    words = [*wrap(_foot(answer), 185), *wrap(told_caution(), 185)]
    figure.text(0.02, 0.12 / tall, "\n".join(words), fontsize=9, color=SOFT_INK, va="bottom")
    save(Canvas(figure, axes, WIDE, tall, 1.0), target)


def _foot(answer: ChangeTold) -> str:
    return " ".join([*meanings(), *([told(answer.redrawn)] if answer.redrawn else [])])


def _plate(axes: Axes, bench: BenchPlate, levers: list[Lever]) -> None:
    pattern = bench.plate.pattern
    edges = edges_of(pattern.outline.outer)
    axes.set_aspect("equal")
    axes.set_axis_off()
    axes.fill(*_on_sheet(pattern.outline.outer, edges).T, facecolor=STEEL, edgecolor=INK, linewidth=1.4)
    for hole in pattern.outline.holes:
        axes.fill(*_on_sheet(hole, edges).T, facecolor=PAPER, edgecolor=INK, linewidth=1.0)
    for bend in pattern.bends:
        at = -(bend.at - edges.middle)
        axes.plot([at, at], [-0.012, -edges.length + 0.012], color=SOFT_INK, linewidth=0.9, linestyle=(0, (6, 3)))
    for place, lever in enumerate(levers, 1):
        for arrow in _arrows(lever, bench, edges):
            _draw_arrow(axes, arrow, place)
    room = 0.05
    axes.set_xlim(-edges.width / 2 - room, edges.width / 2 + room)
    axes.set_ylim(-edges.length - room, room)


def _on_sheet(points: Floats, edges: Edges) -> Floats:
    """Points (n, 2) of the pattern as seen from behind, from the top edge and the middle line: right and up [m]."""
    return np.column_stack([-(points[:, 1] - edges.middle), points[:, 0] - edges.top])


def _draw_arrow(axes: Axes, arrow: Arrow, number: int) -> None:
    """An arrow with its number at its tail; a number alone for what has no direction on the sheet."""
    start, way = arrow
    if way.any():
        axes.annotate(
            "", tuple(start + LONG * way), tuple(start),
            arrowprops={"arrowstyle": "-|>", "color": HEAD_UP, "linewidth": 2.2, "shrinkA": 0.0, "shrinkB": 0.0},
            zorder=5,
        )  # fmt: skip
    x, y = start.tolist()
    axes.text(
        x, y, str(number), fontsize=10, fontweight="bold", color=PAPER, ha="center", va="center", zorder=6,
        bbox={"boxstyle": "circle,pad=0.22", "facecolor": HEAD_UP, "edgecolor": PAPER},
    )  # fmt: skip


def _arrows(lever: Lever, bench: BenchPlate, edges: Edges) -> Iterator[Arrow]:
    """Where a dimension is seen on the sheet, as seen from behind: the diver's left is on the left."""
    points, half = bench.plate.pattern.points, edges.width / 2
    down, outward, none = np.array([0.0, -1.0]), np.array([1.0, 0.0]), np.zeros(2)

    def on_right(place: Floats, beside: float, below: float) -> Floats:
        at = _on_sheet(place[None], edges)[0]
        return np.array([abs(at[0]) + beside, at[1] + below])

    upper = _on_sheet(points.upper_bolt[None], edges)[0]
    inner = max((b for b in bench.plate.pattern.bends), key=lambda b: b.at, default=None)
    at_bend = np.array([0.0 if inner is None else abs(inner.at - edges.middle), -0.55 * edges.length])
    places: dict[str, Arrow] = {
        dimensions.LENGTH: (np.array([0.35 * half, -edges.length + 0.004]), down),
        dimensions.WIDTH: (np.array([half - 0.004, -0.86 * edges.length]), outward),
        dimensions.FLAT_WIDTH: (np.array([half - 0.004, -0.86 * edges.length]), outward),
        dimensions.SHOULDER_DOWN: (on_right(points.shoulder_slots[0], -0.02, -0.006) * [-1.0, 1.0], down),
        dimensions.SHOULDER_ACROSS: (on_right(points.shoulder_slots[0], 0.0, 0.0), outward),
        dimensions.WAIST_DOWN: (on_right(points.waist_slots[0], -0.016, 0.0) * [-1.0, 1.0], down),
        dimensions.WAIST_ACROSS: (on_right(points.waist_slots[0], -0.01, 0.0), outward),
        dimensions.BOLTS_DOWN: (upper + [0.0, -0.012], down),
        dimensions.DEPTH: (np.array([0.0, -0.45 * edges.length]), none),
        dimensions.ANGLE: (at_bend, none),
        dimensions.THICKNESS: (np.array([-half + 0.004, -0.80 * edges.length]), none),
    }
    if lever.dimension in places:
        yield places[lever.dimension]
    elif lever.dimension.startswith("bend "):
        number, _, what = lever.dimension.removeprefix("bend ").partition(", ")
        at = sorted({round(abs(b.at - edges.middle), 6) for b in bench.plate.pattern.bends})
        x = at[min(int(number), len(at)) - 1]
        yield (np.array([x, -(0.42 if "line" in what else 0.62) * edges.length]), outward if "line" in what else none)


def _tables(axes: Axes, table: ChangeTold, levers: list[Lever]) -> None:
    """What each dimension moves on each diver; the strongest of each column in the deepest colour."""
    axes.set_axis_off()
    axes.set_xlim(0.0, 1.0)
    rows = len(table.now) * (len(levers) + 4)
    axes.set_ylim(rows, -0.4)
    first, step = 0.40, (1.0 - 0.40) / (len(SHOWN) + 1)
    y = 0.0
    for place, diver in enumerate(table.now):
        axes.text(0.0, y, diver.diver, fontsize=12, fontweight="bold", color=INK, va="center")
        for column, answer in enumerate(SHOWN):
            x = first + (column + 1.5) * step
            head = f"{told(SHORT[answer.field])}\n[{short_unit(answer.unit)}]"
            axes.text(x, y + 0.1, head, fontsize=9, color=INK, ha="center", va="center", fontweight="bold")
            shown = cell(answer, diver.moves)
            axes.text(x, y + 1.15, shown, fontsize=9.5, color=SOFT_INK, ha="center", va="center")
        mass = f"{say('mass')}\n[{unit_name('kg')}]", number(in_unit(table.mass, "kg"), 2)
        for at, words in zip((y + 0.1, y + 1.15), mass, strict=True):
            axes.text(first + 0.5 * step, at, words, fontsize=9, color=INK, ha="center", va="center",
                      fontweight="bold" if at < y + 1.0 else "normal")  # fmt: skip
        axes.text(0.035, y + 1.15, say("as drawn"), fontsize=9.5, color=SOFT_INK, va="center")
        for row, lever in enumerate(levers):
            at = y + 2.15 + row
            axes.plot([0.0, 1.0], [at - 0.5, at - 0.5], color=GRID, linewidth=0.5, alpha=0.6)
            axes.text(
                0.012, at, str(row + 1), fontsize=9.5, fontweight="bold", color=HEAD_UP, ha="center", va="center"
            )
            axes.text(0.035, at, f"{dimension_words(lever)}  {more_of(lever)}", fontsize=9.2, color=INK, va="center")
            axes.text(first + 0.5 * step, at, mass_words(lever), fontsize=9.2, color=INK,
                      ha="center", va="center")  # fmt: skip
            for column, answer in enumerate(SHOWN):
                _cell(axes, (first + (column + 1) * step, at), step, answer, lever, place, _strongest(answer, levers))
        y += len(levers) + 4


def _strongest(answer: Answer, levers: list[Lever]) -> float:
    return max((abs(answer.value(on.moves) or 0.0) for lever in levers for on in lever.divers), default=0.0)


def _cell(
    axes: Axes, at: tuple[float, float], wide: float, answer: Answer, lever: Lever, place: int, most: float
) -> None:  # fmt: skip
    from matplotlib.patches import Rectangle

    moves = lever.divers[place].moves
    value = answer.value(moves)
    shown = cell(answer, moves, change=True)
    some = value is not None and round(abs(value), answer.digits) > 0.0
    if value is not None and some:
        colour, deep = (HEAD_UP if value > 0.0 else HEAD_DOWN), 0.08 + 0.5 * abs(value) / most
        axes.add_patch(
            Rectangle((at[0] + 0.004, at[1] - 0.44), wide - 0.008, 0.88, facecolor=colour, alpha=deep, linewidth=0.0)
        )
    words = axes.text(at[0] + wide / 2, at[1], shown if some else "·" if value is not None else "-", fontsize=9.5,
                      color=INK if some else SOFT_INK, ha="center", va="center")  # fmt: skip
    words.set_path_effects(haloed(2.0, PAPER, 0.6))
