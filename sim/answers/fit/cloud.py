"""Many points of one thing sorted by boxes within boxes, so that the one that matters is found by looking at few."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints

EDGES: Final = (0.048, 0.012, 0.003)  # m, of the boxes, each so many times as wide as the next:
IN_NEXT: Final = 4
BITS: Final = 2  # that number the next smaller ones in each direction
SLACKS: Final = tuple(edge * float(np.sqrt(0.75)) for edge in EDGES)  # m from a box's middle to its corners


@dataclass(frozen=True, eq=False)
class Cloud:
    """Points (n, 3) [m], sorted.

    middles : (m, 3) of the boxes of each size that hold any
    starts : (m + 1,) where what is in each begins: among the next smaller boxes, in the smallest among the points
    first : (m,) one of the points in each
    """

    points: Floats
    middles: tuple[Floats, ...]
    starts: tuple[Ints, ...]
    first: tuple[Ints, ...]


class Measure(Protocol):
    """What is least at one of the points. Points (m, 3) [m] in body axes, whichever way they are turned."""

    def value(self, points: Floats) -> Floats:
        """(m,) at points; inf where one does not count."""

    def bound(self, level: int, middles: Floats) -> Floats:
        """(m,) no more than at any point in boxes of a size, turned any way; inf where none there counts."""


def cloud_of(points: Floats) -> Cloud:
    """Points (n, 3) [m] sorted by boxes."""
    smallest = np.floor(points * (1.0 / EDGES[-1])).astype(np.int32)
    largest = smallest >> BITS * (len(EDGES) - 1)
    low, high = largest.min(axis=0, initial=0), largest.max(axis=0, initial=0)
    number = np.ravel_multi_index(tuple((largest - low).T), tuple(high - low + 1))
    for level in range(1, len(EDGES)):
        x, y, z = (smallest >> BITS * (len(EDGES) - 1 - level)).T & (IN_NEXT - 1)
        number = (number << 3 * BITS) | (x << 2 * BITS) | (y << BITS) | z
    order = np.argsort(number)
    number, smallest = number[order], smallest[order]
    first, middles = [], []
    for level, edge in enumerate(EDGES):
        up = BITS * (len(EDGES) - 1 - level)
        first.append(np.flatnonzero(np.diff(number >> 3 * up, prepend=-1)))
        middles.append(np.asarray(((smallest[first[-1]] >> up) + 0.5) * edge, dtype=float))
    inner = [*first[1:], np.arange(len(points))]
    starts = [np.append(np.searchsorted(i, f), len(i)) for f, i in zip(first, inner, strict=True)]
    return Cloud(points[order], tuple(middles), tuple(starts), tuple(first))


def least(cloud: Cloud, rotations: Floats, origins: Floats, measure: Measure, start: Floats | None = None) -> Floats:
    """Least value (n,) over all points as placed in each of n ways; inf where none counts.

    start : (n,) values that are reached already
    rotations : (n, 3, 3);  origins : (n, 3) [m], see ``Placement``
    Boxes that can hold nothing less than what was found are not opened, the larger ones first.
    """
    best = np.full(len(rotations), np.inf) if start is None else start
    return _least(cloud, rotations, origins, measure, best)


def none_below(cloud: Cloud, rotations: Floats, origins: Floats, measure: Measure, limit: float) -> NDArray[np.bool_]:
    """Whether (n,) the least value is ``limit`` or more in each of n ways: told sooner than how much it is."""
    found = _least(cloud, rotations, origins, measure, np.full(len(rotations), limit), whether=True)
    return np.asarray(found >= limit)


def _least(
    cloud: Cloud, rotations: Floats, origins: Floats, measure: Measure, start: Floats, *, whether: bool = False
) -> Floats:
    """Least values (n,), ``start`` (n,) being reached already.

    whether : a way is done with once anything less than its ``start`` is found
    """
    best = start.copy()
    ways, boxes = np.indices((len(best), len(cloud.middles[0]))).reshape(2, -1)
    for level, middles in enumerate(cloud.middles):
        bound = measure.bound(level, _placed(rotations, origins, ways, middles[boxes]))
        open_ = bound < best[ways]
        ways, boxes, bound = ways[open_], boxes[open_], bound[open_]
        some = cloud.points[cloud.first[level][boxes]]
        np.minimum.at(best, ways, measure.value(_placed(rotations, origins, ways, some)))
        open_ = bound <= best[ways]
        if whether:
            open_ &= best[ways] >= start[ways]
        ways, boxes = ways[open_], boxes[open_]
        count = np.diff(cloud.starts[level])[boxes]
        begin = np.repeat(cloud.starts[level][boxes] - np.cumsum(count) + count, count)
        ways, boxes = np.repeat(ways, count), begin + np.arange(len(begin))
    np.minimum.at(best, ways, measure.value(_placed(rotations, origins, ways, cloud.points[boxes])))
    return best


def _placed(rotations: Floats, origins: Floats, ways: Ints, points: Floats) -> Floats:
    """Points (m, 3), each placed in one of n ``ways`` (m,)."""
    turn = rotations[ways]
    return np.asarray(np.einsum("mij,mj->mi", turn, points) + origins[ways])
