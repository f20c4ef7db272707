"""The sheet of a measured drawing: A4 across, where metres land on it, words that know their room."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.drawing.canvas import Canvas, SheetOnCanvas, blank, haloed, points
from sim.drawing.free_space import Box
from sim.drawing.letters import set_width
from sim.drawing.palette import INK, PAPER
from sim.drawing.views import View, projected

INCH: Final = 0.0254  # m
PIXEL: Final = 0.01 * INCH  # m on paper that a reference pixel measures
A4: Final = (1169, 827)  # reference pixels, across
ZOOM: Final = 2.5  # true pixels a reference pixel: 250 a inch in print
BACK_AXES: Final = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])  # right, up, towards, from behind
SIDE_AXES: Final = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])  # from the diver's left
HATCHING: Final = 0.45  # opacity of the lines
LINE_HEIGHT: Final = 1.25  # of the letters' size


@dataclass(frozen=True, eq=False)
class OnPage:
    """One view at its place: body points to reference pixels."""

    view: View
    placement: SheetOnCanvas

    def at(self, body_points: ArrayLike) -> Floats:
        """Reference pixels (n, 2) of body points (n, 3) or (3,) [m]."""
        return self.placement.on_canvas(projected(self.view, body_points))

    def level(self, x: float) -> float:
        """Height on the page of a height ``x`` [m] above the hip joints."""
        return float(self.at([x, 0.0, 0.0])[0, 1])


@dataclass(frozen=True)
class Word:
    """Words at a place in reference pixels; ``size`` of the letters likewise."""

    text: str
    at: tuple[float, float]
    size: float
    across: str = "left"
    along: str = "center"
    bold: bool = False
    colour: str = INK

    @property
    def box(self) -> Box:
        """The room it takes."""
        lines = self.text.split("\n")
        width = max(set_width(line, self.size, bold=self.bold) for line in lines)
        height = self.size * (1.0 + LINE_HEIGHT * (len(lines) - 1))
        left = self.at[0] - {"left": 0.0, "center": 0.5, "right": 1.0}[self.across] * width
        bottom = self.at[1] - {"bottom": 0.0, "center": 0.5, "top": 1.0}[self.along] * height
        return Box(left, bottom, left + width, bottom + height)


def page_view(axes: Floats, origin: tuple[float, float], scale: float) -> OnPage:
    """View with the hip joints' middle at ``origin``; ``scale`` [reference pixels a metre]."""
    return OnPage(View(axes, np.zeros(3)), SheetOnCanvas(origin, scale))


def sheet() -> Canvas:
    """An empty A4 page across."""
    width, height = A4
    canvas = blank((round(width * ZOOM), round(height * ZOOM)), ZOOM)
    canvas.figure.set_facecolor(PAPER)
    return canvas


def spread_out(wanted: Sequence[float], gap: float | Sequence[float]) -> list[float]:
    """Places in the order of ``wanted``, no two nearer than ``gap``, moved as little as can be (least squares).

    gap : one for all, or one between each place and the next in order
    """
    order = np.argsort(wanted, kind="stable")
    between = [gap] * (len(order) - 1) if isinstance(gap, float | int) else gap
    steps = [0.0, *itertools.accumulate(between)]
    pools: list[list[float]] = []  # sum of places less their steps, how many
    for rank, k in enumerate(order):
        pools.append([float(wanted[k]) - steps[rank], 1.0])
        while len(pools) > 1 and pools[-2][0] / pools[-2][1] > pools[-1][0] / pools[-1][1]:
            total, count = pools.pop()
            pools[-1][0] += total
            pools[-1][1] += count
    base = [total / count for total, count in pools for _ in range(int(count))]
    placed = [0.0] * len(order)
    for rank, k in enumerate(order):
        placed[k] = base[rank] + steps[rank]
    return placed


def corners_of(box: Box) -> list[tuple[float, float]]:
    """Its corners, the first repeated."""
    left, right = box.left, box.right
    return [(left, box.bottom), (right, box.bottom), (right, box.top), (left, box.top), (left, box.bottom)]


def write(canvas: Canvas, word: Word, zorder: float = 60.0, halo: float = 3.5) -> None:
    """Words on the sheet, with a pale halo."""
    lines = word.text.split("\n")
    box = word.box
    for k, line in enumerate(lines):
        # letters without descenders are what looks centred: 0.73 of the size tall
        base = box.top - word.size * (0.86 + LINE_HEIGHT * k)
        canvas.axes.text(
            word.at[0], base, line, color=word.colour, fontsize=points(word.size), ha=word.across, va="baseline",
            fontweight="bold" if word.bold else "normal", zorder=zorder,
            path_effects=haloed(halo, opacity=0.9) if halo else None,
        )  # fmt: skip


def stroke(
    canvas: Canvas, path: ArrayLike, *, colour: str = INK, width: float = 1.0, dashes: tuple[float, ...] = (),
    zorder: float = 40.0, halo: float = 0.0,
) -> None:  # fmt: skip
    """A line through (n, 2) reference pixels, ``width`` and ``dashes`` in them."""
    from matplotlib.lines import Line2D

    line = Line2D(
        *np.asarray(path, dtype=float).T.tolist(), color=colour, linewidth=points(width), zorder=zorder,
        solid_capstyle="round", dash_capstyle="butt",
        path_effects=haloed(width + 2.0 * halo, opacity=0.85) if halo else None,
    )  # fmt: skip
    if dashes:
        line.set_dashes([d / width for d in dashes])
    canvas.axes.add_artist(line)


def area(
    canvas: Canvas, rings: Sequence[Floats], *, fill: str | None = None, opacity: float = 1.0,
    edge: str | None = None, width: float = 1.0, hatch: str | None = None,
    hatch_colour: str = INK, keep: Box | None = None, dashes: tuple[float, ...] = (), zorder: float = 20.0,
) -> None:  # fmt: skip
    """An area with rings (n, 2) in reference pixels, filled by the even-odd rule; the edge is never see-through.

    keep : what lies outside it is cut off
    """
    from matplotlib.colors import to_rgba
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    if not rings:
        return
    path = Path.make_compound_path(*(Path(ring, closed=True) for ring in rings))
    patch = PathPatch(
        path,
        facecolor=to_rgba(fill, opacity) if fill else "none",
        edgecolor=edge or "none",
        linewidth=points(width) if edge else 0.0,
        hatch=hatch,
        zorder=zorder,
        joinstyle="round",
    )
    if dashes:
        patch.set_linestyle((0.0, [points(d) / points(width) for d in dashes]))
    if hatch:
        patch.set_edgecolor(to_rgba(hatch_colour, HATCHING))  # the edge's, drawn or not
        patch.set_linewidth(0.0)
    canvas.axes.add_artist(patch)
    if keep is not None:
        patch.set_clip_path(Path(corners_of(keep), closed=True), canvas.axes.transData)
