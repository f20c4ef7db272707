"""Triangles over a flat area with holes, as fine as a size field asks, with edges along given lines.

Delaunay refinement (Ruppert 1995, J. Algorithms 18, 548) in rounds over scipy's Delaunay triangulation: every round
splits lines that a point lies too near to, and puts points at the middles of circles around triangles that are too
large or too thin. Own code since kept meshers bind their users (triangle and meshpy: no commercial use; gmsh, dmsh,
optimesh: copyleft or a licence to buy), weigh far more than the rest (netgen), or know no sizes (earcut, manifold).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Ints

ROUNDS: Final = 60
MOST: Final = 9_000  # points: half a minute and half a gigabyte for a shell
THIN: Final = 1.35  # circumradius over shortest edge: no angle under 21.7 degrees, for which the method ends
SHORT: Final = (
    0.15  # of the wished size: edges shorter than that are let be, else two that meet sharply halve for ever
)
SMOOTHINGS: Final = 4

Size = Callable[[Floats], Floats]


@dataclass(frozen=True, eq=False)
class PlanarMesh:
    """points : (n, 2) [m];  triangles : (m, 3), anticlockwise."""

    points: Floats
    triangles: Ints


def planar_mesh(lines: Sequence[Floats], inside: Callable[[Floats], Any], size: Size) -> PlanarMesh:
    """Triangles over the area that ``inside`` says points (n, 2) lie in.

    lines : chains of points (k, 2) that bound or cross the area, closed ones with their first point again at the
    end; they meet in shared points alone, and every pair of neighbours becomes an edge or several
    size : [m] of edges at points (n, 2)
    Raises ValueError where lines meet so sharply that no triangles fit.
    """
    points, segments = _joined(lines)
    for _ in range(ROUNDS):
        triangles = _delaunay(points, inside)
        fresh, split = _wanted(points, triangles, segments, inside, size)
        if not len(fresh) and not split.any():
            break
        if len(points) > MOST:
            raise ValueError(
                f"more than {MOST} points are needed for a mesh: the plate is too large, or its outline has corners "
                "too sharp, gaps too narrow, or too many small holes; leave out what carries nothing"
            )
        points, segments = _halved(points, segments, split, fresh)
    fixed = np.unique(segments)
    for _ in range(SMOOTHINGS):
        moved = _smoothed(points, triangles, fixed)
        again = _delaunay(moved, inside)
        if _encroached(moved, segments, size).any():
            break
        points, triangles = moved, again
    used, number = np.unique(triangles, return_inverse=True)
    return PlanarMesh(points[used], number.reshape(-1, 3))


def _joined(lines: Sequence[Floats]) -> tuple[Floats, Ints]:
    """All points once, and segments (k, 2) between them."""
    points = np.concatenate(list(lines))
    starts = np.cumsum([0, *map(len, lines)])
    pairs = [np.stack([np.arange(a, b - 1), np.arange(a + 1, b)], axis=1) for a, b in pairwise(starts)]
    _, first, number = np.unique(np.round(points, 9), axis=0, return_index=True, return_inverse=True)
    segments = np.sort(number.reshape(-1)[np.concatenate(pairs)], axis=1)
    return points[first], np.unique(segments[segments[:, 0] != segments[:, 1]], axis=0)


def _delaunay(points: Floats, inside: Callable[[Floats], Any]) -> Ints:
    from scipy.spatial import Delaunay

    triangles = np.asarray(Delaunay(points).simplices, dtype=np.int64)
    a, b, c = (points[triangles[:, k]] for k in range(3))
    twice = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
    triangles[twice < 0.0] = triangles[twice < 0.0][:, ::-1]
    whole = np.abs(twice) > 1e-14
    return np.asarray(triangles[whole & inside((a + b + c) / 3)])


def _encroached(points: Floats, segments: Ints, size: Size) -> Any:
    """Which segments (bool) have a point within the circle over them, and are not too short for it to matter."""
    from scipy.spatial import cKDTree

    ends = points[segments]
    middle, radius = ends.mean(axis=1), np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) / 2
    near, _ = cKDTree(points).query(middle, k=1)
    return (near < radius * (1.0 - 1e-6)) & (2.0 * radius > SHORT * size(middle))


def _circles(points: Floats, triangles: Ints) -> tuple[Floats, Floats, Floats]:
    """Middles (m, 2) and radii of the circles around triangles, and their shortest edges."""
    a, b, c = (points[triangles[:, k]] for k in range(3))
    p, q = b - a, c - a
    twice = 2.0 * (p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0])
    pp, qq = (p**2).sum(axis=1), (q**2).sum(axis=1)
    off = np.stack([q[:, 1] * pp - p[:, 1] * qq, p[:, 0] * qq - q[:, 0] * pp], axis=1) / twice[:, None]
    shortest = np.sqrt(np.minimum(np.minimum(pp, qq), ((c - b) ** 2).sum(axis=1)))
    return a + off, np.linalg.norm(off, axis=1), shortest


def _wanted(
    points: Floats, triangles: Ints, segments: Ints, inside: Callable[[Floats], Any], size: Size
) -> tuple[Floats, Any]:
    """New points (k, 2), and which segments (bool) must be halved first."""
    from scipy.spatial import cKDTree

    split = _encroached(points, segments, size)
    if split.any():
        return np.zeros((0, 2)), split
    middle, radius, shortest = _circles(points, triangles)
    wish = size(points[triangles].mean(axis=1))
    # an equilateral triangle's circle has 0.577 of its edge
    large = radius > 0.75 * wish
    thin = (radius > THIN * shortest) & (shortest > 0.2 * wish)
    worst = np.flatnonzero(large | thin)
    worst = worst[np.argsort(-radius[worst] / wish[worst])]
    ends = points[segments]
    centre, half = ends.mean(axis=1), np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) / 2
    place = middle[worst]
    # middles too near to a segment halve that instead
    close = cKDTree(place).query_ball_point(centre, half * (1.0 - 1e-6)) if len(place) else []
    barred = np.zeros(len(worst), dtype=bool)
    split = np.zeros(len(segments), dtype=bool)
    for number, hits in enumerate(close):
        if hits:
            barred[hits] = True
            split[number] = bool(large[worst[hits]].any()) or half[number] > 0.25 * wish[worst[hits]].min()
    keep = ~barred & inside(place) if len(place) else barred
    return _apart(place[keep], 0.7 * np.minimum(wish, radius)[worst][keep]), split


def _apart(places: Floats, least: Floats) -> Floats:
    """Those of ``places``, first ones first, that have no earlier one nearer than ``least``."""
    from scipy.spatial import cKDTree

    if not len(places):
        return places
    taken, free = [], np.ones(len(places), dtype=bool)
    around = cKDTree(places).query_ball_point(places, least)
    for number, others in enumerate(around):
        if free[number]:
            taken.append(number)
            free[others] = False
    return places[taken]


def _halved(points: Floats, segments: Ints, split: Any, fresh: Floats) -> tuple[Floats, Ints]:
    cut = segments[split]
    number = len(points) + np.arange(len(cut))
    halves = np.concatenate([np.stack([cut[:, 0], number], axis=1), np.stack([number, cut[:, 1]], axis=1)])
    return np.concatenate([points, points[cut].mean(axis=1), fresh]), np.concatenate([segments[~split], halves])


def _smoothed(points: Floats, triangles: Ints, fixed: Ints) -> Floats:
    """Every free point moved to the mean of its neighbours."""
    count, total = np.zeros(len(points)), np.zeros_like(points)
    for a, b in ((0, 1), (1, 2), (2, 0), (1, 0), (2, 1), (0, 2)):
        np.add.at(count, triangles[:, a], 1.0)
        np.add.at(total, triangles[:, a], points[triangles[:, b]])
    moved = total / np.maximum(count, 1.0)[:, None]
    stays = count == 0.0
    stays[fixed] = True
    return np.where(stays[:, None], points, moved)
