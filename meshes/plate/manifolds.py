"""Closed meshes as manifold3d has them, for what that does with solids."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Mesh

SLIVER: Final = 1e-6  # of the greatest ring's area: less is rounding


def manifold(mesh: Mesh) -> Any:
    """A closed mesh; an empty one where it is not closed."""
    import manifold3d

    vertices, faces = np.array(mesh.vertices, order="C"), np.array(mesh.faces, dtype=np.uint64, order="C")
    return manifold3d.Manifold(manifold3d.Mesh64(vertices, faces))


def shadow(mesh: Mesh) -> list[Floats]:
    """Rings (n, 2) around what a closed mesh covers, seen along z: anticlockwise outside, clockwise around holes."""
    rings = [np.asarray(ring, dtype=float) for ring in manifold(mesh).project().to_polygons()]
    areas = [abs(float(np.sum(r[:, 0] * np.roll(r[:, 1], -1) - np.roll(r[:, 0], -1) * r[:, 1]))) for r in rings]
    return [ring for ring, area in zip(rings, areas, strict=True) if area > SLIVER * max(areas)]
