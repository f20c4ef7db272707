"""For whom each plate passes, over height: stacked shares for women and men, one row a plate."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from textwrap import shorten, wrap
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.demands.demand import Look
from sim.answers.fit.demands.every import REASONS
from sim.answers.fit.demands.together import NEVER_TOGETHER, SEVERAL
from sim.answers.fit.fitted_people import SEXES, FittedPeople, PersonFit, reasons
from sim.drawing.canvas import Canvas, new_figure
from sim.drawing.palette import GRID, INK, PAPER, PASSES, SOFT_INK
from sim.drawing.saved import checked_path, save
from sim.person.measures import Sex
from sim.said import word
from sim.telling.caution import told_caution
from sim.telling.language import say, told
from sim.telling.share_band import share_band

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Outcome = str | None  # the name of a reason, BANDS, or None for passing
BANDS: Final = "bands"
WORDS: Final = {"female": word("women"), "male": word("men")}
# Of each outcome, from the bottom up: those who pass, then who does not, and why
_LOOKS: Final[dict[Outcome, Look]] = {
    None: Look(PASSES, "", word("passes, banded as in the file"), 0),
    BANDS: Look("#a9cf9c", "--", word("passes with the bands set for them"), 1),
    **{reason.name: reason.look for reason in (*REASONS, NEVER_TOGETHER, SEVERAL)},
}
LOOKS: Final = dict(sorted(_LOOKS.items(), key=lambda item: item[1].place))
STEP: Final = 0.05  # m, width of a class of heights
FEW: Final = 5  # people, below which a class is drawn narrow
WIDE, HEAD, ROW, FOOT = 12.0, 1.35, 2.75, 1.85  # inches: the sheet, its head, a plate, its foot


def draw_people_map(people: FittedPeople, wears: str, path: str | Path) -> None:
    """Draw to ``path`` (PNG, SVG or PDF).

    wears : what they wear besides the plate, a line for the head
    """
    target = checked_path(path)
    rows = len(people.plates)
    tall = HEAD + rows * ROW + FOOT
    figure = new_figure((WIDE, tall), 150.0, PAPER)
    for row in range(rows):
        for column, sex in enumerate(SEXES):
            left, bottom = 0.068 + 0.475 * column, (FOOT + (rows - 1 - row) * ROW + 0.62) / tall
            axes = figure.add_axes((left, bottom, 0.43, (ROW - 1.02) / tall))
            _panel(axes, people.of(sex), row)
            axes.set_title(_title(people, sex, row), fontsize=11, color=INK, loc="left", fontweight="bold")
            if column == 0:
                axes.set_ylabel(say("share of people"), fontsize=10, color=INK)
            if row == rows - 1:
                axes.set_xlabel(
                    say("height [{unit}]; below it: how many people were drawn", unit="cm"),
                    fontsize=10,
                    color=INK,
                    labelpad=19,
                )
    _head_and_foot(figure, people, wears, tall)
    save(Canvas(figure, figure.axes[0], WIDE, tall, 1.0), target)


def _limits(group: Sequence[PersonFit]) -> tuple[float, float]:
    """Least and greatest edge [m] of the classes of heights."""
    heights = [p.who.height for p in group] or [1.6]
    return STEP * np.floor(min(heights) / STEP), STEP * (np.floor(max(heights) / STEP) + 1.0)


def _title(people: FittedPeople, sex: Sex, plate: int) -> str:
    group = people.of(sex)
    passing = reasons(group, plate)[None]
    low, high = share_band(passing, len(group))
    share = 100.0 * passing / max(len(group), 1)
    return say(
        "{plate}, {who}: {share:.0f} % pass ({low:.0f} to {high:.0f} %)",
        plate=told(people.plates[plate]),
        who=told(WORDS[sex]),
        share=share,
        low=100 * low,
        high=100 * high,
    )


def _panel(axes: Axes, group: Sequence[PersonFit], plate: int) -> None:
    limits = _limits(group)
    edges = np.arange(limits[0], limits[1] + 0.5 * STEP, STEP)
    which = np.clip(np.searchsorted(edges, [p.who.height for p in group], side="right") - 1, 0, len(edges) - 2)
    for i, edge in enumerate(edges[:-1]):
        some = [p for p, k in zip(group, which, strict=True) if k == i]
        if some:
            _bar(axes, 100.0 * (edge + 0.5 * STEP), some, plate)
        axes.text(
            100.0 * (edge + 0.5 * STEP), -0.17, f"{len(some)}", ha="center", va="top", fontsize=9,
            color=SOFT_INK, transform=axes.get_xaxis_transform(),
        )  # fmt: skip
    axes.set_xlim(100.0 * limits[0], 100.0 * limits[1])
    axes.set_xticks(100.0 * edges)
    axes.set_ylim(0.0, 100.0)
    axes.set_yticks([0, 25, 50, 75, 100], ["0", "25", "50", "75", "100 %"])
    axes.tick_params(labelsize=9, colors=INK)
    axes.grid(axis="y", color=GRID, linewidth=0.6, alpha=0.6)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


def _outcomes(people: Sequence[PersonFit], plate: int) -> Counter[Outcome]:
    """How many pass (None), pass with bands set for them ("bands"), and fail for each reason even so."""
    found = (p.plates[plate] for p in people)
    return Counter(BANDS if p.bands else p.reason for p in found)


def _bar(axes: Axes, middle: float, some: Sequence[PersonFit], plate: int) -> None:
    counts = _outcomes(some, plate)
    width = (30.0 if len(some) < FEW else 84.0) * STEP  # cm; colours stay those of the legend
    bottom = 0.0
    for outcome, look in LOOKS.items():
        share = 100.0 * counts[outcome] / len(some)
        style: dict[str, Any] = {"color": look.colour, "hatch": look.hatch, "edgecolor": INK, "linewidth": 0.6}
        axes.bar(middle, share, width=width, bottom=bottom, **style)
        bottom += share
    band = 100.0 * np.array(share_band(counts[None], len(some)))
    passing = 100.0 * counts[None] / len(some)
    style = {"color": "#000000", "capsize": 3.5, "capthick": 1.4, "elinewidth": 1.4}
    for colour, width in (("#ffffff", 4.0), ("#000000", 1.4)):
        style |= {"color": colour, "elinewidth": width, "capthick": width}
        axes.errorbar(middle, passing, yerr=_arms(passing, band), fmt="none", **style)


def _arms(value: float, band: Floats) -> Floats:
    """How far the band (2,) reaches below and above a value, (2, 1)."""
    return np.asarray(np.maximum([[value - band[0]], [band[1] - value]], 0.0))


def _head_and_foot(figure: Figure, people: FittedPeople, wears: str, tall: float) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    women, men = (len(people.of(s)) for s in SEXES)
    figure.text(
        0.025,
        1.0 - 0.30 / tall,
        say("For whom each plate passes"),
        fontsize=17,
        color=INK,
        fontweight="bold",
        va="top",
    )
    figure.text(
        0.025, 1.0 - 0.60 / tall,
        say(
            "{wears}.\nA plate passes when, at some height that keeps the strap on the waist, nothing of the fit "
            "fails: straps, width and length,\neyes ahead, hands on every valve, cylinders off the buttocks.",
            wears=shorten(told(wears), 110, placeholder=" …"),
        ),
        fontsize=10, color=SOFT_INK, va="top", linespacing=1.4,
    )  # fmt: skip
    counts = [_outcomes(people.people, plate) for plate in range(len(people.plates))]
    seen = [look for outcome, look in LOOKS.items() if any(count[outcome] for count in counts)]
    handles: list[Any] = [Patch(facecolor=a.colour, hatch=a.hatch, edgecolor=INK, label=told(a.words)) for a in seen]
    handles.append(Line2D([], [], color="#000000", marker="_", label=say("90 % band of the share that passes")))
    figure.legend(
        handles=handles, loc="lower left", bbox_to_anchor=(0.02, 0.65 / tall), ncols=3 if len(handles) <= 9 else 4,
        fontsize=10 if len(handles) <= 9 else 9, frameon=False,
        labelcolor=INK, handlelength=2.2, handleheight=1.2,
    )  # fmt: skip
    figure.text(
        0.025, 0.10 / tall,
        say(
            "{women} women and {men} men drawn from a survey of US soldiers (ANSUR II, 2012); narrow: under {few}.",
            women=women,
            men=men,
            few=FEW,
        )
        + "\n"
        + "\n".join(wrap(told_caution(), 150)),
        fontsize=9, color=SOFT_INK, va="bottom",
    )  # fmt: skip
