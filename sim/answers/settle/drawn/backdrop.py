"""Water behind the diver: a gentle gradient, a grid in metres that fades out, the horizon."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sim.drawing.canvas import Canvas, SheetOnCanvas, points
from sim.drawing.free_space import Box
from sim.drawing.palette import GRID, SOFT_INK, WATER_BOTTOM, WATER_TOP, rgb
from sim.drawing.pixels import lay_pixels

SPACING = 0.25  # of the grid [m]
HORIZON_SIZE = 21.0  # of its name


def draw_water(canvas: Canvas) -> None:
    """Gradient over the whole sheet, lighter above."""
    lay_pixels(canvas, Box(0.0, 0.0, canvas.width, canvas.height), _ramp, 0.0)


def _ramp(height: int, width: int) -> NDArray[np.uint8]:
    share = np.linspace(0.0, 1.0, height)[:, None] ** 1.3
    ramp = (1.0 - share) * (*rgb(WATER_TOP), 1.0) + share * (*rgb(WATER_BOTTOM), 1.0)
    return np.broadcast_to(np.round(255.0 * ramp).astype(np.uint8)[:, None], (height, width, 4))


def draw_grid(canvas: Canvas, placement: SheetOnCanvas, reach: tuple[float, float]) -> None:
    """Squares of SPACING through the placement's origin, fading to nothing at ``reach`` pixels from it."""
    from matplotlib.collections import LineCollection

    step = SPACING * placement.scale
    pieces, strengths = [], []
    fine = 12
    for axis in (0, 1):
        count = int(reach[axis] / step)
        for k in range(-count, count + 1):
            along = np.linspace(-1.0, 1.0, 2 * fine + 1) * reach[1 - axis]
            line = np.empty((len(along), 2))
            line[:, axis] = k * step
            line[:, 1 - axis] = along
            middle = 0.5 * (line[1:] + line[:-1]) / np.asarray(reach)
            fade = np.clip(1.0 - (middle**2).sum(axis=1), 0.0, 1.0)
            pieces.append(np.stack([line[:-1], line[1:]], axis=1) + np.asarray(placement.origin))
            strengths.append(fade * (0.60 if k % 4 == 0 else 0.34))
    alpha = np.concatenate(strengths)
    colours = np.concatenate([np.tile(rgb(GRID), (len(alpha), 1)), alpha[:, None]], axis=1)
    shown = alpha > 0.01
    canvas.axes.add_collection(
        LineCollection(list(np.concatenate(pieces)[shown]), colors=colours[shown], linewidths=points(1.3), zorder=1),
        autolim=False,
    )


def draw_horizon(canvas: Canvas, left: float, right: float, name: Box) -> None:
    """Dashed level line from ``left`` to ``right`` along the lower edge of the name's box."""
    level = name.bottom
    canvas.axes.plot(
        [left, right], [level, level], color=SOFT_INK, linewidth=points(2.2), dashes=(7, 4), zorder=2,
        solid_capstyle="butt",
    )  # fmt: skip
    canvas.axes.text(name.left, level + 8, "horizon", color=SOFT_INK, fontsize=points(HORIZON_SIZE), zorder=2)
