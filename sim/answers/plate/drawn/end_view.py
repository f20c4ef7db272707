"""The bent plate seen from below, as it lies under the flat view: its width, depth and channel, in millimetres.

The diver's left lies to the left and the back up; y = 0 is what lies against the diver.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from meshes.plate.back_plate import Plate
from meshes.plate.manifolds import shadow
from sim.answers.plate.drawn.marks import Area, Mark, Stroke, Word, dimension, line
from sim.telling.language import say

SEEN_FROM_BELOW: Final = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])  # right, up, towards
BELOW, ABOVE = 14.0, 8.0  # mm for its measures
NO_CHANNEL = 5e-5  # m, below the shown digits


def heights(plate: Plate) -> tuple[float, float]:
    """The foremost and the rearmost of a plate and what is fixed to it [mm]."""
    meshes = [
        solid.mesh for solid in (plate.solid, *(one.solid for one in plate.additions)) if solid.mesh is not None
    ]
    z = np.concatenate([np.zeros(1), *(mesh.vertices[:, 2] for mesh in meshes)])
    return 1e3 * float(z.min()), 1e3 * float(z.max())


def end_view(plate: Plate) -> Iterator[Mark]:
    """All marks of the view; none of a plate without a shape."""
    if plate.solid.mesh is None:
        return
    for one in plate.additions:
        if one.solid.mesh is not None:
            yield from (Stroke(_closed(ring), "zone") for ring in _seen(one.solid.mesh))
    rings = _seen(plate.solid.mesh)
    yield Area(tuple(rings))
    for ring in rings:
        yield Stroke(_closed(ring), "edge")
    corners = np.concatenate(rings)
    low, high = corners.min(axis=0), corners.max(axis=0)
    leftmost, rightmost = corners[corners[:, 0].argmin()], corners[corners[:, 0].argmax()]
    yield from dimension((leftmost, rightmost), "across", float(low[1]) - 9.0)
    bottom, top = corners[corners[:, 1].argmin()], corners[corners[:, 1].argmax()]
    yield from dimension((bottom, top), "up", float(high[0]) + 9.0)
    if plate.channel_depth > NO_CHANNEL:
        depth = 1e3 * plate.channel_depth
        yield from dimension((np.array([low[0], 0.0]), np.array([0.0, depth])), "up", float(low[0]) - 7.0)
    x, y = -1e3 * plate.solid.cm[1], 1e3 * plate.solid.cm[2]
    yield line((x - 3.0, y), (x + 3.0, y))
    yield line((x, y - 3.0), (x, y + 3.0))
    yield Word(say("CM"), (float(x) + 1.5, float(y) + 2.6), bold=True)


def _seen(mesh: Mesh) -> list[Floats]:
    """Rings (n, 2) [mm] around what a closed mesh covers as seen from below; around its corners, if it is unsound."""
    seen = Mesh(1e3 * mesh.vertices @ SEEN_FROM_BELOW.T, mesh.faces)
    rings = shadow(seen)
    if rings:
        return rings
    import shapely

    return [np.asarray(shapely.MultiPoint(seen.vertices[:, :2]).convex_hull.exterior.coords)[:-1]]


def _closed(ring: Floats) -> Floats:
    return np.concatenate([ring, ring[:1]])
