"""Points that are nearly the same place made one."""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from meshes.mesh import Floats, Ints

MOST_PAIRS: Final = 5_000_000  # of points within the distance: memory and time grow with them
# odd numbers of 64 bits with no pattern in them, to spread the bits of three columns
SPREAD: Final = np.array([0x9E3779B97F4A7C15, 0xC2B2AE3D27D4EB4F, 0x165667B19E3779F9], dtype=np.uint64)


def merged_points(points: ArrayLike, distance: float) -> tuple[Floats, Ints]:
    """Points (m, d) after merging, and which of them each of the given (n, d), d <= 3, became, (n,).

    Points linked by steps of at most ``distance`` become one, at their mean (each place counted once). Unlike
    rounding to a grid this does not part neighbours that lie on either side of a cell's border. Raises ValueError
    when so many points lie within ``distance`` of one another that it cannot be the distance that was meant.
    """
    place, number = _distinct(np.asarray(points, dtype=float) + 0.0)
    if not distance > 0.0:
        return place, number
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    tree = cKDTree(place)
    if int(tree.count_neighbors(tree, distance)) - len(place) > 2 * MOST_PAIRS:
        raise ValueError(f"too many points lie within {1e3 * distance:.2g} mm of one another")
    pairs = tree.query_pairs(distance, output_type="ndarray")
    if not len(pairs):
        return place, number
    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(place), len(place)))
    count, label = connected_components(links, directed=False)
    members = np.bincount(label, minlength=count)
    means = np.stack([np.bincount(label, weights=column, minlength=count) / members for column in place.T], axis=1)
    return means, label.astype(np.int64)[number]


def repeated_rows(rows: NDArray[Any]) -> Any:
    """Whether each of the rows (n, d), d <= 3, of 64-bit numbers is there more than once (n,)."""
    code = _codes(rows)
    order = np.argsort(code)
    same = code[order[1:]] == code[order[:-1]]
    again = np.zeros(len(code), dtype=bool)
    again[order[1:][same]] = again[order[:-1][same]] = True
    return again


def _distinct(place: Floats) -> tuple[Floats, Ints]:
    """Different rows of (n, d) and which of them each row is; by one sort of a code of 64 bits for each row."""
    _, first, number = np.unique(_codes(place), return_index=True, return_inverse=True)
    if not (place[first][number] == place).all():  # two places with one code, or no numbers at all
        different, number = np.unique(place, axis=0, return_inverse=True)
        return different, number.reshape(-1).astype(np.int64)
    return place[first], number.astype(np.int64)


def _codes(rows: NDArray[Any]) -> NDArray[np.uint64]:
    bits = np.ascontiguousarray(rows).view(np.uint64)
    bits = (bits ^ (bits >> np.uint64(29))) * SPREAD[0]
    bits ^= bits >> np.uint64(32)
    code = (bits * SPREAD[: bits.shape[1]]).sum(axis=1, dtype=np.uint64)
    return np.asarray(code ^ (code >> np.uint64(31)))
