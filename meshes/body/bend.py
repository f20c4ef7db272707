"""Rotations of joints, and skins that bend smoothly over them."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats

IDENTITY = np.eye(3)
X, Y, Z = IDENTITY


def rotation(axis: ArrayLike, angle: ArrayLike) -> Floats:
    """Rotation matrices (..., 3, 3) about a unit axis (3,) by angles (...) [rad], right-handed."""
    cross, twice = _crosses(*np.asarray(axis, dtype=float).tolist())
    a = np.asarray(angle, dtype=float)[..., None, None]
    return np.asarray(IDENTITY + np.sin(a) * cross + (1.0 - np.cos(a)) * twice)


@lru_cache(maxsize=64)
def _crosses(x: float, y: float, z: float) -> tuple[Floats, Floats]:
    """Matrices (3, 3) of the cross product with a vector, taken once and twice."""
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return cross, cross @ cross


def least_rotation(start: Floats, end: Floats) -> Floats:
    """The rotation (3, 3) by the least angle that takes unit vector ``start`` to unit vector ``end``."""
    cosine = float(start @ end)
    if cosine < -0.999999:
        raise ValueError("no least rotation between opposite directions")
    cross, twice = _crosses(*np.cross(start, end).tolist())
    return np.asarray(IDENTITY + cross + twice / (1.0 + cosine))


def bent(points: Floats, pivot: Floats, axis: Floats, angle: float, weight: Floats) -> Floats:
    """Points (..., 3) turned about a pivot by ``weight * angle``, weight (...) from 0 (left where it is) to 1."""
    if angle == 0.0:
        return points
    turn = weight * angle
    sine, versine = np.sin(turn)[..., None], (1.0 - np.cos(turn))[..., None]
    arm = points - pivot
    cross, twice = _crosses(*axis.tolist())
    return np.asarray(points + sine * (arm @ cross.T) + versine * (arm @ twice.T))
