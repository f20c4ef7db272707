"""Where the diver is on the picture, and what stays in it from beginning to end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.film import words
from sim.answers.film.footage import Footage
from sim.answers.film.lettering import word
from sim.drawing.canvas import Canvas, SheetOnCanvas, fitted, points
from sim.drawing.free_space import Box
from sim.drawing.letters import size_for, wrapped_to
from sim.drawing.palette import GAS_LINE, GAS_THICK, GAS_THIN, SOFT_INK, WATER_BOTTOM, WATER_TOP, rgb
from sim.drawing.pixels import lay_pixels
from sim.drawing.views import SLIDE_RIGHT, SLIDE_UP
from sim.telling.words import thickness_words

PANEL: Final = 580.0  # reference pixels at the right, for the curves
HEAD: Final = 140.0  # at the top, for the title
FOOT: Final = 150.0  # at the bottom, for the caption
BIGGEST: Final = 560.0  # pixels a metre
BEYOND: Final = 0.06  # m from what reaches farthest ahead to the arc
AROUND: Final = 1.14  # of the arc's radius, that the marks of a turn take
MOST_TURN: Final = 0.7  # rad that the arrow of the greatest moment goes round
FULL: Final = 20.0  # N m, whose arrow is that long at least, so that small moments have small arrows
EDGE: Final = 48.0  # pixels at the sides


@dataclass(frozen=True, eq=False)
class Stage:
    """Scale and place of the diver, and the true pixels that are rendered.

    held : (3,) body point [m] that stays in place;  middle : of the rendered part (right, up) [m]
    box : its left, top, width and height in true pixels;  scale : true pixels a metre
    radius : of the arc of the pitch [m]
    """

    placement: SheetOnCanvas
    held: Floats
    middle: tuple[float, float]
    box: tuple[int, int, int, int]
    scale: float
    radius: float


def swing_of(moment: float, most: float) -> float:
    """Angle [rad] that the arrow of a moment [N m] goes round; ``most`` : the greatest of the film."""
    return MOST_TURN * moment / max(most, FULL)


def staged(canvas: Canvas, turned: Floats, swings: Floats, hull: Floats, held: Floats) -> Stage:
    """Scale and place for all that the diver passes through, the held point staying where it is.

    turned : (n, 3, 3) rotations from body to world;  swings : (n,) of the moment's arrow [rad]
    hull : (m, 3) body points that hold all that is drawn [m]
    """
    low, high = np.full(2, np.inf), np.full(2, -np.inf)
    around = hull - held
    radius = float(around[:, 0].max()) + BEYOND
    few = slice(None, None, max(len(turned) // 200, 1))
    for (x, y, z), swing in zip(turned[few], swings[few], strict=True):
        seen = around @ np.stack([x, z, -y]).T
        sheet = seen[:, :2] + seen[:, 2:] * [SLIDE_RIGHT, SLIDE_UP]
        angles = np.arctan2(z[0], x[0]) + np.linspace(0.0, swing, 5)
        arc = AROUND * radius * np.stack([np.cos(angles), np.sin(angles)])
        low, high = np.minimum(low, sheet.min(axis=0)), np.maximum(high, sheet.max(axis=0))
        low, high = np.minimum(low, arc.min(axis=1)), np.maximum(high, arc.max(axis=1))
    low, high = np.minimum(low, [0.0, 0.0]), np.maximum(high, [AROUND * radius, 0.0])
    room = (EDGE, FOOT, canvas.width - PANEL - 40.0, canvas.height - HEAD)
    placement = fitted(low, high, room, BIGGEST)
    zoom = canvas.zoom
    corners = placement.on_canvas(np.stack([low, high])) * zoom
    right, bottom = round(canvas.width * zoom), round(canvas.height * zoom)
    left, top = max(int(corners[0, 0]) - 8, 0), max(int(bottom - corners[1, 1]) - 8, 0)
    width, height = min(int(corners[1, 0]) + 8, right) - left, min(int(bottom - corners[0, 1]) + 8, bottom) - top
    centre = np.array([left + 0.5 * width, bottom - top - 0.5 * height])
    middle = (centre / zoom - placement.origin) / placement.scale
    return Stage(
        placement, held, (float(middle[0]), float(middle[1])), (left, top, width, height), placement.scale * zoom,
        radius,
    )  # fmt: skip


def draw_setting(canvas: Canvas, footage: Footage, stage: Stage, deepest: float, enlarged: float) -> None:
    """Water, horizon, title, caution and the colours of the gas; ``deepest`` [m] is 0 where there is none."""
    lay_pixels(canvas, Box(0.0, 0.0, canvas.width, canvas.height), _water, 0.0)
    level, right = stage.placement.origin[1], canvas.width - PANEL - 20.0
    canvas.axes.plot([EDGE, right], [level] * 2, color=SOFT_INK, linewidth=points(2.4), dashes=(7, 4), zorder=2)
    word(canvas, (EDGE, level + 20.0), words.horizon(), size=25, colour=SOFT_INK, zorder=2)
    room = canvas.width - 2.0 * EDGE
    size = size_for(footage.title, room, 38.0, bold=True, zoom=canvas.zoom)
    top = canvas.height
    word(canvas, (EDGE, top - 62.0), footage.title, size=size, along="baseline", bold=True)
    under = footage.under + (f"  ({footage.pace})" if footage.pace else "")
    size = size_for(under, room, 28.0, zoom=canvas.zoom)
    word(canvas, (EDGE, top - 108.0), under, size=size, along="baseline", colour=SOFT_INK)
    word(canvas, (EDGE, 24.0), words.caution(), size=24, colour=SOFT_INK)
    if deepest > 0.0:
        _draw_gas_scale(canvas, (EDGE, FOOT + 30.0), deepest, enlarged)


def _water(height: int, width: int) -> NDArray[np.uint8]:
    share = np.linspace(0.0, 1.0, height)[:, None] ** 1.3
    shade = (1.0 - share) * (*rgb(WATER_TOP), 1.0) + share * (*rgb(WATER_BOTTOM), 1.0)
    return np.broadcast_to(np.round(255.0 * shade).astype(np.uint8)[:, None], (height, width, 4))


def _draw_gas_scale(canvas: Canvas, corner: tuple[float, float], deepest: float, enlarged: float) -> None:
    """Ramp of the suit gas's colours from 0 to ``deepest`` [m], and how much thicker the gas is drawn."""
    from matplotlib.patches import Rectangle

    left, bottom = corner
    width, height = 230.0, 22.0
    ramp = np.linspace(0.0, 1.0, 128)[None, :, None]
    canvas.axes.imshow(
        (1.0 - ramp) * np.asarray(rgb(GAS_THIN)) + ramp * np.asarray(rgb(GAS_THICK)),
        extent=(left, left + width, bottom, bottom + height), aspect="auto", interpolation="bilinear", zorder=20,
    )  # fmt: skip
    canvas.axes.set_xlim(0.0, canvas.width)
    canvas.axes.set_ylim(0.0, canvas.height)
    canvas.axes.add_artist(
        Rectangle(corner, width, height, facecolor="none", edgecolor=GAS_LINE, linewidth=points(1.5), zorder=21)
    )
    for share, across in ((0.0, "left"), (0.5, "center"), (1.0, "right")):
        value = thickness_words(share * deepest, unit=share == 1.0)
        word(canvas, (left + share * width, bottom - 18.0), value, size=22, across=across)
    said = "\n".join(wrapped_to(words.gas_scale(enlarged), width + 40.0, 23.0))
    word(canvas, (left, bottom + height + 8.0), said, size=23, along="bottom")
