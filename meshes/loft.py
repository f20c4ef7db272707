"""Closed meshes from a stack of rings: limbs, trunks, bottles and bags all come from here."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Ints, Mesh, mesh_of, reshaped


def loft(rings: ArrayLike) -> Mesh:
    """Closed mesh through rings of equal size, with a flat fan of triangles at both ends.

    rings : (k, n, 3) [m]; k >= 2 rings of n >= 3 points, each ring running anticlockwise when looked at from
        the *last* ring's side (right-handed about the direction of the loft). A ring whose points all coincide
        makes a pointed end.
    The fan's hub is the mean of the end ring. For rings sampled from a smooth surface the volume converges at
    second order in both the number of rings and the points per ring.
    """
    stack = np.asarray(rings, dtype=float)
    if stack.ndim != 3 or stack.shape[0] < 2 or stack.shape[1] < 3 or stack.shape[2] != 3:
        raise ValueError(f"rings must have shape (k >= 2, n >= 3, 3), got {stack.shape}")
    k, n, _ = stack.shape
    points = np.concatenate([stack.reshape(-1, 3), [stack[0].mean(axis=0), stack[-1].mean(axis=0)]])
    return _without_poles(points, _faces(k, n), stack)


@lru_cache(maxsize=64)
def _faces(k: int, n: int) -> Ints:
    """Triangles between k rings of n points and the two hubs; the same few numbers come again and again."""
    here = np.arange(n)
    ahead = np.roll(here, -1)
    base = (np.arange(k - 1) * n)[:, None]
    lower, lower_next = base + here, base + ahead
    upper, upper_next = lower + n, lower_next + n
    sides = np.stack([[lower, lower_next, upper_next], [lower, upper_next, upper]])
    first_hub, last_hub = k * n, k * n + 1
    top = (k - 1) * n
    first = np.stack([np.full(n, first_hub), ahead, here], axis=1)
    last = np.stack([np.full(n, last_hub), top + here, top + ahead], axis=1)
    faces = np.concatenate([sides.transpose(0, 2, 3, 1).reshape(-1, 3), first, last])
    faces.setflags(write=False)
    return faces


def _without_poles(points: Floats, faces: Ints, stack: Floats) -> Mesh:
    """Weld each ring that is a single point, and drop the triangles and vertices that this leaves empty."""
    poles = np.flatnonzero((stack == stack[:, :1]).all(axis=(1, 2)))
    if not len(poles):
        return reshaped(faces, points)
    k, n, _ = stack.shape
    target = np.arange(len(points))
    for ring in poles:
        target[ring * n : (ring + 1) * n] = ring * n
        if ring == 0:
            target[k * n] = 0
        if ring == k - 1:
            target[k * n + 1] = ring * n
    welded = target[faces]
    a, b, c = welded.T
    kept = welded[(a != b) & (b != c) & (c != a)]
    used = np.zeros(len(points), dtype=bool)
    used[kept] = True
    return mesh_of(points[used], (np.cumsum(used) - 1)[kept])


def circle(n: int) -> Floats:
    """Directions (n, 2) at equal angles, anticlockwise from +x."""
    angle = 2.0 * np.pi * np.arange(n) / n
    return np.stack([np.cos(angle), np.sin(angle)], axis=1)


def lathe(profile: ArrayLike, points: int = 48) -> Mesh:
    """Closed body of revolution about +x from a profile (k, 2) of (x, radius) [m], x along the way walked.

    The profile is walked from the -x end to the +x end; a radius of 0 makes a pole.
    """
    outline = np.asarray(profile, dtype=float)
    if outline.ndim != 2 or outline.shape[1] != 2 or not (outline[:, 1] >= 0.0).all():
        raise ValueError("a profile is a list of (x, radius >= 0)")
    around = circle(points)
    x = np.repeat(outline[:, 0][:, None], points, axis=1)
    return loft(np.stack([x, outline[:, 1:] * around[:, 0], outline[:, 1:] * around[:, 1]], axis=2))
