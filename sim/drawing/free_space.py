"""Finding a place for a label where it hides nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats

ROWS: Final = 1 << 24  # more rows of cells than any page has


@dataclass(frozen=True)
class Box:
    """A rectangle in reference pixels."""

    left: float
    bottom: float
    right: float
    top: float

    def overlaps(self, other: Box) -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def joined(self, other: Box) -> Box:
        """The least box about both."""
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def holds(self, points: Floats) -> int:
        """How many of (n, 2) points lie inside."""
        inside = (points > (self.left, self.bottom)) & (points < (self.right, self.top))
        return int(inside.all(axis=1).sum())

    def outside(self, other: Box) -> float:
        """By how many pixels, all sides added, this box sticks out of the other."""
        return (
            max(other.left - self.left, 0.0)
            + max(other.bottom - self.bottom, 0.0)
            + max(self.right - other.right, 0.0)
            + max(self.top - other.top, 0.0)
        )


def around(middle: tuple[float, float], width: float, height: float) -> Box:
    """Box of a size about its middle."""
    x, y = middle
    return Box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)


def clearest(candidates: Sequence[Box], points: Floats, taken: Sequence[Box], page: Box) -> int:
    """Number of the candidate that hides least: other labels weigh most, then leaving the page, then the drawing.

    points : (n, 2) of what is drawn. The first of equals wins, so candidates come in the order of preference.
    """
    total = max(len(points), 1)

    def cost(box: Box) -> float:
        clashes = sum(box.overlaps(other) for other in taken)
        return 10.0 * clashes + 5.0 * (box.outside(page) > 0.0) + box.holds(points) / total

    best, least = 0, np.inf
    for number, box in enumerate(candidates):
        costs = round(cost(box), 6)
        if costs < least:
            best, least = number, costs
        if least == 0.0:
            break
    return best


def spread_over(points: Floats, faces: NDArray[np.int64], spacing: float) -> Floats:
    """Points (n, 2) over triangles, nowhere much further apart than ``spacing``, to test boxes against.

    points : (k, 2) corners of the triangles;  faces : (m, 3) their numbers
    """
    a, b, c = (points[faces[:, k]] for k in range(3))
    longest = np.sqrt(np.maximum(np.maximum(_square(a - b), _square(b - c)), _square(c - a)))
    large = longest > spacing
    parts = np.minimum(np.ceil(longest[large] / spacing), 40.0).astype(int)
    corners = np.stack([a[large], b[large], c[large]], axis=1)
    found = [points]
    for count in np.unique(parts):
        steps = np.arange(count + 1) / count
        one, other = (grid.ravel() for grid in np.meshgrid(steps, steps))
        inside = one + other <= 1.0 + 1e-9
        weights = np.stack([1.0 - one - other, one, other], axis=1)[inside]
        found.append(np.einsum("wk,mkd->mwd", weights, corners[parts == count]).reshape(-1, 2))
    cell = 0.25 * spacing  # points that share a cell of this size count once
    column, row = np.round(np.concatenate(found) / cell).astype(np.int64).T
    kept = np.unique(column * ROWS + row)
    row = (kept + ROWS // 2) % ROWS - ROWS // 2
    return np.stack([(kept - row) // ROWS, row], axis=1) * cell


def _square(steps: Floats) -> Floats:
    """(n,) squared lengths of (n, 2)."""
    return np.asarray(steps[:, 0] ** 2 + steps[:, 1] ** 2)
