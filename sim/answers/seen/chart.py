"""The causes as a page: how likely each is, and a small diver as seen that shows where it sits."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.seen.text import DOING, FINS, headline, in_100
from sim.answers.seen.typed import attitude_words
from sim.drawing.canvas import Canvas, blank, points
from sim.drawing.letters import HINTED, set_width, wrapped_to
from sim.drawing.marks import draw_title
from sim.drawing.palette import BUOYANCY, GAS_LINE, GAS_THICK, INK, PAPER, SOFT_INK, WATER_BOTTOM, WEIGHT
from sim.drawing.saved import checked_path, save
from sim.drawing.silhouettes import silhouette
from sim.drawing.views import side_view
from sim.telling.caution import told_caution
from sim.telling.language import say, told
from sim.telling.words import moment_words

if TYPE_CHECKING:
    from sim.answers.seen.answer import CauseTold, SeenAnswer
    from sim.assembly.assembled import Assembled
    from sim.rig import Kind

WIDE: Final = 1600
ROW, HEAD, FOOT = 170.0, 165.0, 150.0  # reference pixels
MIDDLE: Final = 215.0  # of the small divers
SCALE: Final = 145.0  # reference pixels a metre, at most
CLEAR: Final = 26.0  # of a row's height that a diver leaves
WORDS: Final = 440.0  # left edge
BARS: Final = (440.0, 1540.0)
LINE: Final = 26.0
# what is drawn of the diver, from the farthest layer to the nearest; the skin comes first
LAYERS: Final[tuple[tuple[tuple[Kind, ...], str], ...]] = (
    (("wing",), "#efe3c2"),
    (("cylinder", "manifold", "valve"), "#b9c1c6"),
    (("fins",), "#5d6670"),
    (("mask", "lead"), "#39424b"),
)
FINE: Final = 0.004  # m


@dataclass(frozen=True, eq=False)
class Figure:
    """A flat diver from the side: (n, 2) headward and backward of the hips [m].

    layers : rings with their fill;  head, feet, shoulder, rig, lead : places (2,) that causes point at
    """

    layers: tuple[tuple[tuple[Floats, ...], str], ...]
    head: Floats
    feet: Floats
    shoulder: Floats
    rig: Floats
    lead: Floats


def draw_seen_chart(answer: SeenAnswer, assembled: Assembled, path: str | Path) -> Path:
    """PNG, SVG or PDF by the path's ending. Raises ValueError for another."""
    target = checked_path(path)
    figure = figure_of(assembled)
    canvas = blank((WIDE, int(HEAD + FOOT + ROW * len(answer.causes))), zoom=1.0)
    canvas.figure.set_facecolor(PAPER)
    axes, top = canvas.axes, canvas.height
    draw_title(canvas, answer.title, 62.0)
    first = answer.sights[0]
    fins = "" if first.fins is None else f", {told(FINS[first.fins])}"
    lead = say(
        "Seen {doing}: {attitude}{fins}. {headline}",
        doing=told(DOING[first.doing]),
        attitude=attitude_words(first.attitude),
        fins=fins,
        headline=headline(answer),
    )
    for number, line in enumerate(textwrap.wrap(lead, 118)):
        axes.text(60, top - 104 - LINE * number, line, fontsize=points(23), color=SOFT_INK)
    for number, cause in enumerate(answer.causes):
        _row(canvas, figure, cause, answer.sights[0].attitude, top - HEAD - ROW * number)
    if answer.test is not None:
        axes.plot([60, WIDE - 60], [FOOT - 7, FOOT - 7], color=WATER_BOTTOM, linewidth=points(1.5))
        for number, line in enumerate(
            textwrap.wrap(say("Next, {name}: {how}", name=told(answer.test.name), how=told(answer.test.how)), 125)[:2]
        ):
            axes.text(60, FOOT - 45 - LINE * number, line, fontsize=points(22), color=INK)
    for number, line in enumerate(reversed(textwrap.wrap(told_caution(answer.caution), 160))):
        axes.text(60, 20 + 23 * number, line, fontsize=points(17), color=SOFT_INK)
    save(canvas, target)
    return target


def figure_of(assembled: Assembled) -> Figure:
    """The diver of an assembled scenario."""
    import shapely

    view = replace(side_view([0.0, 0.0, 1.0], np.zeros(3)), slide=(0.0, 0.0))
    looks, parts = assembled.looks, assembled.rig.parts
    if looks is None:
        raise ValueError("a diver told by numbers has no shape to draw")
    layers = []
    for meshes, fill in [
        ([looks.skin], "#aeb6bb"),
        *(([p.solid.mesh for p in parts if p.kind in kinds and p.solid.mesh is not None], f) for kinds, f in LAYERS),
    ]:
        if meshes:
            rings = silhouette(meshes, view)
            layers.append(
                (tuple(shapely.get_coordinates(shapely.simplify(shapely.linestrings(r), FINE)) for r in rings), fill)
            )
    skin = looks.skin.vertices[:, [0, 2]]
    feet = _middle(assembled, ("fins",), skin[skin[:, 0].argmin()])
    rig = _middle(assembled, ("cylinder",), np.array([0.25, 0.2]))
    lead = _middle(assembled, ("lead",), np.array([0.12, 0.0]))
    mouth = looks.mouth[[0, 2]]
    return Figure(tuple(layers), mouth, feet, np.array([mouth[0] - 0.22, 0.02]), rig, lead)


def _middle(assembled: Assembled, kinds: tuple[Kind, ...], otherwise: Floats) -> Floats:
    solids = [p.solid for p in assembled.rig.parts if p.kind in kinds]
    if not solids:
        return otherwise
    middle = sum((s.mass * s.cm for s in solids), np.zeros(3)) / sum(s.mass for s in solids)
    return np.asarray(middle[[0, 2]])


def _row(canvas: Canvas, figure: Figure, cause: CauseTold, pitch: float, top: float) -> None:
    from matplotlib.patches import Rectangle

    axes = canvas.axes
    axes.plot([60, WIDE - 60], [top + 8, top + 8], color=WATER_BOTTOM, linewidth=points(1.5))
    _diver(canvas, figure, cause, pitch, top - 0.5 * ROW)
    level = top - 34
    beside = (1.0 + HINTED) * set_width(in_100(1.0), 23.0, bold=True) + 12.0
    length = (BARS[1] - BARS[0] - beside) * cause.probability
    axes.add_patch(Rectangle((BARS[0], level - 13), max(length, 1.5), 26, facecolor=SOFT_INK, edgecolor="none"))
    axes.text(
        BARS[0] + length + 12, level, in_100(cause.probability), va="center_baseline", fontsize=points(23),
        fontweight="bold", color=INK,
    )  # fmt: skip
    finding, why = told(cause.finding), told(cause.why)
    name = f"{finding[:1].upper()}{finding[1:]}"
    axes.text(WORDS, top - 76, name, fontsize=points(24), fontweight="bold", color=INK)
    words = say(
        "{why}. Held flat: {moment}. To mend it: {mend}.",
        why=why[:1].upper() + why[1:],
        moment=moment_words(cause.moment),
        mend=told(cause.mend),
    )
    lines = wrapped_to(words, WIDE - 60.0 - WORDS, (1.0 + HINTED) * 20.0)[:3]
    size, step = (20.0, LINE) if len(lines) < 3 else (18.0, 21.0)  # a translation is longer
    for number, line in enumerate(lines):
        axes.text(WORDS, top - 106 - step * number, line, fontsize=points(size), color=SOFT_INK)


def _diver(canvas: Canvas, figure: Figure, cause: CauseTold, pitch: float, level: float) -> None:
    """The diver as seen, faint where the cause hardly fits, with a mark where it sits."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path as Line

    turn = np.array([[np.cos(pitch), -np.sin(pitch)], [np.sin(pitch), np.cos(pitch)]])
    every = np.concatenate([ring for rings, _ in figure.layers for ring in rings]) @ turn.T
    low, high = every.min(axis=0), every.max(axis=0)
    scale = min(SCALE, (ROW - CLEAR) / float(high[1] - low[1]))

    def at(place: Floats) -> Floats:
        return np.asarray(np.array([MIDDLE, level]) + scale * (np.atleast_2d(place) @ turn.T - 0.5 * (low + high)))

    for number, (rings, fill) in enumerate(figure.layers):
        outline = Line.make_compound_path(*(Line(at(ring), closed=True) for ring in rings))
        patch = PathPatch(outline, facecolor=fill, edgecolor=INK, linewidth=points(0.9), zorder=1.0 + 0.01 * number)
        canvas.axes.add_artist(patch)
    _mark(canvas, figure, cause, at)


def _mark(canvas: Canvas, figure: Figure, cause: CauseTold, at: Any) -> None:
    """Where the cause sits: what pulls down filled, as weight is, what lifts hollow, as buoyancy is."""
    if cause.name == "balance":
        _arrow(canvas, at(figure.feet if cause.moment > 0.0 else figure.shoulder)[0], (0.0, -42.0), WEIGHT)
        _arrow(canvas, at(figure.shoulder if cause.moment > 0.0 else figure.feet)[0], (0.0, 42.0), BUOYANCY)
    elif cause.name == "over-correction":
        _arrow(canvas, at(figure.feet)[0] + [14.0, 0.0], (0.0, 34.0), BUOYANCY)
        _arrow(canvas, at(figure.feet)[0] - [14.0, 0.0], (0.0, -58.0), WEIGHT)
    elif cause.name == "sight":
        eyes = at(figure.head)[0]
        canvas.axes.plot(
            [eyes[0], eyes[0] + 85.0],
            [eyes[1]] * 2,
            color=INK,
            linewidth=points(2.4),
            linestyle=(0, (4, 2)),
            zorder=3,
        )
    elif cause.name == "gas":
        where = at(figure.feet if "feet" in cause.finding else figure.shoulder)[0]
        canvas.axes.plot(
            *where, "o", color=GAS_THICK, markeredgecolor=GAS_LINE, markersize=points(44), alpha=0.75, zorder=3
        )
        _arrow(canvas, where, (0.0, 52.0), BUOYANCY)
    elif cause.name == "rig high":
        start, end = at(figure.rig)[0], at(figure.rig + np.array([0.42, 0.0]))[0]
        _arrow(canvas, start, tuple((end - start).tolist()), WEIGHT)
    else:
        for place in (figure.lead, figure.rig):
            x, y = at(place)[0].tolist()
            canvas.axes.text(
                x, y, "?", fontsize=points(34), fontweight="bold", color=WEIGHT, ha="center", va="center", zorder=3
            )


def _arrow(canvas: Canvas, start: Floats, by: tuple[float, ...], colour: str) -> None:
    canvas.axes.annotate(
        "", xy=(start[0] + by[0], start[1] + by[1]), xytext=(start[0], start[1]), zorder=3,
        arrowprops={"arrowstyle": "simple,head_width=0.9,head_length=0.7,tail_width=0.28", "fc": colour,
                    "ec": INK, "lw": points(1.8), "shrinkA": 0.0, "shrinkB": 0.0, "mutation_scale": 20.0},
    )  # fmt: skip
