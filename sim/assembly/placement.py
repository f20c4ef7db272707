"""Where an item's own frame sits in body axes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from meshes.solid import Solid, moved


@dataclass(frozen=True, eq=False)
class Placement:
    """A point p of the item lies at ``rotation @ p + origin`` in body axes [m]; ``rotation`` (3, 3) is proper."""

    rotation: Floats
    origin: Floats


def placement(origin: ArrayLike, rotation: ArrayLike | None = None) -> Placement:
    """Placement at ``origin`` (3,) [m], not turned unless ``rotation`` (3, 3) is given."""
    turn = np.eye(3) if rotation is None else np.asarray(rotation, dtype=float)
    return Placement(turn, np.asarray(origin, dtype=float))


def point_at(where: Placement, point: ArrayLike) -> Floats:
    """The item's ``point`` (3,) or (n, 3) [m] in body axes."""
    return np.asarray(point, dtype=float) @ where.rotation.T + where.origin


def solid_at(where: Placement, solid: Solid) -> Solid:
    """The item's solid in body axes."""
    return moved(solid, where.rotation, where.origin)


def inside(outer: Placement, inner: Placement) -> Placement:
    """Placement in body axes of what has placement ``inner`` in the frame that ``outer`` places."""
    return Placement(outer.rotation @ inner.rotation, point_at(outer, inner.origin))


def frame_along(x: ArrayLike, z: ArrayLike) -> Floats:
    """Rotation (3, 3) that takes the item's x axis to direction ``x`` and its z axis as near ``z`` as it can."""
    first = np.asarray(x, dtype=float)
    first = first / np.linalg.norm(first)
    third = np.asarray(z, dtype=float)
    third = third - (third @ first) * first
    third = third / np.linalg.norm(third)
    return np.stack([first, np.cross(third, first), third], axis=1)
