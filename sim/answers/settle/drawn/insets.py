"""The small drawings beside the diver: close-up of the two centres, gas colours, frame of the roll view."""

from __future__ import annotations

from typing import Any

import numpy as np

from meshes.mesh import Floats
from sim.drawing.canvas import Canvas, haloed, points
from sim.drawing.free_space import Box, word_box
from sim.drawing.marks import draw_centre, draw_word
from sim.drawing.palette import BUOYANCY, GAS_LINE, GAS_THICK, GAS_THIN, INK, PAPER, SOFT_INK, WEIGHT, rgb

LENS_RADIUS = 84.0
CLOSE_UP_WORDS = 21.0  # their size
ENLARGEMENTS = (2, 3, 5, 8, 10, 15, 20, 30, 50, 80, 100)


def enlargement_of(distance: float, scale: float) -> int:
    """How much to enlarge so that ``distance`` [m], at ``scale`` pixels a metre, fills two thirds of the lens."""
    wanted = 1.1 * LENS_RADIUS / max(distance * scale, 1e-9)
    return max((e for e in ENLARGEMENTS if e <= wanted), default=ENLARGEMENTS[0])


def draw_close_up(canvas: Canvas, middle: tuple[float, float], seen_at: Floats, apart: Floats, scale: float) -> None:
    """A lens that shows CM and CB apart.

    seen_at : (2,) pixels of the CM in the large drawing;  apart : (2,) from CM to CB on the sheet, right and up [m]
    """
    from matplotlib.patches import Circle

    axes, centre = canvas.axes, np.asarray(middle)
    power = enlargement_of(float(np.hypot(*apart)), scale)
    spread = apart * scale * power
    spread *= min(1.0, 1.25 * LENS_RADIUS / max(float(np.hypot(*spread)), 1e-9))
    away = (seen_at - centre) / max(float(np.hypot(*(seen_at - centre))), 1e-9)
    leader = np.stack([centre + away * LENS_RADIUS, seen_at - away * 16.0])
    line: dict[str, Any] = {"color": SOFT_INK, "linewidth": points(1.8)}
    axes.plot(leader[:, 0], leader[:, 1], zorder=25, path_effects=haloed(4.0, opacity=0.6), **line)
    axes.add_artist(
        Circle(middle, LENS_RADIUS, facecolor=PAPER, edgecolor=SOFT_INK, linewidth=points(2.6), alpha=0.94, zorder=31)
    )
    abreast = abs(spread[0]) > abs(spread[1])  # side by side: names go below, not between
    shift = np.array([0.0, 12.0]) if abreast else np.array([-26.0, 0.0])
    ends = np.stack([centre + shift - spread / 2, centre + shift + spread / 2])
    axes.plot(ends[:, 0], ends[:, 1], zorder=32, **line)
    for at, name, colour in zip(ends, ("CM", "CB"), (WEIGHT, BUOYANCY), strict=True):
        draw_centre(canvas, at, colour, 14.0, 33.0)
        place = (at[0], at[1] - 30.0) if abreast else (at[0] + 24.0, at[1])
        draw_word(canvas, place, name, colour=colour, across="center" if abreast else "left", size=24, bold=True)
    box = close_up_words_box(middle, seen_at, apart, scale)
    draw_word(canvas, (middle[0], 0.5 * (box.bottom + box.top)), close_up_words(apart, scale), size=CLOSE_UP_WORDS)


def close_up_words(apart: Floats, scale: float) -> str:
    """Enlargement and distances, as "×10: CB 11 mm above CM"."""
    return f"×{enlargement_of(float(np.hypot(*apart)), scale)}: {apart_in_words(apart)}"


def close_up_words_box(middle: tuple[float, float], seen_at: Floats, apart: Floats, scale: float) -> Box:
    """Where the words stand: above the lens or below, on the side away from the line that leads to it."""
    words = close_up_words(apart, scale)
    beyond = LENS_RADIUS + 8.0
    if seen_at[1] < middle[1]:
        return word_box((middle[0], middle[1] + beyond), words, CLOSE_UP_WORDS, along="bottom")
    return word_box((middle[0], middle[1] - beyond), words, CLOSE_UP_WORDS, along="top")


def apart_in_words(apart: Floats) -> str:
    """Where the CB is as seen from the CM, as "CB 11 mm above CM"; ``apart`` (2,) right and up [m]."""
    right, up = 1000.0 * float(apart[0]), 1000.0 * float(apart[1])
    across = f"{abs(right):.0f} mm {'right' if right > 0 else 'left'} of"
    upward = f"{abs(up):.0f} mm {'above' if up >= 0 else 'below'}"
    if abs(right) < 0.5:
        return f"CB {upward} CM"
    return f"CB {across} CM" if abs(up) < 0.5 else f"CB {upward}\nand {across} CM"


def draw_gas_scale(canvas: Canvas, corner: tuple[float, float], deepest: float, enlarged: float) -> Box:
    """Ramp of the suit gas colours from 0 to ``deepest`` [m], saying how much thicker the gas is drawn."""
    left, bottom = corner
    width, height = 230.0, 20.0
    share = np.linspace(0.0, 1.0, 128)[None, :, None]
    ramp = (1.0 - share) * np.asarray(rgb(GAS_THIN)) + share * np.asarray(rgb(GAS_THICK))
    canvas.axes.imshow(
        ramp, extent=(left, left + width, bottom, bottom + height), aspect="auto", interpolation="bilinear", zorder=20
    )
    canvas.axes.set_xlim(0.0, canvas.width)
    canvas.axes.set_ylim(0.0, canvas.height)
    from matplotlib.patches import Rectangle

    canvas.axes.add_artist(
        Rectangle(corner, width, height, facecolor="none", edgecolor=GAS_LINE, linewidth=points(1.5), zorder=21)
    )
    for share_at, across in ((0.0, "left"), (0.5, "center"), (1.0, "right")):
        value = f"{1000.0 * share_at * deepest:g}" + (" mm" if share_at == 1.0 else "")
        draw_word(
            canvas, (left + share_at * width, bottom - 6), value, size=20, across=across, along="top", colour=INK
        )  # fmt: skip
    said = "gas in the suit" + (f" (drawn {enlarged:g}× as thick)" if enlarged != 1.0 else "")
    draw_word(canvas, (left, bottom + height + 8), said, size=21, across="left", along="bottom")
    return Box(left, bottom - 34, left + 400, bottom + height + 40)


def draw_roll_frame(canvas: Canvas, box: Box, roll: float, axis_at: Floats, meaningful: bool) -> None:
    """Card behind the roll view, its horizon, the diver's upright and the angle in words.

    axis_at : (2,) pixels where the body's long axis pierces the card;  meaningful : False near the vertical
    """
    from matplotlib.patches import FancyBboxPatch

    axes = canvas.axes
    axes.add_artist(
        FancyBboxPatch(
            (box.left, box.bottom), box.right - box.left, box.top - box.bottom,
            boxstyle="round,pad=0,rounding_size=14", facecolor=PAPER, edgecolor=SOFT_INK, alpha=0.94,
            linewidth=points(1.6), zorder=3,
        )
    )  # fmt: skip
    axes.plot(
        [box.left + 14, box.right - 14],
        [axis_at[1]] * 2,
        color=SOFT_INK,
        linewidth=points(1.8),
        dashes=(7, 4),
        zorder=4,
    )
    draw_word(canvas, (box.left + 16, box.top - 24), "from the head end", size=20, across="left", colour=SOFT_INK)
    if meaningful:
        draw_word(canvas, (box.left + 16, box.bottom + 24), roll_in_words(roll), size=21, across="left", bold=True)
        if abs(roll) > np.radians(0.5):
            way = np.array([np.cos(roll), np.sin(roll)]) * 0.40 * (box.right - box.left)
            ends = np.stack([axis_at - way, axis_at + way])
            axes.plot(ends[:, 0], ends[:, 1], color=INK, linewidth=points(2.0), dashes=(14, 3, 3, 3), zorder=26)
    else:
        draw_word(canvas, (box.left + 16, box.bottom + 24), "upright: no roll", size=21, across="left", bold=True)


def roll_in_words(roll: float) -> str:
    """As "roll 12°, left side up"; "no roll" within half a tenth of a degree, "on the back" beyond 135 degrees, and
    how far off it beyond half a degree."""
    angle = float(np.degrees(roll))
    if abs(angle) < 0.05:
        return "no roll"
    shown = f"{abs(angle):.1f}" if abs(angle) < 9.95 else f"{abs(angle):.0f}"
    if abs(angle) > 179.5:
        return "on the back"
    if abs(angle) > 135.0:
        return f"on the back, {180.0 - abs(angle):.0f}° off it"
    return f"roll {shown}°, {'left' if angle > 0 else 'right'} side up"
