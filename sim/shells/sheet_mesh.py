"""The triangles of a flat sheet with holes: edges along every fold, finer where an edge curves or metal is narrow."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final, Literal

import numpy as np

from meshes.mesh import Floats
from meshes.outline import Outline
from sim.shells.edge_curve import curvature_radius, smooth_edge, spaced
from sim.shells.planar_mesh import PlanarMesh, planar_mesh

GRADING: Final = 0.25  # how much an edge may grow for each of its lengths further off
FINEST: Final = 5e-4  # m


@dataclass(frozen=True, eq=False)
class Fineness:
    """How long edges may be [m].

    widest : anywhere;  of_radius : share of the radius of an edge that curves
    of_gap : share of the distance between two edges, or an edge and itself
    spots : (k, 2) places that ask for ``at_spots`` (k,), or longer edges further off
    """

    widest: float
    of_radius: float = 0.5
    of_gap: float = 0.5
    spots: Floats | None = None
    at_spots: Floats | None = None


@dataclass(frozen=True)
class Cut:
    """A straight line that edges are to lie along: where coordinate ``axis`` is ``at``, from ``low`` to ``high`` [m]
    of the other."""

    axis: Literal[0, 1]
    at: float
    low: float = -np.inf
    high: float = np.inf

    def point(self, along: float) -> tuple[float, float]:
        """On it."""
        return (self.at, along) if self.axis == 0 else (along, self.at)

    def meets(self, other: Cut) -> bool:
        """Whether one that runs across it crosses or touches it."""
        return self.axis != other.axis and self.low <= other.at <= self.high and other.low <= self.at <= other.high


def sheet_mesh(
    outline: Outline, folds: Sequence[float], fineness: Fineness, borders: Sequence[Cut] = ()
) -> PlanarMesh:
    """Triangles over a flat pattern [m] whose ``folds`` run along y = const; raises ValueError where none fit.

    borders : further lines to have edges along, no two on one line
    """
    import shapely

    edges = [smooth_edge(ring) for ring in (outline.outer, *outline.holes)]
    area = shapely.Polygon(edges[0][0], [ring for ring, _ in edges[1:]])
    if not area.is_valid:  # an arc put back may touch its neighbour where the chord did not
        edges = [(ring, np.ones(len(ring), dtype=bool)) for ring in (outline.outer, *outline.holes)]
        area = shapely.Polygon(edges[0][0], [ring for ring, _ in edges[1:]])
    shapely.prepare(area)

    def inside(points: Floats) -> Any:
        return shapely.contains_xy(area, points[:, 0], points[:, 1])

    size = _size([ring for ring, _ in edges], fineness)
    cuts = [*(Cut(1, y) for y in folds), *borders]
    crossed = [_with_crossings(ring, corner, cuts) for ring, corner in edges]
    lines = [line for ring, fixed in crossed for line in _chains(ring, fixed, size)]
    for one in cuts:
        places = [ring[np.abs(ring[:, one.axis] - one.at) < 1e-12, 1 - one.axis] for ring, _ in crossed]
        along = np.concatenate([*places, [end for end in (one.low, one.high) if np.isfinite(end)]])
        along = along[(along >= one.low) & (along <= one.high)]
        for a, b in pairwise(np.unique([*along, *(other.at for other in cuts if one.meets(other))])):
            ends = np.array([one.point(a), one.point(b)])
            if b - a > 1e-9 and inside(ends.mean(axis=0)[None])[0]:
                lines.append(spaced(ends, size))
    return planar_mesh(lines, inside, size)


def _size(rings: Sequence[Floats], fineness: Fineness) -> Callable[[Floats], Floats]:
    """The size field: what each place of an edge asks for, growing away from there."""
    from scipy.spatial import cKDTree

    places, wishes, filled = [], [], [_filled(ring) for ring in rings]
    for number, ring in enumerate(rings):
        wish = np.minimum(fineness.widest, fineness.of_radius * curvature_radius(ring))
        others = filled[:number] + filled[number + 1 :]
        if others:
            gap, _ = cKDTree(np.concatenate(others)).query(ring)
            wish = np.minimum(wish, fineness.of_gap * gap)
        places.append(ring)
        wishes.append(wish)
    if fineness.spots is not None and fineness.at_spots is not None:
        places.append(fineness.spots)
        wishes.append(fineness.at_spots)
    place, wish = np.concatenate(places), np.maximum(np.concatenate(wishes), FINEST)
    steps = np.round(2.0 * np.log2(fineness.widest / wish)).astype(int)
    trees = [(wish[steps == k].min(), cKDTree(place[steps == k])) for k in np.unique(steps) if k > 0]

    def size(points: Floats) -> Floats:
        found = np.full(len(points), fineness.widest)
        for least, tree in trees:
            away, _ = tree.query(points, distance_upper_bound=fineness.widest / GRADING)
            found = np.minimum(found, least + GRADING * np.minimum(away, 1e3))
        return found

    return size


def _filled(ring: Floats) -> Floats:
    """Points along a closed ring no further than 2 mm apart, its own among them."""
    ahead = np.roll(ring, -1, axis=0)
    count = np.maximum(1, np.ceil(np.linalg.norm(ahead - ring, axis=1) / 2e-3).astype(int))
    number = np.repeat(np.arange(len(ring)), count)
    share = np.concatenate([np.arange(n) / n for n in count])[:, None]
    return np.asarray(ring[number] + share * (ahead - ring)[number])


def _with_crossings(ring: Floats, fixed: Any, cuts: Sequence[Cut]) -> tuple[Floats, Any]:
    """The ring with a fixed point wherever it crosses a cut."""
    for cut in cuts:
        ring = ring.copy()
        k = cut.axis
        within = (ring[:, 1 - k] >= cut.low) & (ring[:, 1 - k] <= cut.high)
        ring[within & (np.abs(ring[:, k] - cut.at) < 1e-7), k] = cut.at
        fixed = fixed | (within & (ring[:, k] == cut.at))
        ahead = np.roll(ring, -1, axis=0)
        over = np.flatnonzero((ring[:, k] - cut.at) * (ahead[:, k] - cut.at) < 0.0)
        share = ((cut.at - ring[over, k]) / (ahead[over, k] - ring[over, k]))[:, None]
        points = ring[over] + share * (ahead - ring)[over]
        points[:, k] = cut.at
        own = (points[:, 1 - k] >= cut.low) & (points[:, 1 - k] <= cut.high)
        ring = np.insert(ring, over[own] + 1, points[own], axis=0)
        fixed = np.insert(fixed, over[own] + 1, True)
    return ring, fixed


def _chains(ring: Floats, fixed: Any, size: Callable[[Floats], Floats]) -> list[Floats]:
    """The ring in pieces between its fixed points, spaced anew; in three where it has none."""
    marks = np.flatnonzero(fixed)
    if len(marks) < 2:
        marks = (np.arange(3) * len(ring)) // 3 + (marks[0] if len(marks) else 0)
    turned = np.roll(ring, -marks[0], axis=0)
    marks = np.append(marks - marks[0], len(ring))
    closed = np.concatenate([turned, turned[:1]])
    return [spaced(closed[a : b + 1], size) for a, b in pairwise(marks)]
