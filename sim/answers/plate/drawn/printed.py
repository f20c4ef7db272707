"""A technical drawing put on paper at full size: one sheet, or tiles of it to be joined."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

from sim.answers.plate.drawn.marks import Area, Look, Mark, Stroke, Word
from sim.answers.plate.drawn.paper import INCH, Rectangle
from sim.drawing.canvas import new_figure
from sim.drawing.palette import GRID, INK, PAPER, SOFT_INK, WEIGHT

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

POINT: Final = 72.0 / INCH  # typographic points a millimetre
SHEET_TONE: Final = "#e6eaed"
LINES: Final[dict[Look, dict[str, Any]]] = {
    "edge": {"color": INK, "linewidth": 0.35 * POINT},
    "bend": {"color": "#00588c", "linewidth": 0.25 * POINT, "dashes": (12.0, 6.0)},
    "middle": {"color": SOFT_INK, "linewidth": 0.18 * POINT, "dashes": (24.0, 6.0, 4.0, 6.0)},
    "thin": {"color": SOFT_INK, "linewidth": 0.15 * POINT},
    "gap": {"color": WEIGHT, "linewidth": 0.7 * POINT},
    "frame": {"color": INK, "linewidth": 0.5 * POINT},
    "zone": {"color": "#7a4a00", "linewidth": 0.25 * POINT, "dashes": (3.0, 3.0)},
    "cut": {"color": GRID, "linewidth": 0.25 * POINT, "dashes": (8.0, 8.0)},
}


def page(marks: Sequence[Mark], paper: tuple[float, float], shown: Rectangle, left: float, bottom: float) -> Figure:
    """A page of ``paper`` (width, height) with the rectangle ``shown`` of a drawing at full size; all [mm].

    left, bottom : where the rectangle's corner comes to lie on the page; what lies outside it is cut off
    """
    wide, tall = paper
    figure = new_figure((wide / INCH, tall / INCH), 150.0, PAPER)
    box = (left / wide, bottom / tall, shown.width / wide, shown.height / tall)
    axes = figure.add_axes(box)
    axes.set_xlim(shown.left, shown.left + shown.width)
    axes.set_ylim(shown.bottom, shown.bottom + shown.height)
    axes.set_axis_off()
    draw(axes, marks)
    return figure


def draw(axes: Axes, marks: Sequence[Mark], scale: float = 1.0) -> None:
    """Put marks on axes that count millimetres; ``scale`` of letters and lines where these are not full size."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    for order, mark in enumerate(marks):
        over = 1.0 + 1e-4 * order
        match mark:
            case Area():
                path = Path.make_compound_path(*(Path(ring, closed=False) for ring in map(_closed, mark.rings)))
                colour = SHEET_TONE if mark.tone == "sheet" else INK
                artist: Any = PathPatch(path, facecolor=colour, edgecolor="none", linewidth=0.0, zorder=over)
            case Stroke():
                look = dict(LINES[mark.look])
                look["linewidth"] *= scale
                x, y = mark.points.T
                artist = Line2D(x, y, zorder=over, solid_capstyle="round", **look)
            case Word():
                _write(axes, mark, scale, over + 1.0)
                continue
        axes.add_artist(artist)
        artist.set_clip_on(True)


def _closed(ring: Any) -> Any:
    import numpy as np

    return np.concatenate([ring, ring[:1]])


def _write(axes: Axes, word: Word, scale: float, over: float) -> None:
    axes.text(
        *word.at,
        word.text,
        fontsize=word.size * POINT * scale,
        ha=word.across,
        va=word.along,
        rotation=word.angle,
        fontweight="bold" if word.bold else "normal",
        color=WEIGHT if word.warns else INK,
        zorder=over,
        clip_on=True,
        parse_math=False,
    )
