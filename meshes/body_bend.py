"""Rotations of joints, and skins that bend smoothly over them."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats

X, Y, Z = np.eye(3)


def rotation(axis: ArrayLike, angle: ArrayLike) -> Floats:
    """Rotation matrices (..., 3, 3) about a unit axis (3,) by angles (...) [rad], right-handed."""
    k = np.asarray(axis, dtype=float)
    a = np.asarray(angle, dtype=float)[..., None, None]
    cross = np.array([[0.0, -k[2], k[1]], [k[2], 0.0, -k[0]], [-k[1], k[0], 0.0]])
    return np.asarray(np.eye(3) + np.sin(a) * cross + (1.0 - np.cos(a)) * (cross @ cross))


def least_rotation(start: Floats, end: Floats) -> Floats:
    """The rotation (3, 3) by the least angle that takes unit vector ``start`` to unit vector ``end``."""
    cosine = float(start @ end)
    if cosine < -0.999999:
        raise ValueError("no least rotation between opposite directions")
    v = np.cross(start, end)
    cross = np.array([[0.0, -v[2], v[1]], [v[2], 0.0, -v[0]], [-v[1], v[0], 0.0]])
    return np.asarray(np.eye(3) + cross + cross @ cross / (1.0 + cosine))


def bent(points: Floats, pivot: Floats, axis: Floats, angle: float, weight: Floats) -> Floats:
    """Points (..., 3) turned about a pivot by ``weight * angle``, weight (...) from 0 (left where it is) to 1."""
    if angle == 0.0:
        return points
    turn = weight * angle
    sine, versine = np.sin(turn)[..., None], (1.0 - np.cos(turn))[..., None]
    arm = points - pivot
    across = arm @ np.array([[0.0, axis[2], -axis[1]], [-axis[2], 0.0, axis[0]], [axis[1], -axis[0], 0.0]])
    # Rodrigues: axis x (axis x arm) is the arm's part along the axis less the arm
    return np.asarray(pivot + arm + sine * across + versine * ((arm @ axis)[..., None] * axis - arm))
