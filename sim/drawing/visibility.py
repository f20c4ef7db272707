"""Which triangle is seen in each pixel, by a depth buffer in plain numpy: needs no graphics library."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints

NOTHING: Final = -1
BATCH: Final = 2_000_000  # pixels tested at a time, to bound the memory


@dataclass(frozen=True, eq=False)
class Raster:
    """The nearest triangle in each pixel, first row on top.

    owner : (h, w) number of the triangle, NOTHING where there is none
    weights : (h, w, 3) shares of its three corners;  nearness : (h, w) towards the viewer [m], -inf where none
    """

    owner: Ints
    weights: Floats
    nearness: Floats


def rastered(corners: Floats, shape: tuple[int, int]) -> Raster:
    """Raster of triangles (m, 3, 3): pixel right, pixel down, metres towards the viewer; ``shape`` (h, w).

    Triangles whose corners run clockwise as seen are the far sides of closed things and are left out.
    """
    height, width = shape
    nearness = np.full(height * width, -np.inf)
    owner = np.full(height * width, NOTHING, dtype=np.int64)
    low = np.floor(corners[:, :, :2].min(axis=1) - 0.5).astype(int) + 1
    high = np.floor(corners[:, :, :2].max(axis=1) - 0.5).astype(int)
    low, high = np.maximum(low, 0), np.minimum(high, [width - 1, height - 1])
    span = (high - low + 1).max(axis=1)
    possible = (high >= low).all(axis=1) & (_doubled_area(corners) < 0.0)
    size = 1
    while possible.any():
        chosen = np.flatnonzero(possible & (span <= size))
        possible[chosen] = False
        for part in np.array_split(chosen, max(1, int(len(chosen) * size * size / BATCH) + 1)):
            if len(part):
                _stamp(corners, part, low, high, size, width, nearness, owner)
        size *= 2
    weights = _weights(corners, owner, width)
    return Raster(owner.reshape(shape), weights.reshape(*shape, 3), nearness.reshape(shape))


def _doubled_area(corners: Floats) -> Floats:
    """Twice the area (m,) [pixels^2], minus where the corners run anticlockwise as seen (down counts as plus)."""
    a, b = corners[:, 1, :2] - corners[:, 0, :2], corners[:, 2, :2] - corners[:, 0, :2]
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _stamp(
    corners: Floats, part: Ints, low: Ints, high: Ints, size: int, width: int, nearness: Floats, owner: Ints
) -> None:  # fmt: skip
    """Enter the triangles ``part``, none more than ``size`` pixels across, where they are nearest so far."""
    step = np.arange(size)
    x = low[part, 0][:, None, None] + step[None, None, :]
    y = low[part, 1][:, None, None] + step[None, :, None]
    shares = _shares(corners[part][:, None, None], x + 0.5, y + 0.5)
    inside = (x <= high[part, 0][:, None, None]) & (y <= high[part, 1][:, None, None])
    for share in shares:
        inside &= share >= 0.0
    depth = sum(s * corners[part, k, 2][:, None, None] for k, s in enumerate(shares))
    which, row, column = np.nonzero(inside)
    pixel = (low[part[which], 1] + row) * width + low[part[which], 0] + column
    found = np.asarray(depth)[inside]
    order = np.argsort(found, kind="stable")  # the nearest is written last
    pixel, found, triangle = pixel[order], found[order], part[which[order]]
    better = found > nearness[pixel]
    pixel, found, triangle = pixel[better], found[better], triangle[better]
    nearness[pixel] = found
    owner[pixel] = triangle


def _shares(corners: Floats, x: NDArray[np.floating], y: NDArray[np.floating]) -> tuple[Floats, Floats, Floats]:
    """Barycentric shares of the points x, y in triangles (..., 3, 3)."""
    a, b, c = corners[..., 0, :], corners[..., 1, :], corners[..., 2, :]
    area = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])
    second = ((x - a[..., 0]) * (c[..., 1] - a[..., 1]) - (y - a[..., 1]) * (c[..., 0] - a[..., 0])) / area
    third = ((b[..., 0] - a[..., 0]) * (y - a[..., 1]) - (b[..., 1] - a[..., 1]) * (x - a[..., 0])) / area
    return 1.0 - second - third, second, third


def _weights(corners: Floats, owner: Ints, width: int) -> Floats:
    weights = np.zeros((len(owner), 3))
    seen = np.flatnonzero(owner != NOTHING)
    x, y = seen % width + 0.5, seen // width + 0.5
    weights[seen] = np.stack(_shares(corners[owner[seen]], x, y), axis=1)
    return weights
