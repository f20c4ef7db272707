"""What lies behind the diver: a gentle gradient, and squares of a quarter metre that fade out."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sim.drawing.canvas import Canvas, SheetOnCanvas, points
from sim.drawing.free_space import Box
from sim.drawing.palette import rgb
from sim.drawing.pixels import lay_pixels

SPACING = 0.25  # of the grid [m]


def draw_ground(canvas: Canvas) -> None:
    """The style's ground over the whole sheet, lighter above; nothing for a see-through one."""
    ground = canvas.style.ground
    if ground is None:
        return
    if ground[0] == ground[1]:
        canvas.figure.set_facecolor(ground[0])
        return

    def ramp(height: int, width: int) -> NDArray[np.uint8]:
        share = np.linspace(0.0, 1.0, height)[:, None] ** 1.3
        shade = (1.0 - share) * (*rgb(ground[0]), 1.0) + share * (*rgb(ground[1]), 1.0)
        return np.broadcast_to(np.round(255.0 * shade).astype(np.uint8)[:, None], (height, width, 4))

    lay_pixels(canvas, Box(0.0, 0.0, canvas.width, canvas.height), ramp, 0.0)


def draw_grid(canvas: Canvas, placement: SheetOnCanvas, room: Box) -> None:
    """Squares of SPACING through the placement's origin, fading to nothing at the edges of ``room``."""
    if canvas.style.grid is None:
        return
    from matplotlib.collections import LineCollection

    reach = (0.5 * (room.right - room.left), 0.5 * (room.top - room.bottom))
    middle_of = np.array([0.5 * (room.left + room.right), 0.5 * (room.bottom + room.top)])
    off = np.asarray(placement.origin) - middle_of
    step = SPACING * placement.scale
    pieces, strengths = [], []
    for axis in (0, 1):
        low, high = (int(np.ceil((s * reach[axis] - off[axis]) / step)) for s in (-1.0, 1.0))
        for k in range(low, high):
            along = np.linspace(-1.0, 1.0, 25) * reach[1 - axis]
            line = np.empty((len(along), 2))
            line[:, axis] = off[axis] + k * step
            line[:, 1 - axis] = along
            middle = 0.5 * (line[1:] + line[:-1]) / np.asarray(reach)
            fade = np.clip(1.0 - (middle**2).sum(axis=1), 0.0, 1.0)
            pieces.append(np.stack([line[:-1], line[1:]], axis=1) + middle_of)
            strengths.append(fade * (0.60 if k % 4 == 0 else 0.34))
    alpha = np.concatenate(strengths)
    colours = np.concatenate([np.tile(rgb(canvas.style.grid), (len(alpha), 1)), alpha[:, None]], axis=1)
    shown = alpha > 0.01
    canvas.axes.add_collection(
        LineCollection(list(np.concatenate(pieces)[shown]), colors=colours[shown], linewidths=points(1.3), zorder=1),
        autolim=False,
    )
