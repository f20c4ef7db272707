"""Closed meshes of the plain shapes that gear is put together from."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from meshes.loft import circle, loft
from meshes.mesh import Floats, Mesh, mesh_of


def superellipse(points: int, width: float, depth: float, exponent: float = 2.0) -> Floats:
    """Outline (points, 2) [m], anticlockwise: |2x/width|^e + |2y/depth|^e = 1; e = 2 is an ellipse."""
    if not (width > 0.0 and depth > 0.0 and exponent > 0.0):
        raise ValueError(f"width, depth and exponent must be > 0, got {width}, {depth}, {exponent}")
    around = circle(points)
    return np.sign(around) * np.abs(around) ** (2.0 / exponent) * [0.5 * width, 0.5 * depth]


def rounded_rectangle(width: float, depth: float, radius: float, corner_points: int = 5) -> Floats:
    """Outline (4 corner_points, 2) [m], anticlockwise about the origin; ``radius`` at most half the short side."""
    if not 0.0 < radius <= 0.5 * min(width, depth):
        raise ValueError(f"corner radius must be in (0, {0.5 * min(width, depth)}] m, got {radius}")
    quarter = 0.5 * np.pi * np.arange(corner_points) / (corner_points - 1)
    angle = (quarter[None, :] + 0.5 * np.pi * np.arange(4)[:, None]).ravel()
    signs = np.repeat([[1.0, 1.0], [-1.0, 1.0], [-1.0, -1.0], [1.0, -1.0]], corner_points, axis=0)
    centres = signs * [0.5 * width - radius, 0.5 * depth - radius]
    return centres + radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)


def box(size: ArrayLike, centre: ArrayLike = (0.0, 0.0, 0.0)) -> Mesh:
    """Brick of edge lengths ``size`` (3,) [m] along the axes about ``centre``; 12 triangles, volume exact."""
    edges = np.asarray(size, dtype=float)
    if edges.shape != (3,) or not (edges > 0.0).all():
        raise ValueError(f"a box needs three edges > 0 m, got {edges}")
    square = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])
    corners = np.array([[s, y, z] for s in (-0.5, 0.5) for y, z in square])
    faces = [
        [0, 3, 2], [0, 2, 1], [4, 5, 6], [4, 6, 7], [0, 1, 5], [0, 5, 4],
        [1, 2, 6], [1, 6, 5], [2, 3, 7], [2, 7, 6], [3, 0, 4], [3, 4, 7],
    ]  # fmt: skip
    return mesh_of(corners * edges + np.asarray(centre, dtype=float), faces)


def rounded_box(size: ArrayLike, radius: float, centre: ArrayLike = (0.0, 0.0, 0.0), corner_points: int = 4) -> Mesh:
    """Brick of outer edges ``size`` (3,) [m] along the axes, all its edges and corners rounded to ``radius`` [m]."""
    length, width, depth = (float(v) for v in np.asarray(size, dtype=float))
    if not 0.0 < radius < 0.5 * min(length, width, depth):
        raise ValueError(f"radius must be in (0, {0.5 * min(length, width, depth)}) m, got {radius}")
    climb = 0.5 * np.pi * np.arange(1, corner_points + 1) / corner_points
    inset = radius * (1.0 - np.sin(climb))
    x = -0.5 * length + radius * (1.0 - np.cos(climb))
    stations = np.concatenate([[-0.5 * length], x, -x[::-1], [0.5 * length]])
    insets = np.concatenate([[radius], inset, inset[::-1], [radius]])
    outline = rounded_rectangle(width, depth, radius, corner_points + 1)
    core = outline - rounded_offsets(radius, corner_points + 1)
    rings = [core + (outline - core) * (1.0 - i / radius) for i in insets]
    stack = np.stack([np.column_stack([np.full(len(r), s), r]) for s, r in zip(stations, rings, strict=True)])
    # where the ends have shrunk to the sharp inner rectangle, coincident corner points would make empty triangles
    return loft(_spread(stack, radius) + np.asarray(centre, dtype=float))


def rounded_offsets(radius: float, corner_points: int) -> Floats:
    """Vectors (4 corner_points, 2) [m] from the corner centres of ``rounded_rectangle`` to its outline."""
    quarter = 0.5 * np.pi * np.arange(corner_points) / (corner_points - 1)
    angle = (quarter[None, :] + 0.5 * np.pi * np.arange(4)[:, None]).ravel()
    return radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)


def _spread(stack: Floats, radius: float) -> Floats:
    """End rings kept a thousandth of the radius wide at the corners, so that no triangle is empty."""
    ends = stack.copy()
    for end, inner in ((0, 1), (-1, -2)):
        ends[end, :, 1:] += 1e-3 * (stack[inner, :, 1:] - stack[end, :, 1:])
    return ends


def ellipsoid(semi_axes: ArrayLike, centre: ArrayLike = (0.0, 0.0, 0.0), rings: int = 24, points: int = 32) -> Mesh:
    """Ellipsoid of ``semi_axes`` (3,) [m] along the axes about ``centre``; its pole is on x."""
    axes = np.asarray(semi_axes, dtype=float)
    if axes.shape != (3,) or not (axes > 0.0).all():
        raise ValueError(f"an ellipsoid needs three semi-axes > 0 m, got {axes}")
    climb = np.pi * np.arange(rings + 1) / rings
    radius = np.sin(climb)
    radius[[0, -1]] = 0.0
    around = circle(points)
    unit = np.stack(
        [
            np.repeat(-np.cos(climb)[:, None], points, 1),
            np.outer(radius, around[:, 0]),
            np.outer(radius, around[:, 1]),
        ],
        axis=2,
    )
    return loft(unit * axes + np.asarray(centre, dtype=float))


def capsule(length: float, radius: float, rings: int = 8, points: int = 24) -> Mesh:
    """Round-ended rod along x about the origin; ``length`` [m] over all, > 2 radius."""
    if not (radius > 0.0 and length > 2.0 * radius):
        raise ValueError(f"a capsule needs length > 2 radius > 0, got {length} and {radius} m")
    climb = 0.5 * np.pi * np.arange(rings + 1) / rings
    x = -0.5 * length + radius * (1.0 - np.cos(climb))
    r = radius * np.sin(climb)
    r[0] = 0.0
    around = circle(points)
    x, r = np.concatenate([x, -x[::-1]]), np.concatenate([r, r[::-1]])
    return loft(np.stack([np.repeat(x[:, None], points, 1), np.outer(r, around[:, 0]), np.outer(r, around[:, 1])], 2))


def closed_loft(rings: ArrayLike) -> Mesh:
    """Ring-shaped mesh through rings (k, n, 3) [m], the last joined to the first: a bag's ring, a band, a D-ring.

    Each ring runs right-handed about the direction from one ring to the next.
    """
    stack = np.asarray(rings, dtype=float)
    if stack.ndim != 3 or stack.shape[0] < 3 or stack.shape[1] < 3 or stack.shape[2] != 3:
        raise ValueError(f"rings must have shape (k >= 3, n >= 3, 3), got {stack.shape}")
    k, n, _ = stack.shape
    index = np.arange(k * n).reshape(k, n)
    lower, upper = index, np.roll(index, -1, axis=0)
    lower_next, upper_next = np.roll(lower, -1, axis=1), np.roll(upper, -1, axis=1)
    faces = np.stack([[lower, lower_next, upper_next], [lower, upper_next, upper]]).transpose(0, 2, 3, 1)
    return mesh_of(stack.reshape(-1, 3), faces.reshape(-1, 3))
