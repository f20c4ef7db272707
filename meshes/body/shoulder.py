"""The skin between the armhole of the trunk and the arm: where it starts, how it follows a raised arm."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body.bend import X, Y
from meshes.body.curves import smooth_step
from meshes.body.grid import Grid
from meshes.body.skeleton import Skeleton
from meshes.mesh import Floats, Ints

OUTWARD: Final = 0.9  # how much the skin heads sideways (arm raised: also along it) at the armhole, by eye
# Length of the curves' end tangents / distance between the ends: arm hanging, so that the survey's deltoid breadth
# is met, and arm overhead (by eye)
PULL_HANGING: Final = (1.50, 1.35)
PULL_RAISED: Final = (0.75, 0.85)


@lru_cache(maxsize=4)
def round_hole(grid: Grid) -> tuple[Floats, Floats]:
    """Row and column (rows, half + 1) of the trunk grid's points, moved so that the square armhole becomes round.

    Within the hole and near it every square ring about its middle is drawn in to a circle; farther off it fades.
    """
    (i0, i1), (j0, j1) = grid.hole_rows, grid.hole_columns
    row, column = np.meshgrid(np.arange(grid.rows), np.arange(grid.half + 1), indexing="ij")
    u, v = (2.0 * row - i0 - i1) / (i1 - i0), (2.0 * column - j0 - j1) / (j1 - j0)
    square, circle = np.maximum(np.abs(u), np.abs(v)), np.maximum(np.hypot(u, v), 1e-9)
    fade = 1.0 - smooth_step((square - 1.0) / 1.2)
    factor = 1.0 + fade * (1.08 * square / circle - 1.0)
    return 0.5 * (i0 + i1 + u * factor * (i1 - i0)), 0.5 * (j0 + j1 + v * factor * (j1 - j0))


def armhole(trunk: Floats, grid: Grid) -> tuple[Floats, Floats]:
    """The loop (12 q, 3) of trunk points round the armhole and the skin's direction (12 q, 3) into it.

    From the lower front corner along the bottom, up the back, over the top and down the front.
    """
    row, column, outer_row, outer_column = _hole(grid)
    loop = trunk[row, column]
    inward = loop - trunk[outer_row, outer_column]
    return loop, inward / np.linalg.norm(inward, axis=-1, keepdims=True)


@lru_cache(maxsize=4)
def _hole(grid: Grid) -> tuple[Ints, Ints, Ints, Ints]:
    """Row and column of each point of the armhole, and of its neighbour outside."""
    (i0, i1), (j0, j1) = grid.hole_rows, grid.hole_columns
    row = np.concatenate([np.full(j1 - j0, i0), np.arange(i0, i1), np.full(j1 - j0, i1), np.arange(i1, i0, -1)])
    column = np.concatenate([np.arange(j0, j1), np.full(i1 - i0, j1), np.arange(j1, j0, -1), np.full(i1 - i0, j0)])
    return row, column, row - (row == i0) + (row == i1), column - (column == j0) + (column == j1)


def shoulder_rings(loop: Floats, inward: Floats, free: Floats, along: Floats, grid: Grid) -> Floats:
    """Rings (3 q - 1, 12 q, 3) from the armhole to the first ring that moves with the arm alone.

    Each point runs on a cubic that leaves the trunk along its skin and joins the arm along its
    direction ``along`` (3,), so that both ends are smooth in every position of the arm.
    """
    raised = 0.5 * (1.0 + float(along[0]))
    leave, join = (a + raised * (b - a) for a, b in zip(PULL_HANGING, PULL_RAISED, strict=True))
    side = Y + raised * along
    start = inward + OUTWARD * side / np.linalg.norm(side)
    start /= np.linalg.norm(start, axis=-1, keepdims=True)
    chord = np.linalg.norm(free - loop, axis=-1, keepdims=True)
    n = 3 * grid.q
    t = (np.arange(1, n) / n)[:, None, None]
    return np.asarray(
        (1.0 + 2.0 * t) * (1.0 - t) ** 2 * loop
        + t * (1.0 - t) ** 2 * leave * chord * start
        + t**2 * (3.0 - 2.0 * t) * free
        + t**2 * (t - 1.0) * join * chord * along
    )


def shrugged(trunk: Floats, skeleton: Skeleton, rise: float) -> Floats:
    """Trunk points (rows, half + 1, 3) with the shoulder drawn headward by ``rise`` [m]; neck and flank stay."""
    if rise == 0.0:
        return trunk
    h, out = skeleton.heights, float(skeleton.joints["shoulder"][1])
    side = smooth_step((trunk[..., 1] / out - 0.25) / 0.6)
    x = trunk[..., 0]
    above = smooth_step((x - h["xiphoid"] + 0.03) / (h["acromion"] - h["xiphoid"] - 0.02))
    below = smooth_step((h["chin"] - x) / (h["chin"] - h["acromion"] - 0.02))
    return np.asarray(trunk + (rise * side * above * below)[..., None] * X)
