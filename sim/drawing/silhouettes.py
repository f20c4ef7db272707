"""Outlines of things seen from one side, as exact polygons: they stay sharp at any size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from meshes.mesh import Floats, Ints, Mesh
from sim.drawing.views import View, projected

SLIVER = 2e-5  # m, closes the cracks that rounding leaves between triangles


def silhouette(meshes: Sequence[Mesh], view: View) -> tuple[Floats, ...]:
    """Rings (n, 2) on the sheet [m], holes included, of everything that the meshes cover; first corner repeated."""
    import shapely

    edges = np.concatenate([_rim(projected(view, m.vertices)[:, :2], m.faces) for m in meshes])
    if not len(edges):
        return ()
    cells = shapely.get_parts(shapely.polygonize([shapely.union_all(shapely.linestrings(edges))]))
    covered = _layers(shapely.get_coordinates(shapely.point_on_surface(cells)), edges) > 0
    whole: Any = shapely.coverage_union_all(cells[covered])
    whole = whole.buffer(SLIVER, join_style="mitre").buffer(-SLIVER, join_style="mitre")
    parts = whole.geoms if hasattr(whole, "geoms") else [whole]
    return tuple(np.asarray(ring.coords) for part in parts for ring in (part.exterior, *part.interiors))


def _rim(seen: Floats, faces: Ints) -> Floats:
    """Directed edges (k, 2, 2) [m] where the triangles that face the viewer end, these to their left.

    seen : (n, 2) places on the sheet [m]. How often the edges go round a place is how many such triangles cover it.
    """
    corners = seen[faces]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    facing = faces[a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] > 1e-12].astype(np.int64)  # m^2; the rest is edge-on or away
    edges = np.concatenate([facing[:, [0, 1]], facing[:, [1, 2]], facing[:, [2, 0]]])
    there, back = edges @ [len(seen), 1], edges @ [1, len(seen)]
    return np.asarray(seen[edges[~np.isin(there, back)]])


def _layers(points: Floats, edges: Floats) -> Ints:
    """(n,) how often directed edges (k, 2, 2) go round each of (n, 2) points, by their crossings of a ray."""
    import shapely

    right = edges[:, :, 0].max()
    rays = shapely.linestrings(
        np.stack([points, np.stack([np.full(len(points), right), points[:, 1]], axis=1)], axis=1)
    )
    ray, edge = shapely.STRtree(shapely.linestrings(edges)).query(rays)
    (start, end), at = edges[edge].transpose(1, 0, 2), points[ray]
    upward = (start[:, 1] <= at[:, 1]) & (at[:, 1] < end[:, 1])
    downward = (end[:, 1] <= at[:, 1]) & (at[:, 1] < start[:, 1])
    along, aside = end - start, at - start
    side = along[:, 0] * aside[:, 1] - along[:, 1] * aside[:, 0]  # m^2, plus where the point is to the left
    turns = (upward & (side > 0.0)).astype(float) - (downward & (side < 0.0))
    return np.rint(np.bincount(ray, turns, len(points))).astype(np.int64)
