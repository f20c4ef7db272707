"""How the faces of a triangle mesh hang together: in time that grows with their number, whatever they look like."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from meshes.mesh import Floats, Ints


@dataclass(frozen=True, eq=False)
class Edges:
    """The directed edges of m triangles; edge k belongs to triangle k % m.

    ends : (3 m, 2);  odd : (3 m,), whether it is anything but one of two edges that run opposite ways
    pairs : (p, 2) numbers of two edges between the same points that no third one joins
    opposite : (p,), whether those two run opposite ways, as they do where faces are wound alike
    """

    ends: Ints
    odd: Any
    pairs: Ints
    opposite: Any

    @property
    def wound_alike(self) -> bool:
        """Whether all faces that share an edge with one other face are wound the same way."""
        return bool(self.opposite.all())


def edges_of(triangles: Ints) -> Edges:
    """Edges of triangles (m, 3) and which of them belong together, by one sort."""
    ends = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    low, high = ends.min(axis=1), ends.max(axis=1)
    key = low * (int(ends.max(initial=0)) + 1) + high
    order = np.argsort(key)
    start = np.flatnonzero(np.diff(key[order], prepend=-1))
    size = np.diff(start, append=len(order))
    first = start[size == 2]
    pairs = np.stack([order[first], order[first + 1]], axis=1)
    opposite = ends[pairs[:, 0], 0] == ends[pairs[:, 1], 1]
    odd = np.ones(len(ends), dtype=bool)
    odd[pairs[opposite]] = False
    return Edges(ends, odd, pairs, opposite)


def shells_of(triangles: Ints) -> Ints:
    """Number (m,) of the shell that each triangle belongs to: faces linked by edges that two of them share."""
    m = len(triangles)
    return _groups(edges_of(triangles).pairs % m, m)


def wound_alike(triangles: Ints, edges: Edges) -> Ints:
    """The triangles, whose edges these are, some turned so that in every shell of two sides all are wound one way.

    Each face is there twice, as given and turned, and linked to those versions of its neighbours that go with it.
    A shell with two sides then makes two groups, each the other turned over, and one of them is taken whole.
    """
    if edges.wound_alike:
        return triangles
    m = len(triangles)
    one, other = (edges.pairs % m).T
    turn = np.where(edges.opposite, 0, m)
    links = np.concatenate([np.stack([one, other + turn], axis=1), np.stack([one + m, other + m - turn], axis=1)])
    group = _groups(links, 2 * m)
    return np.where((group[:m] > group[m:])[:, None], triangles[:, ::-1], triangles)


def small_holes(points: Floats, triangles: Ints) -> Ints:
    """Triangles (k, 3) that close the holes of three or four edges; where holes touch at a point, none."""
    edges = edges_of(triangles)
    single = edges.odd.copy()
    single[edges.pairs] = False
    open_ends = edges.ends[single]
    starts = np.bincount(open_ends[:, 0], minlength=len(points))
    follows = np.full(len(points), -1)
    follows[open_ends[:, 0]] = open_ends[:, 1]
    follows[starts != 1] = -1
    walk = [open_ends[:, 0]]
    for _ in range(4):
        walk.append(np.where(walk[-1] >= 0, follows[walk[-1]], -1))
    a, b, c, d, e = walk
    whole = (b >= 0) & (c >= 0) & (a != b)
    three = whole & (d == a) & (a < b) & (a < c)
    four = whole & (d >= 0) & (d != a) & (e == a) & (a < b) & (a < c) & (a < d)
    a4, b4, c4, d4 = a[four], b[four], c[four], d[four]
    across = np.linalg.norm(points[a4] - points[c4], axis=1) <= np.linalg.norm(points[b4] - points[d4], axis=1)
    quads = [
        np.where(across[:, None], np.stack(one, axis=1), np.stack(other, axis=1))
        for one, other in (((c4, b4, a4), (b4, a4, d4)), ((d4, c4, a4), (d4, c4, b4)))
    ]
    return np.concatenate([np.stack([c, b, a], axis=1)[three], *quads])


def _groups(links: Ints, count: int) -> Ints:
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    graph = coo_array((np.ones(len(links), dtype=np.int8), (links[:, 0], links[:, 1])), shape=(count, count))
    return np.asarray(connected_components(graph, directed=False)[1], dtype=np.int64)
