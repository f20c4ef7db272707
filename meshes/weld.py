"""Points that are nearly the same place made one."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Ints


def welded(points: ArrayLike, distance: float) -> tuple[Floats, Ints]:
    """Points (m, d) after welding, and which of them each of the given (n, d) became, (n,).

    Points linked by steps of at most ``distance`` become one, at their mean. Unlike rounding to a grid this does
    not part neighbours that lie on either side of a cell's border.
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    place = np.asarray(points, dtype=float)
    pairs = cKDTree(place).query_pairs(distance, output_type="ndarray")
    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(place), len(place)))
    count, label = connected_components(links, directed=False)
    members = np.bincount(label, minlength=count)
    means = np.stack([np.bincount(label, weights=column, minlength=count) / members for column in place.T], axis=1)
    return means, label.astype(np.int64)
