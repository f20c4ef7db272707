"""A strap pulled tight: the shortest way round an obstacle in a plane."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats


def taut_path(obstacle: ArrayLike, start: ArrayLike, end: ArrayLike) -> Floats:
    """Shortest path (n, 2) from ``start`` to ``end`` that passes an obstacle's points (k, 2) on its left hand.

    The left hand is that of somebody who looks from start to end. Only points on that side of the straight line are
    in the way; the path is the convex hull of these and the two ends. Straight where nothing is in the way.
    """
    a, b, points = (np.asarray(p, dtype=float) for p in (start, end, obstacle))
    if not (np.isfinite(a).all() and np.isfinite(b).all() and np.isfinite(points).all()):
        raise ValueError("a strap's ends and what it lies on must be finite")
    along = b - a
    length = float(np.hypot(*along))
    if not length > 0.0:
        raise ValueError("a strap needs two different ends")
    t = along / length
    local = (points - a) @ np.array([[t[0], -t[1]], [t[1], t[0]]])
    local = np.vstack([[0.0, 0.0], local[local[:, 1] > 0.0], [length, 0.0]])
    chain = _upper_hull(local)
    return np.asarray(a + chain @ np.array([[t[0], t[1]], [-t[1], t[0]]]))


def _upper_hull(points: Floats) -> Floats:
    """Hull of points (n, 2), y >= 0, from the first to the last of them, which lie on y = 0.

    Scanned by angle from the first point, so that points beyond either end count too.
    """
    first, last = points[0], points[-1]
    inner = points[1:-1]
    order = np.lexsort((np.hypot(*inner.T), -np.arctan2(inner[:, 1], inner[:, 0])))
    chain: list[list[float]] = [first.tolist()]
    for p in [*inner[order].tolist(), last.tolist()]:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], p) >= 0.0:
            chain.pop()
        chain.append(p)
    return np.array(chain)


def _turn(a: list[float], b: list[float], c: list[float]) -> float:
    """Plus when a-b-c turns left."""
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
