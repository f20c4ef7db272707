"""A closed triangle mesh: two read-only arrays, moved only by making a new one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles whose corners run anticlockwise seen from outside.

    vertices : (n, 3) positions [m], in whichever frame the maker says
    faces : (m, 3) indices into ``vertices``
    """

    vertices: Floats
    faces: Ints


def mesh_of(vertices: ArrayLike, faces: ArrayLike) -> Mesh:
    """Mesh from array-likes, copied and made read-only.

    Raises ValueError when a shape is wrong, a position is not finite or an index points nowhere.
    """
    points = np.array(vertices, dtype=np.float64)
    triangles = np.array(faces, dtype=np.int64)
    if points.ndim != 2 or points.shape[1] != 3 or triangles.ndim != 2 or triangles.shape[1] != 3:
        raise ValueError(f"a mesh needs vertices (n, 3) and faces (m, 3), got {points.shape} and {triangles.shape}")
    if not np.isfinite(points).all():
        raise ValueError("a mesh vertex is not a finite number")
    if triangles.size and not (triangles.min() >= 0 and triangles.max() < len(points)):
        raise ValueError(f"a face points outside the {len(points)} vertices")
    return _frozen(points, triangles)


def _frozen(points: Floats, triangles: Ints) -> Mesh:
    """Mesh of arrays that are nobody else's and known to be right."""
    points.setflags(write=False)
    triangles.setflags(write=False)
    return Mesh(points, triangles)


def reshaped(faces: Ints, vertices: Floats) -> Mesh:
    """Mesh of other positions (n, 3) [m] with the triangles of a mesh that has as many, which are taken as they are.

    Raises ValueError when a position is not finite.
    """
    if not np.isfinite(vertices).all():
        raise ValueError("a mesh vertex is not a finite number")
    points = np.array(vertices, dtype=np.float64)
    points.setflags(write=False)
    return Mesh(points, faces)


def corners_of(points: Floats, faces: Ints) -> tuple[Floats, Floats, Floats]:
    """First, second and third corners, (3, m) each, of the triangles (m, 3) between points (n, 3).

    A coordinate is a row in memory, which is gathered and worked on several times quicker than points are.
    """
    rows, at = np.ascontiguousarray(points.T), np.ascontiguousarray(faces.T)
    first, second, third = (rows.take(corner, axis=1) for corner in at)
    return first, second, third


def moved(mesh: Mesh, rotation: ArrayLike | None = None, shift: ArrayLike = (0.0, 0.0, 0.0)) -> Mesh:
    """Mesh with every vertex p put at ``rotation @ p + shift``; ``rotation`` (3, 3) proper, ``shift`` (3,) [m]."""
    points = mesh.vertices.copy() if rotation is None else mesh.vertices @ np.asarray(rotation, dtype=float).T
    points += np.asarray(shift, dtype=float)
    if not np.isfinite(points).all():
        raise ValueError("a mesh vertex is not a finite number")
    return _frozen(points, mesh.faces)


def mirrored(mesh: Mesh) -> Mesh:
    """The mesh reflected left to right (y to -y), faces turned so that outside stays outside."""
    return _frozen(mesh.vertices * [1.0, -1.0, 1.0], mesh.faces[:, ::-1].copy())


def joined(meshes: Sequence[Mesh]) -> Mesh:
    """Several meshes as one list of triangles; shells that overlap are NOT merged."""
    offsets = np.cumsum([0] + [len(m.vertices) for m in meshes[:-1]])
    points = np.concatenate([m.vertices for m in meshes])
    return _frozen(points, np.concatenate([m.faces + k for m, k in zip(meshes, offsets, strict=True)]))
