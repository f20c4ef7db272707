"""Ways of hoses and cords laid on the body: where one would run inside, it is pushed out and evened out again."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.memoized import memoized_on_body
from meshes.mesh import Floats
from meshes.sweep import smooth_path
from sim.person.posed_body import PosedBody
from sim.person.trunk_skin import point_normals

STEP: Final = 0.03  # m between the points of a way that are pushed
Skin = tuple[Floats, Floats, Floats]  # points (n, 3) of a skin, unit normals (n, 3), squares (n,) of the points
THINNED: Final = 3  # of the skin's points one is looked at
BLUR: Final = 0.013  # m over which these, about as far apart, count together
FARTHEST: Final = 2.0 * 8.0 * BLUR**2  # m^2 of squared distance beyond the least: weights below exp(-8) are left out
ROUNDS: Final = 4  # of pushing out and evening out
FOOTMOST: Final = -0.15  # m from the hips: no hose or cord comes further down


def laid_on_body(way: ArrayLike, body: PosedBody, off: float) -> Floats:
    """Points (k, 3) [m] of a smooth curve through ``way`` (n, 3), kept ``off`` [m] from the skin; both ends stay."""
    path, skin = smooth_path(way, STEP), _upper_skin(body, THINNED)
    for _ in range(ROUNDS):
        path[1:-1] = _pushed_out(path[1:-1], skin, off)
        path[1:-1] += 0.25 * (path[:-2] - 2.0 * path[1:-1] + path[2:])
    path[1:-1] = _pushed_out(path[1:-1], skin, off)
    return path


def onto_skin(points: Floats, body: PosedBody, off: float) -> Floats:
    """Shift (3,) [m] that brings the one of a stiff thing's points (n, 3) that lies deepest ``off`` over the skin."""
    height, normal = _over_skin(points, _whole_skin(body))
    deepest = int(height.argmin())
    return np.asarray((off - height[deepest]) * normal[deepest])


def _pushed_out(points: Floats, skin: Skin, off: float) -> Floats:
    """Points (n, 3), those less than ``off`` over the skin put there."""
    height, normal = _over_skin(points, skin)
    return np.asarray(points + np.clip(off - height, 0.0, None)[:, None] * normal)


def _over_skin(points: Floats, of: Skin) -> tuple[Floats, Floats]:
    """Height (n,) of points over the skin nearest to them, minus inside, and its normal (n, 3).

    Means over the nearest skin, so that both change smoothly as a body grows.
    """
    skin, normals, squares = of
    square = 2.0 * points @ skin.T
    np.subtract(squares, square, out=square)  # of the distance, but for what is the same for a point
    least = square.min(axis=1)
    pairs = np.flatnonzero(square < least[:, None] + FARTHEST)  # many times quicker than ``nonzero`` of two axes
    point, near = np.divmod(pairs, len(skin))
    ends = np.searchsorted(point, np.arange(len(points)))
    weight = np.exp((least[point] - square.ravel()[pairs]) / (2.0 * BLUR**2))[:, None]
    total = np.add.reduceat(weight, ends)
    normal = np.add.reduceat(weight * normals[near], ends)
    normal /= np.linalg.norm(normal, axis=1, keepdims=True)
    return ((points - np.add.reduceat(weight * skin[near], ends) / total) * normal).sum(axis=1), normal


@memoized_on_body
def _upper_skin(body: PosedBody, thinned: int) -> Skin:
    """One in ``thinned`` of the points of the skin above the knees."""
    points, normals = (np.ascontiguousarray(of_all[::thinned]) for of_all in _upper_points(body))
    return points, normals, (points * points).sum(axis=1)


@memoized_on_body
def _upper_points(body: PosedBody) -> tuple[Floats, Floats]:
    """All of them, and their normals."""
    points, normals, *_ = _whole_skin(body)
    kept = points[:, 0] > FOOTMOST
    return points[kept], normals[kept]


@memoized_on_body
def _whole_skin(body: PosedBody) -> Skin:
    points = body.drawing.vertices
    return points, point_normals(points, body.drawing.faces), (points * points).sum(axis=1)
