"""Directions spread evenly over the unit sphere, and the triangles between them."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np

from meshes.mesh import Floats, Ints

GOLDEN: Final = (1.0 + 5.0**0.5) / 2.0


def direction(pitch: float, roll: float) -> Floats:
    """World's up (3,) in body axes for pitch and roll [rad]."""
    return np.array([np.sin(pitch), np.cos(pitch) * np.sin(roll), np.cos(pitch) * np.cos(roll)])


@lru_cache(maxsize=6)
def icosphere(subdivisions: int) -> tuple[Floats, Ints]:
    """Unit vectors (10 4^s + 2, 3) and triangles (20 4^s, 3) of an icosahedron split ``s`` times.

    Turned by an odd angle, so that no direction of ours lies in a rig's plane of symmetry.
    """
    a, b = 1.0, GOLDEN
    # fmt: off
    corners = np.array([
        [-a, b, 0], [a, b, 0], [-a, -b, 0], [a, -b, 0], [0, -a, b], [0, a, b],
        [0, -a, -b], [0, a, -b], [b, 0, -a], [b, 0, a], [-b, 0, -a], [-b, 0, a],
    ])
    faces = np.array([
        [0, 11, 5], [0, 5, 1], [0, 1, 7], [0, 7, 10], [0, 10, 11], [1, 5, 9], [5, 11, 4], [11, 10, 2], [10, 7, 6],
        [7, 1, 8], [3, 9, 4], [3, 4, 2], [3, 2, 6], [3, 6, 8], [3, 8, 9], [4, 9, 5], [2, 4, 11], [6, 2, 10],
        [8, 6, 7], [9, 8, 1],
    ])
    # fmt: on
    points = corners / np.linalg.norm(corners, axis=1)[:, None]
    for _ in range(subdivisions):
        points, faces = _split(points, faces)
    points = points @ _odd_turn().T
    points.setflags(write=False)
    faces.setflags(write=False)
    return points, faces


def _split(points: Floats, faces: Ints) -> tuple[Floats, Ints]:
    """Each triangle into four, new corners pushed out to the sphere."""
    edges = np.sort(faces[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    unique, index = np.unique(edges, axis=0, return_inverse=True)
    middles = points[unique].mean(axis=1)
    middles /= np.linalg.norm(middles, axis=1)[:, None]
    ab, bc, ca = (index.reshape(-1, 3) + len(points)).T
    a, b, c = faces.T
    split = [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]]
    return np.concatenate([points, middles]), np.array(split).transpose(0, 2, 1).reshape(-1, 3)


def edge_middles(corners: Floats) -> Floats:
    """Middles (t, 3, 3) on the unit sphere of the edges ab, bc, ca of triangles (t, 3, 3)."""
    middles = corners + np.roll(corners, -1, axis=1)
    return np.asarray(middles / np.linalg.norm(middles, axis=2, keepdims=True))


def in_four(corners: Floats, middles: Floats) -> Floats:
    """Triangles (4 t, 3, 3) from triangles (t, 3, 3) and what lies at the middles of their edges (t, 3, 3).

    Serves for places and for values at them alike.
    """
    a, b, c = corners.transpose(1, 0, 2)
    ab, bc, ca = middles.transpose(1, 0, 2)
    split = np.array([[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]])
    return split.transpose(2, 0, 1, 3).reshape(-1, 3, 3)


def _odd_turn() -> Floats:
    """A proper rotation by no special angle (quaternion 0.9, 0.23, 0.31, 0.17, normalised)."""
    w, x, y, z = np.array([0.9, 0.23, 0.31, 0.17]) / np.linalg.norm([0.9, 0.23, 0.31, 0.17])
    return np.array(
        [
            [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
            [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
            [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
        ]
    )
