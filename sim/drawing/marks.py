"""Marks laid over the diver: centres, force arrows, lines, words."""

from __future__ import annotations

from typing import Any

import numpy as np

from meshes.mesh import Floats
from sim.drawing.canvas import Canvas, halo_of, haloed, points
from sim.drawing.letters import size_for
from sim.drawing.palette import GAS_LINE, GAS_THIN, INK

MARK = "mark"  # name given to every line and arrow that no word may stand on
HALO = "halo"  # and to what lifts words off what is behind them


def draw_bubbles(canvas: Canvas, at: Floats, radii: Floats, zorder: float) -> None:
    """Gas known by place and volume only: circles at (n, 2) of (n,) pixels, seen through everything."""
    from matplotlib.patches import Circle

    for place, radius in zip(at, radii, strict=True):
        spot = (float(place[0]), float(place[1]))
        canvas.axes.add_artist(
            Circle(
                spot,
                float(radius),
                facecolor=GAS_THIN,
                edgecolor=GAS_LINE,
                linewidth=points(2.6),
                alpha=0.75,
                zorder=zorder,
            )
        )


def draw_centre(canvas: Canvas, at: Floats, colour: str, radius: float, zorder: float = 30.0) -> None:
    """A circle with two of its quarters filled, as mechanics draws a centre of mass; hollow for a pale colour."""
    from matplotlib.patches import Circle, Wedge

    place, style = (float(at[0]), float(at[1])), canvas.style
    hollow = colour == style.buoyancy
    add = canvas.axes.add_artist
    add(Circle(place, radius + 2.5, facecolor=style.halo, edgecolor="none", alpha=0.9, zorder=zorder))
    add(Circle(place, radius, facecolor=style.paper if hollow else "#ffffff", edgecolor="none", zorder=zorder))
    for start in () if hollow else (0.0, 180.0):
        add(Wedge(place, radius, start, start + 90.0, facecolor=INK, edgecolor="none", zorder=zorder + 0.1))
    edge = style.ink if hollow else INK
    add(Circle(place, radius, facecolor="none", edgecolor=edge, linewidth=points(2.6), zorder=zorder + 0.2))
    if hollow:
        add(Circle(place, 0.22 * radius, facecolor=edge, edgecolor="none", zorder=zorder + 0.3))


def draw_force(
    canvas: Canvas, start: Floats, length: float, colour: str, zorder: float = 28.0, *, slim: bool = False
) -> Floats:
    """Upright arrow of ``length`` pixels (plus up) from ``start``; returns its tip (2,)."""
    from matplotlib.patches import Polygon

    way = np.sign(length) if length else 1.0
    shaft, head_width = (4.5, 12.0) if slim else (5.0, 15.0)
    head = min(22.0 if slim else 34.0, 0.6 * abs(length))
    x, y = float(start[0]), float(start[1])
    neck, tip = y + length - way * head, y + length
    outline = [(x - shaft, y), (x - shaft, neck), (x - head_width, neck), (x, tip)]
    outline += [(2 * x - px, py) for px, py in outline[-2::-1]]
    hollow = colour == canvas.style.buoyancy
    edge, width = (canvas.style.ink, 2.6) if hollow else (canvas.style.halo, 2.2)
    canvas.axes.add_artist(
        Polygon(
            outline, closed=True, facecolor=colour, edgecolor=edge, linewidth=points(width), zorder=zorder, gid=MARK
        )
    )
    return np.array([x, tip])


def draw_word(
    canvas: Canvas, at: tuple[float, float], text: str, *, colour: str | None = None, size: float = 24.0,
    across: str = "center", along: str = "center", bold: bool = False, zorder: float = 40.0, halo: bool = True,
) -> None:  # fmt: skip
    """Words in a halo of the ground's colour; ``size`` in reference pixels.

    The halo is an artist of its own, so that the words stay words where a file can hold them.
    """
    how: dict[str, Any] = {
        "fontsize": points(size), "ha": across, "va": along, "fontweight": "bold" if bold else "normal",
        "linespacing": 1.25 if "\n" in text else 1.0,
    }  # fmt: skip
    if halo:
        pale = canvas.style.halo
        canvas.axes.text(*at, text, **how, color=pale, zorder=zorder, gid=HALO, path_effects=halo_of(5.0, pale))
    canvas.axes.text(*at, text, **how, color=colour or canvas.style.ink, zorder=zorder + 0.1)


def draw_line(
    canvas: Canvas, ends: Floats, colour: str, width: float, zorder: float = 25.0, *,
    dashes: tuple[float, ...] | None = None, halo: bool = True,
) -> None:  # fmt: skip
    """A line through (n, 2) places [reference pixels] that no word may stand on."""
    how: dict[str, Any] = {} if dashes is None else {"dashes": dashes}
    if halo:
        how["path_effects"] = haloed(width + 2.5, canvas.style.halo, 0.6)
    canvas.axes.plot(
        ends[:, 0], ends[:, 1], color=colour, linewidth=points(width), zorder=zorder, gid=MARK,
        solid_capstyle="butt", **how,
    )  # fmt: skip


def draw_barb(
    canvas: Canvas, tip: Floats, way: Floats, colour: str, size: float = 20.0, zorder: float = 27.0
) -> None:
    """Arrow head at ``tip`` (2,) that points along the unit ``way`` (2,)."""
    from matplotlib.patches import Polygon

    aside = np.array([-way[1], way[0]])
    corners = [tip, tip - size * way + 0.42 * size * aside, tip - size * way - 0.42 * size * aside]
    canvas.axes.add_artist(Polygon(corners, closed=True, facecolor=colour, edgecolor="none", zorder=zorder, gid=MARK))


def draw_title(canvas: Canvas, title: str, down: float, left: float = 60.0) -> None:
    """The title of a chart, its capital set, ``down`` from the top; smaller where it would not fit."""
    words = title[:1].upper() + title[1:]
    size = size_for(words, canvas.width - 2.0 * left, 32.0, bold=True, zoom=canvas.zoom)
    canvas.axes.text(
        left, canvas.height - down, words, fontsize=points(size), fontweight="bold", color=canvas.style.ink,
        parse_math=False,
    )  # fmt: skip
