"""Marks laid over the diver: centres, force arrows, the pitch angle."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats
from sim.drawing.canvas import Canvas, haloed, points
from sim.drawing.free_space import Box
from sim.drawing.palette import ANGLE, GAS_LINE, GAS_THIN, INK, PAPER

ANGLE_SIZE = 27.0  # of the angle's label
OVERSHOOT = 34.0  # of the axis line beyond the arc


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
    """A circle with two of its quarters filled, as a centre of mass is drawn in mechanics."""
    from matplotlib.patches import Circle, Wedge

    place = (float(at[0]), float(at[1]))
    add = canvas.axes.add_artist
    add(Circle(place, radius + 2.5, facecolor=PAPER, edgecolor="none", alpha=0.9, zorder=zorder))
    add(Circle(place, radius, facecolor=PAPER, edgecolor="none", zorder=zorder))
    for start in (0.0, 180.0):
        add(Wedge(place, radius, start, start + 90.0, facecolor=colour, edgecolor="none", zorder=zorder + 0.1))
    add(Circle(place, radius, facecolor="none", edgecolor=colour, linewidth=points(2.6), zorder=zorder + 0.2))


def draw_force(canvas: Canvas, start: Floats, length: float, colour: str, zorder: float = 28.0) -> Floats:
    """Upright arrow of ``length`` pixels (plus up) from ``start``; returns its tip (2,)."""
    from matplotlib.patches import Polygon

    way = np.sign(length) if length else 1.0
    shaft, head_width = 5.0, 15.0
    head = min(34.0, 0.6 * abs(length))
    x, y = float(start[0]), float(start[1])
    neck, tip = y + length - way * head, y + length
    outline = [(x - shaft, y), (x - shaft, neck), (x - head_width, neck), (x, tip)]
    outline += [(2 * x - px, py) for px, py in outline[-2::-1]]
    canvas.axes.add_artist(
        Polygon(outline, closed=True, facecolor=colour, edgecolor=PAPER, linewidth=points(2.2), zorder=zorder)
    )
    return np.array([x, tip])


def draw_word(
    canvas: Canvas, at: tuple[float, float], text: str, *, colour: str = INK, size: float = 24.0,
    across: str = "center", along: str = "center", bold: bool = False, zorder: float = 40.0,
) -> None:  # fmt: skip
    """Words with a pale halo; ``size`` in reference pixels."""
    canvas.axes.text(
        *at, text, color=colour, fontsize=points(size), ha=across, va=along, zorder=zorder,
        fontweight="bold" if bold else "normal", path_effects=haloed(5.0), linespacing=1.25,
    )  # fmt: skip


def pitch_marks(vertex: Floats, pitch: float, radius: float) -> Floats:
    """Points (n, 2) along the arc and the axis line's head end, as ``draw_pitch`` draws them, to keep clear of."""
    turns = np.linspace(0.0, pitch, 100)
    arc = vertex + radius * np.stack([np.cos(turns), np.sin(turns)], axis=1)
    along = np.linspace(0.0, radius + OVERSHOOT, 100)[:, None]
    return np.concatenate([arc, vertex + along * [np.cos(pitch), np.sin(pitch)]])


def draw_pitch(canvas: Canvas, vertex: Floats, pitch: float, radius: float, tail: float, page: Box) -> Floats:
    """The body's long axis as a chain line, the arc from the horizon to it, and the angle in words.

    Returns points (n, 2) along the axis line, for labels to keep clear of.
    vertex : (2,) pixels;  pitch : [rad], head-up is plus;  radius : of the arc [pixels]
    tail : length of the axis line from the vertex towards the feet [pixels];  page : what the line keeps to
    """
    from matplotlib.patches import Arc

    way = np.array([np.cos(pitch), np.sin(pitch)])
    feet, head = vertex - tail * way, vertex + (radius + OVERSHOOT) * way
    ends = np.stack([_kept(vertex, feet, page), _kept(vertex, head, page)])
    canvas.axes.plot(
        ends[:, 0], ends[:, 1], color=ANGLE, linewidth=points(2.0), dashes=(14, 3, 3, 3), zorder=26,
        path_effects=haloed(4.0, opacity=0.6),
    )  # fmt: skip
    angle = float(np.degrees(pitch))
    low, high = sorted((0.0, angle))
    if high - low > 0.05:
        canvas.axes.add_artist(
            Arc(
                (float(vertex[0]), float(vertex[1])), 2 * radius, 2 * radius, theta1=low, theta2=high,
                edgecolor=ANGLE, linewidth=points(3.2), zorder=27,
            )
        )  # fmt: skip
        _draw_barb(canvas, vertex, pitch, radius)
    draw_word(
        canvas,
        pitch_label_at(vertex, pitch, radius),
        pitch_in_words(pitch),
        across="left",
        size=ANGLE_SIZE,
        bold=True,
    )
    share = np.linspace(0.0, 1.0, 100)[:, None]
    return np.asarray(ends[0] + share * (ends[1] - ends[0]))


def _kept(start: Floats, end: Floats, page: Box) -> Floats:
    """The last point of the way from ``start``, on the page, to ``end`` that is on the page."""
    step = end - start
    limits = np.where(step > 0.0, [page.right, page.top], [page.left, page.bottom]) - start
    shares = limits / np.where(step == 0.0, np.inf, step)
    return np.asarray(start + step * min(1.0, *shares[step != 0.0].tolist()))


def pitch_label_at(vertex: Floats, pitch: float, radius: float) -> tuple[float, float]:
    """Left middle of the angle's label [pixels]: beside the arc, or beyond the axis line where the arc is short."""
    if radius * abs(np.sin(pitch)) < 84.0:
        x, y = vertex + (radius - 20.0) * np.array([np.cos(pitch), np.sin(pitch)])
        return float(x), float(y) + (34.0 if pitch >= 0.0 else -34.0)
    middle = 0.5 * pitch
    x, y = vertex + (radius + 18.0) * np.array([np.cos(middle), np.sin(middle)])
    return float(x), float(y)


def _draw_barb(canvas: Canvas, vertex: Floats, pitch: float, radius: float) -> None:
    """Arrow head at the body's end of the arc, left out where the arc is too short to carry one."""
    from matplotlib.patches import Polygon

    length = min(20.0, 0.6 * radius * abs(pitch))
    if length < 6.0:
        return
    back = pitch - np.sign(pitch) * length / radius
    tip = vertex + radius * np.array([np.cos(pitch), np.sin(pitch)])
    ray = np.array([np.cos(back), np.sin(back)])
    barb = [tip, vertex + (radius + 0.42 * length) * ray, vertex + (radius - 0.42 * length) * ray]
    canvas.axes.add_artist(Polygon(barb, closed=True, facecolor=ANGLE, edgecolor="none", zorder=27))


def pitch_in_words(pitch: float) -> str:
    """As "17° head-down"; an attitude within half a tenth of a degree of level is "level"."""
    angle = float(np.degrees(pitch))
    if abs(angle) < 0.05:
        return "level"
    shown = f"{abs(angle):.1f}" if abs(angle) < 9.95 else f"{abs(angle):.0f}"
    return f"{shown}° {'head-up' if angle > 0 else 'head-down'}"


def moment_in_words(moment: float) -> str:
    """As "12.3 N m, turns head-down"; moments under 0.05 N m are "no moment to speak of"."""
    if abs(moment) < 0.05:
        return "under 0.05 N m, turns neither way"
    shown = f"{abs(moment):.1f}" if abs(moment) < 99.95 else f"{abs(moment):.0f}"
    return f"{shown} N m, turns {'head-up' if moment > 0 else 'head-down'}"
