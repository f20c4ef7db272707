"""Plane sections of closed meshes."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats, Ints, Mesh


def section_centroid(mesh: Mesh, axis: int, at: float) -> Floats:
    """Centroid (2,) [m] of the section of a closed mesh by the plane where coordinate ``axis`` equals ``at``.

    The other two coordinates, in their order. Green's theorem over the cut triangles, each of which contributes one
    directed edge of the outline, so several loops and holes add up as they should. Raises ValueError when the plane
    misses the mesh.
    """
    height = mesh.vertices[:, axis] - at
    height = np.where(height == 0.0, 1e-12, height)  # a vertex in the plane counts as just beyond it
    above = height > 0.0
    first, second, third = above[mesh.faces].T
    cut = np.flatnonzero((first != second) | (second != third))
    if len(cut) == 0:
        raise ValueError(f"the plane at {at} m misses the mesh")
    corners = mesh.faces[cut]
    # the corner that is alone on its side of the plane
    alone = np.where(second[cut] == third[cut], 0, np.where(first[cut] == third[cut], 1, 2))
    rows = np.arange(len(corners))
    apex, ahead, behind = (corners[rows, (alone + i) % 3] for i in range(3))
    start, end = _crossing(mesh, height, apex, ahead), _crossing(mesh, height, apex, behind)
    flip = height[apex] < 0.0
    start[flip], end[flip] = end[flip], start[flip].copy()
    keep = [i for i in range(3) if i != axis]
    a, b = start[:, keep], end[:, keep]
    origin = a.mean(axis=0)
    a, b = a - origin, b - origin
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return np.asarray(origin + (cross[:, None] * (a + b)).sum(axis=0) / (3.0 * cross.sum()))


def _crossing(mesh: Mesh, height: Floats, one: Ints, other: Ints) -> Floats:
    h1, h2 = height[one], height[other]
    share = (h1 / (h1 - h2))[:, None]
    return np.asarray((1.0 - share) * mesh.vertices[one] + share * mesh.vertices[other])
