"""Outlines of things seen from one side, as exact polygons: they stay sharp at any size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from meshes.mesh import Floats, Mesh
from sim.pictures.views import View, projected

SLIVER = 2e-5  # m, closes the cracks that rounding leaves between triangles


def silhouette(meshes: Sequence[Mesh], view: View) -> tuple[Floats, ...]:
    """Rings (n, 2) on the sheet [m], holes included, of everything that the meshes cover; first corner repeated."""
    import shapely

    corners = np.concatenate([projected(view, m.vertices)[m.faces][:, :, :2] for m in meshes])
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    facing = corners[a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] > 1e-12]  # m^2; the rest is the far side or edge-on
    if not len(facing):
        return ()
    whole: Any = shapely.union_all(shapely.polygons(facing))
    whole = whole.buffer(SLIVER, join_style="mitre").buffer(-SLIVER, join_style="mitre")
    parts = whole.geoms if hasattr(whole, "geoms") else [whole]
    return tuple(np.asarray(ring.coords) for part in parts for ring in (part.exterior, *part.interiors))
