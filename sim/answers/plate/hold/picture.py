"""Where a plate is stressed: flat and bent, a column for each way of carrying, and how others compare."""

from __future__ import annotations

from pathlib import Path
from textwrap import shorten, wrap
from typing import TYPE_CHECKING, Final

import numpy as np

from meshes.mesh import Floats, Ints
from sim.answers.plate.hold.held import PlateHeld, WayHeld
from sim.answers.plate.hold.run import HeldPlates
from sim.answers.plate.hold.told import HOLD_CAUTION, HeldTold, HoldTold, WayTold
from sim.drawing.canvas import Canvas, haloed, new_figure
from sim.drawing.letters import set_width, wrapped_to
from sim.drawing.palette import GRID, INK, PAPER, SOFT_INK, WEIGHT
from sim.drawing.saved import checked_path, save
from sim.telling.language import quantity, say, set_apart, told

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.collections import TriMesh

COLOURS: Final = "cividis_r"  # dark is much: read alike by all eyes, and in print without colours
SQUARE_ROOT: Final = 0.5  # by which stress is shaded, since peaks are small beside the sheet
WIDE, HEAD, FLAT, BENT, BAR, FOOT = 13.0, 0.75, 4.0, 3.2, 0.27, 0.75  # inches: the sheet, and its rows
SHOWN: Final = 0.10  # of the plate's length, that the greatest deflection is drawn as
ROUND: Final = np.outer(10.0 ** np.arange(5), [1.0, 2.0, 5.0]).ravel()
TITLE: Final = 10.0  # points: over and under a plate
LOW: Final = 0.2  # of the plate's length, below which words stand over what they are of
VIEW: Final = np.radians((-32.0, 24.0))  # turned about the long axis, then tipped toward who looks


def draw_stress(found: HeldPlates, hold: HoldTold, path: str | Path) -> None:
    """Draw to ``path`` (PNG, SVG or PDF)."""
    target = checked_path(path)
    held, own = found.plates[0].held, hold.plates[0]
    bars = BAR * len(hold.plates) + 0.95
    scale = _scale(hold.plates)
    tall = HEAD + FLAT + BENT + bars + FOOT
    figure = new_figure((WIDE, tall), 130.0, PAPER)
    count = len(held.ways)  # of those it can be in
    names = max(len(p.plate) for p in hold.plates)
    left = min(0.25, 0.012 * min(names, 24) * 0.62) + 0.02
    for column, (way, words) in enumerate(zip(held.ways, own.ways, strict=True)):
        x, wide = left + column * (1.0 - left) / count, (1.0 - left) / count - 0.02
        flat = figure.add_axes((x, (FOOT + bars + BENT + 0.4) / tall, wide, (FLAT - 0.95) / tall))
        _flat(flat, held, way, words)
        bent = figure.add_axes((x, (FOOT + bars + 0.25) / tall, wide, (BENT - 0.35) / tall))
        _bent(bent, held, way, words.folds)
        axes = figure.add_axes((x, (FOOT + 0.1) / tall, wide, (bars - 0.75) / tall))
        _beside(axes, hold.plates, words.way, scale, named=column == 0)
    figure.text(
        left, (FOOT + bars - 0.2) / tall, say("Peak stress as a share of what spoils the material"), fontsize=10.5,
        color=SOFT_INK, va="top",
    )  # fmt: skip
    title = say("Where it is stressed: {plate}", plate=shorten(own.plate, 70, placeholder=" …"))
    figure.text(
        0.02, 1.0 - 0.16 / tall, title, fontsize=17,
        color=INK, fontweight="bold", va="top",
    )  # fmt: skip
    carries = say(
        "Carried ashore with {carries}, {mass}. {thickness} of {material}, spoilt at {strength}. Ring: the worst "
        "place.",
        carries=told(hold.carries),
        mass=quantity(hold.carried_mass, "kg", 1),
        thickness=quantity(1e3 * own.thickness, "mm", 1),
        material=told(own.material),
        strength=quantity(1e-6 * own.strength, "MPa", 0),
    )
    figure.text(
        0.02, 1.0 - 0.52 / tall, shorten(carries, 160, placeholder=" …"), fontsize=10.5, color=SOFT_INK, va="top"
    )
    loads = set_apart(
        say("{way} x{load:g} ({source})", way=told(w.way), load=w.load, source=told(w.source)) for w in hold.loads
    )
    foot = [*wrap(say("All weighs: {loads}.", loads=loads), 182), *wrap(told(HOLD_CAUTION), 182)]
    if own.floor is not None:
        foot = [*wrap(told(own.floor), 182), *foot]
    figure.text(0.02, 0.10 / tall, "\n".join(foot), fontsize=9.5, color=SOFT_INK, va="bottom", linespacing=1.4)
    save(Canvas(figure, figure.axes[0], WIDE, tall, 1.0), target)


def _flat(axes: Axes, held: PlateHeld, way: WayHeld, words: WayTold) -> None:
    """The flat pattern as seen from behind a diver, with its scale of stress."""
    from matplotlib.ticker import MaxNLocator

    shell = held.at.shell
    up, right = shell.flat[: shell.corners, 0] * 1e3, -shell.flat[: shell.corners, 1] * 1e3
    stress = 1e-6 * way.stress.at_corners
    shade = _shaded(axes, np.stack([right, up], axis=1), shell.triangles[:, :3], stress)
    ends = shell.edges[:, :2]
    axes.plot(-1e3 * shell.flat[ends, 1].T, 1e3 * shell.flat[ends, 0].T, color=INK, linewidth=0.6)
    for bend in held.at.pattern.bends:
        for side in (-0.5, 0.5):
            axes.axvline(-1e3 * (bend.at + side * bend.width), 0.03, 0.97, color=SOFT_INK, linewidth=0.4, alpha=0.6)
    worst = int(np.argmax(stress))
    _ringed(axes, right[worst], up[worst])
    low = up[worst] < up.min() + LOW * np.ptp(up)
    if not words.folds:
        axes.annotate(
            quantity(float(stress[worst]), "MPa", 0), (right[worst], up[worst]), (0, 14 if low else -14),
            textcoords="offset points", ha="center", va="bottom" if low else "top", fontsize=10, color=INK,
            fontweight="bold", path_effects=haloed(5.0),
        )  # fmt: skip
    axes.set_aspect("equal")
    axes.set_axis_off()
    share = say("{way}: {share:.0f} % of its strength", way=told(words.way), share=100.0 * words.of_strength)
    if words.folds:
        share = say("{way}: the plate folds up", way=told(words.way))
    title = f"{_in_column(axes, share)}\n{_in_column(axes, told(words.place))}"
    axes.set_title(title, fontsize=TITLE, color=INK)
    bar = axes.figure.colorbar(shade, ax=axes, orientation="horizontal", fraction=0.035, pad=0.01, aspect=25)
    bar.set_label(say("stress [{unit}]", unit="MPa"), fontsize=9, color=SOFT_INK, labelpad=1)
    bar.ax.xaxis.set_major_locator(MaxNLocator(5))
    bar.ax.tick_params(labelsize=8.5, colors=INK, length=2)
    bar.outline.set_visible(False)


def _bent(axes: Axes, held: PlateHeld, way: WayHeld, folds: bool) -> None:
    """The plate in space, its bending drawn larger than it is, over its edge unbent."""
    from matplotlib.collections import LineCollection

    shell = held.at.shell
    length = float(np.ptp(shell.nodes[:, 0]))
    larger = float(ROUND[np.abs(np.log(ROUND * way.deflection / (SHOWN * length))).argmin()])
    before, after = _seen(shell.nodes), _seen(shell.nodes + larger * way.bent)
    triangles = shell.triangles[:, :3]
    far = np.argsort(after[triangles, 2].mean(axis=1))
    axes.add_collection(LineCollection(list(before[shell.edges[:, :2], :2]), colors=GRID, linewidths=0.8))
    stress = way.stress.at_corners
    _shaded(axes, after[: shell.corners, :2], triangles[far], stress)
    worst = int(np.argmax(stress))
    _ringed(axes, after[worst, 0], after[worst, 1])
    axes.autoscale_view()
    axes.set_aspect("equal")
    axes.set_axis_off()
    bends = quantity(1e3 * way.deflection, "mm", 1 if way.deflection >= 5e-5 else 2)
    title = say("bends by {mm}", mm=bends)
    if larger > 1.0:
        title = say("bends by {mm}, drawn x{larger:.0f}", mm=bends, larger=larger)
    if folds:
        title = say("how it begins to fold")
    axes.set_title(_in_column(axes, title), fontsize=TITLE, color=SOFT_INK, y=-0.01, va="top")


def _in_column(axes: Axes, words: str) -> str:
    """A title in lines no wider than the axes' place on the sheet."""
    return "\n".join(wrapped_to(words, _across(axes), TITLE))


def _across(axes: Axes) -> float:
    """Points across an axes' place on the sheet."""
    return float(72.0 * WIDE * axes.get_position(original=True).width)


def _shaded(axes: Axes, points: Floats, triangles: Ints, stress: Floats) -> TriMesh:
    """Triangles over points (c, 2), the last on top, by the stress (c,) at their corners."""
    from matplotlib.colors import PowerNorm
    from matplotlib.tri import Triangulation

    return axes.tripcolor(
        Triangulation(points[:, 0], points[:, 1], triangles), stress, shading="gouraud", cmap=COLOURS,
        norm=PowerNorm(SQUARE_ROOT, 0.0, float(stress.max())), rasterized=True, zorder=2,
    )  # fmt: skip


def _seen(points: Floats) -> Floats:
    """Right, up and toward who looks (n, 3), from points in the plate's frame; seen from behind and beside."""
    turn, tip = VIEW
    right, up, near = -points[:, 1], points[:, 0], points[:, 2]
    right, near = np.cos(turn) * right - np.sin(turn) * near, np.sin(turn) * right + np.cos(turn) * near
    up, near = np.cos(tip) * up - np.sin(tip) * near, np.sin(tip) * up + np.cos(tip) * near
    return np.stack([right, up, near], axis=1)


def _ringed(axes: Axes, x: float, y: float) -> None:
    for colour, wide in ((PAPER, 4.5), (WEIGHT, 2.0)):
        axes.scatter([x], [y], s=260.0, facecolors="none", edgecolors=colour, linewidths=wide, zorder=5)


def _scale(plates: tuple[HeldTold, ...]) -> float:
    """Greatest share [%] that bars are drawn for, one for all ways: what spoils the material at the least."""
    return max(100.0, *(100.0 * w.of_strength for p in plates for w in p.ways if not w.folds), 0.0)


def _beside(axes: Axes, plates: tuple[HeldTold, ...], name: str, most: float, *, named: bool) -> None:
    """Each plate's peak as a share of its material's strength, in the way of that name; ``most`` : of all [%]."""
    ways = [plate.way(name) for plate in plates]
    end = 1.3 * most
    shares = [0.0 if w is None else 1.2 * most if w.folds else 100.0 * w.of_strength for w in ways]
    rows = np.arange(len(plates))
    axes.axvline(100.0, color=WEIGHT, linewidth=1.2, zorder=3)
    axes.text(100.0, -0.7, "100 %", ha="center", va="bottom", fontsize=8.5, color=WEIGHT)
    axes.barh(rows, shares, 0.66, color=[SOFT_INK, *[GRID] * (len(plates) - 1)], edgecolor=INK, linewidth=0.8)
    for row, (share, way) in enumerate(zip(shares, ways, strict=True)):
        if way is None:
            text, x = say("tips over"), 0.0
        elif way.folds:
            text, x = say("folds"), 0.0
        else:
            text, x = f"{share:.0f} %", share
        off = 0.02 * end
        reaches = x + off + end * set_width(text, 9.0) / _across(axes)
        x = 100.0 if x <= 100.0 < reaches + off else x  # beyond the line, not on it
        axes.text(x + off, row, text, va="center", fontsize=9, color=INK, path_effects=haloed(), zorder=4)
    axes.set_xlim(0.0, end)
    axes.set_ylim(len(plates) - 0.4, -0.6)
    axes.set_yticks(rows, [shorten(p.plate, 24, placeholder="…") for p in plates] if named else [])
    axes.tick_params(labelsize=9.5, colors=INK, length=0)
    axes.set_xticks([])
    for side in ("top", "right", "bottom"):
        axes.spines[side].set_visible(False)
