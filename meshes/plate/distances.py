"""How much sheet is left between a plate's openings, its edge and its bends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.openings import Opening, opening_of
from meshes.plate.sheet import Bend


@dataclass(frozen=True, eq=False)
class Gap:
    """The narrowest sheet between two edges: how wide [m], and its two ends (2, 2) [m]."""

    width: float
    ends: Floats


@dataclass(frozen=True, eq=False)
class Openings:
    """A pattern's openings measured, and their edges as lines for finding distances.

    measures : of each, in the outline's order
    """

    outline: Outline
    measures: tuple[Opening, ...]
    edge: Any
    rings: tuple[Any, ...]

    def at(self, place: Floats, within: float) -> int | None:
        """Which opening holds a place (2,) [m], or comes within ``within`` of it; the nearest of several."""
        import shapely

        point = shapely.Point(place)
        away = [float(shapely.Polygon(ring).distance(point)) for ring in self.rings]
        nearest = int(np.argmin(away)) if away else -1
        return nearest if away and away[nearest] <= within else None

    def to_edge(self, number: int) -> Gap:
        """The sheet left between an opening and the plate's outer edge."""
        return _gap(self.rings[number], self.edge)

    def narrowest(self) -> Gap | None:
        """The narrowest sheet between any two openings; None where there are fewer than two."""
        import shapely

        if len(self.rings) < 2:
            return None
        tree = shapely.STRtree(self.rings)
        (one, other), away = tree.query_nearest(
            list(self.rings), exclusive=True, return_distance=True, all_matches=False
        )
        nearest = int(np.argmin(away))
        return _gap(self.rings[one[nearest]], self.rings[other[nearest]])

    def nearest_to_edge(self) -> Gap | None:
        """The narrowest sheet between any opening and the outer edge."""
        if not self.rings:
            return None
        away = [float(ring.distance(self.edge)) for ring in self.rings]
        return self.to_edge(int(np.argmin(away)))

    def to_bends(self, number: int, bends: Sequence[Bend]) -> float | None:
        """From an opening to where the nearest bend begins [m]; below 0 where it reaches into one, None without."""
        low, high = self.outline.holes[number][:, 1].min(), self.outline.holes[number][:, 1].max()
        away = [float(max(b.at - b.width / 2 - high, low - b.at - b.width / 2)) for b in bends]
        return min(away, default=None)


def openings_of(outline: Outline) -> Openings:
    """The openings of an outline."""
    import shapely

    rings = tuple(shapely.LinearRing(hole) for hole in outline.holes)
    return Openings(outline, tuple(map(opening_of, outline.holes)), shapely.LinearRing(outline.outer), rings)


def _gap(one: Any, other: Any) -> Gap:
    import shapely

    line = shapely.shortest_line(one, other)
    return Gap(float(line.length), np.asarray(line.coords, dtype=float))
