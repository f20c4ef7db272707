"""Whom each plate suits: a map over height and build for women and men, a row a plate, with what stops the rest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from textwrap import shorten, wrap
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.mesh import Floats, Ints
from sim.answers.fit.demands.demand import Flags, Look
from sim.answers.fit.drawn.people_map import LOOKS as OF_REASONS
from sim.answers.fit.fitted_people import SEXES
from sim.answers.plate.suits.known import PASSES
from sim.answers.plate.suits.run import SuitedPeople
from sim.drawing.canvas import Canvas, new_figure
from sim.drawing.chart_sheet import named
from sim.drawing.palette import GRID, INK, PAPER, SOFT_INK
from sim.drawing.saved import checked_path, save
from sim.person.measures import Sex
from sim.telling.caution import told_caution
from sim.telling.language import in_unit, say, told

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

LOOKS: Final[dict[str, Look]] = {name or PASSES: look for name, look in OF_REASONS.items()}
STEP: Final = (0.05, 2.0)  # m of height and kg/m^2 of build: one square of the map
FEW: Final = 5  # people, below which each is a dot of their own
FULL: Final = 0.9  # of a square that its people fill
WIDE, HEAD, ROW, FOOT = 12.0, 1.35, 3.3, 2.45  # inches: the sheet, its head, a plate, its foot


def draw_suits_map(people: SuitedPeople, wears: str, path: str | Path) -> None:
    """Draw to ``path`` (PNG, SVG or PDF).

    wears : what they wear besides the plate, a line for the head
    """
    target = checked_path(path)
    rows = len(people.plates)
    tall = HEAD + rows * ROW + FOOT
    figure = new_figure((WIDE, tall), 150.0, PAPER)
    limits = _limits(people)
    for row in range(rows):
        heading = shorten(told(people.plates[row]), 90, placeholder=" …")
        above = (FOOT + (rows - row) * ROW - 0.06) / tall
        figure.text(0.025, above, heading, fontsize=13, color=INK, fontweight="bold", va="top")
        for column, sex in enumerate(SEXES):
            left, bottom = 0.068 + 0.475 * column, (FOOT + (rows - 1 - row) * ROW + 0.55) / tall
            axes = figure.add_axes((left, bottom, 0.43, (ROW - 1.2) / tall))
            _panel(axes, people, row, people.sex == sex, limits)
            axes.set_title(_title(people, sex, row), fontsize=11, color=INK, loc="left")
            if column == 0:
                axes.set_ylabel(say("build: mass over height² [kg/m²]"), fontsize=10, color=INK)
            if row == rows - 1:
                axes.set_xlabel(named(say("height"), "cm"), fontsize=10, color=INK)
    _head_and_foot(figure, people, wears, tall)
    save(Canvas(figure, figure.axes[0], WIDE, tall, 1.0), target)


def _limits(people: SuitedPeople) -> tuple[Floats, Floats]:
    """Edges of the squares [m], [kg/m^2], the same for all panels."""
    edges = []
    for values, step in zip((people.height, people.build), STEP, strict=True):
        low, high = (float(v) for v in (values.min(), values.max())) if len(values) else (0.0, step)
        first = np.floor(low / step + 1e-9)
        edges.append(step * np.arange(first, np.floor(high / step + 1e-9) + 2.0))
    return edges[0], edges[1]


def _title(people: SuitedPeople, sex: Sex, plate: int) -> str:
    share = people.shares[plate][sex][PASSES]
    if not np.isfinite(share.share):
        return say("no women") if sex == "female" else say("no men")
    of, low, high = 100.0 * share.share, 100.0 * share.low, 100.0 * share.high
    if sex == "female":
        return say("suits {of:.0f} % of women as banded ({low:.0f} to {high:.0f} %)", of=of, low=low, high=high)
    return say("suits {of:.0f} % of men as banded ({low:.0f} to {high:.0f} %)", of=of, low=low, high=high)


def _panel(axes: Axes, people: SuitedPeople, plate: int, of_sex: Flags, limits: tuple[Floats, Floats]) -> None:
    from matplotlib.collections import PatchCollection
    from matplotlib.patches import Rectangle

    boxes: dict[str, list[Rectangle]] = {name: [] for name in LOOKS}
    outcomes = people.outcomes[plate]
    for (x, y), some in _squares(people, of_sex, limits):
        if len(some) < FEW:
            continue
        left = x + 0.5 * (1.0 - FULL)
        for name in LOOKS:
            wide = FULL * float((outcomes[some] == name).mean())
            if wide > 0.0:
                boxes[name].append(Rectangle((left, y + 0.5 * (1.0 - FULL)), wide, FULL))
                left += wide
    for name, own in boxes.items():
        look = LOOKS[name]
        axes.add_collection(
            PatchCollection(own, facecolor=look.colour, hatch=look.hatch, edgecolor=INK, linewidth=0.35)
        )
    _alone(axes, people, plate, of_sex, limits)
    for place, edges in enumerate(limits):
        marks = np.arange(len(edges))[:: 2 if place == 0 and len(edges) > 12 else 1]
        shown = in_unit(100.0 * edges, "cm") if place == 0 else edges
        names = [f"{shown[i]:.0f}" for i in marks]
        (axes.set_xticks if place == 0 else axes.set_yticks)(marks, names)
        (axes.set_xlim if place == 0 else axes.set_ylim)(0, len(edges) - 1)
    axes.tick_params(labelsize=9, colors=INK)
    axes.grid(color=GRID, linewidth=0.6, alpha=0.5)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


def _alone(axes: Axes, people: SuitedPeople, plate: int, of_sex: Flags, limits: tuple[Floats, Floats]) -> None:
    """Those who are too few in their square for shares, a dot each."""
    few = [some for _, some in _squares(people, of_sex, limits) if len(some) < FEW]
    if not few:
        return
    who = np.concatenate(few)
    x, y = ((v[who] - e[0]) / s for v, e, s in zip((people.height, people.build), limits, STEP, strict=True))
    colours = [LOOKS[name].colour for name in people.outcomes[plate][who]]
    axes.scatter(x, y, s=16.0, c=colours, edgecolors=INK, linewidths=0.5, zorder=3)


def _squares(
    people: SuitedPeople, of_sex: Flags, limits: tuple[Floats, Floats]
) -> Iterator[tuple[tuple[int, int], Ints]]:
    """Each square with anybody in it: its place, and who (m,)."""
    x, y = (
        np.floor((v - e[0]) / s + 1e-9).astype(int)
        for v, e, s in zip((people.height, people.build), limits, STEP, strict=True)
    )
    key = np.where(of_sex, x * len(limits[1]) + y, -1)
    order = np.argsort(key, kind="stable")
    places, starts = np.unique(key[order], return_index=True)
    for place, some in zip(places.tolist(), np.split(order, starts[1:]), strict=True):
        if place >= 0:
            yield divmod(place, len(limits[1])), some


def _head_and_foot(figure: Figure, people: SuitedPeople, wears: str, tall: float) -> None:
    from matplotlib.patches import Patch

    figure.text(
        0.025, 1.0 - 0.28 / tall, say("Whom each plate suits"), fontsize=17, color=INK, fontweight="bold", va="top"
    )
    figure.text(
        0.025, 1.0 - 0.58 / tall,
        "\n".join(wrap(say(
            "They wear {wears}. Each square holds the people of that height and build, shared out by how it ends for "
            "them; a dot is one person where they are few. A plate suits who can wear it, with the strap on the "
            "waist, so that nothing of the fit fails.", wears=shorten(told(wears), 110, placeholder=" …"),
        ), 155)),
        fontsize=10, color=SOFT_INK, va="top", linespacing=1.4,
    )  # fmt: skip
    seen = [look for name, look in LOOKS.items() if any((o == name).any() for o in people.outcomes)]
    handles: list[Any] = [Patch(facecolor=a.colour, hatch=a.hatch, edgecolor=INK, label=told(a.words)) for a in seen]
    figure.legend(
        handles=handles, loc="lower left", bbox_to_anchor=(0.02, 1.35 / tall), ncols=3 if len(handles) <= 9 else 4,
        fontsize=10 if len(handles) <= 9 else 9, frameon=False, labelcolor=INK, handlelength=2.2, handleheight=1.2,
    )  # fmt: skip
    figure.text(0.025, 0.10 / tall, "\n".join(_foot(people)), fontsize=9, color=SOFT_INK, va="bottom")


def _foot(people: SuitedPeople) -> Sequence[str]:
    source = told(people.source)
    lines = wrap(f"{source[0].upper()}{source[1:]}. {told(people.how)}", 150)
    return [*lines, *wrap(told_caution(), 150)]
