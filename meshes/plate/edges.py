"""Distances on a drawn plate as people state them and are told them: from its top edge and from its middle line.

The top edge is the plate's highest point, the middle line lies halfway between its outermost points, both with the
plate set straight by its bolts. On a flat drawing distances run along the sheet, on a solid as seen from behind.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats

Source = Literal["stated", "found", "assumed"]
NOTHING: Final = 5e-5  # m, below the shown tenth of a millimetre


@dataclass(frozen=True)
class Edges:
    """Extent of an outline whose x points to the head and y to the diver's left [m].

    top, middle : x of the top edge, y of the middle line;  length, width : from edge to edge
    """

    top: float
    middle: float
    length: float
    width: float

    def at(self, down: float, across: float = 0.0) -> Floats:
        """Point (2,) that lies ``down`` from the top edge and ``across`` from the middle line, plus to the left."""
        return np.array([self.top - down, self.middle + across])

    def told(self, points: ArrayLike, source: Source) -> Told:
        """Points (2,) or (n, 2) by their distances."""
        x, y = np.atleast_2d(np.asarray(points, dtype=float)).T
        return Told(tuple(map(float, self.top - x)), tuple(map(float, y - self.middle)), source)


@dataclass(frozen=True)
class Told:
    """Where one thing or a pair is [m]: from the top edge, and from the middle line, plus to the diver's left."""

    down: tuple[float, ...]
    across: tuple[float, ...]
    source: Source

    @property
    def words(self) -> str:
        """As "50.0 mm from the top edge, 131.5 mm to either side of the middle line"."""
        downs = list(dict.fromkeys(f"{1e3 * d:.1f}" for d in self.down))
        return f"{' and '.join(downs)} mm from the top edge, {self._across()}"

    def _across(self) -> str:
        if max(map(abs, self.across)) < NOTHING:
            return "on the middle line"
        if len(self.across) == 2 and abs(sum(self.across)) < 2.0 * NOTHING:
            return f"{1e3 * abs(self.across[0]):.1f} mm to either side of the middle line"
        sides = [f"{1e3 * abs(a):.1f} mm to the {'left' if a > 0.0 else 'right'}" for a in self.across]
        return f"{' and '.join(dict.fromkeys(sides))} of the middle line"


def edges_of(outline: ArrayLike) -> Edges:
    """Edges of an outline's points (n, 2)."""
    points = np.asarray(outline, dtype=float)
    low, high = points.min(axis=0), points.max(axis=0)
    length, width = high - low
    return Edges(float(high[0]), float(low[1] + high[1]) / 2, float(length), float(width))
