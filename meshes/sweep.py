"""Solids drawn along a curve: hoses, webbing, bands, rods."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from meshes.loft import circle, loft
from meshes.mesh import Floats, Mesh
from meshes.primitives import closed_loft


def smooth_path(points: ArrayLike, spacing: float = 0.02, *, closed: bool = False) -> Floats:
    """Points (k, 3) [m] about ``spacing`` [m] apart along a smooth curve through ``points`` (n >= 2, 3).

    Cubic spline over the chord length, which neither overshoots nor kinks where points are unevenly spaced.
    A closed path does not repeat its first point. Raises ValueError when neighbouring points coincide.
    """
    given = np.asarray(points, dtype=float)
    if given.ndim != 2 or given.shape[1] != 3 or len(given) < (3 if closed else 2):
        raise ValueError(f"a path needs points (n, 3), at least two (three when closed), got shape {given.shape}")
    if not spacing > 0.0:
        raise ValueError(f"spacing must be > 0 m, got {spacing}")
    through = np.vstack([given, given[:1]]) if closed else given
    steps = np.linalg.norm(np.diff(through, axis=0), axis=1)
    if not (steps > 0.0).all():
        raise ValueError("two neighbouring points of the path coincide")
    chord = np.concatenate([[0.0], np.cumsum(steps)])
    count = max(2, int(np.ceil(chord[-1] / spacing)))
    at = np.linspace(0.0, chord[-1], count + 1)
    if len(through) == 2:
        return np.asarray(through[0] + np.outer(at / chord[-1], through[1] - through[0]))
    if len(through) == 3:
        return _parabola(through, steps, at)
    from scipy.interpolate import CubicSpline

    curve = np.asarray(CubicSpline(chord, through, bc_type="periodic" if closed else "not-a-knot")(at))
    return curve[:-1] if closed else curve


def _parabola(through: Floats, steps: Floats, at: Floats) -> Floats:
    """What the cubic without a knot is through three points, by divided differences: most hoses are of three."""
    first, second = (through[1:] - through[:-1]) / steps[:, None]
    bend = (second - first) / steps.sum()
    return np.asarray(through[0] + np.outer(at, first) + np.outer(at * (at - steps[0]), bend))


def path_length(path: ArrayLike) -> float:
    """Length [m] of the open line through points (k, 3)."""
    return float(np.linalg.norm(np.diff(np.asarray(path, dtype=float), axis=0), axis=1).sum())


def tangents(path: Floats, *, closed: bool = False) -> Floats:
    """Unit directions (k, 3) of a path, central differences."""
    if closed:
        along = np.roll(path, -1, axis=0) - np.roll(path, 1, axis=0)
    else:
        along = np.gradient(path, axis=0)
    return np.asarray(along / np.linalg.norm(along, axis=1, keepdims=True))


def frames_along(path: Floats, side: ArrayLike | None = None) -> tuple[Floats, Floats]:
    """Two unit normals (k, 3) at each point of an open path, right-handed with its direction, turning least.

    Double reflection (Wang, Juettler, Zheng & Liu 2008, ACM Trans. Graph. 27:2). ``side`` (3,) is the wish for the
    first normal at the start.
    """
    along = tangents(path)
    first = np.empty_like(path)
    wish = np.eye(3)[np.argmin(np.abs(along[0]))] if side is None else np.asarray(side, dtype=float)
    first[0] = _unit(wish - (wish @ along[0]) * along[0])
    steps = _reflections(np.diff(path, axis=0))
    turns = _reflections(along[1:] - np.einsum("kij,kj->ki", steps, along[:-1]))
    for i, carry in enumerate(turns @ steps):
        first[i + 1] = carry @ first[i]
    return first, np.cross(along, first)


def _reflections(normals: Floats) -> Floats:
    """Matrices (k, 3, 3) that reflect across planes with ``normals`` (k, 3); next to no normal reflects nothing."""
    squares = (normals * normals).sum(axis=1)
    share = np.where(squares < 1e-24, 0.0, 2.0 / np.maximum(squares, 1e-24))
    return np.eye(3) - share[:, None, None] * normals[:, :, None] * normals[:, None, :]


def _unit(vector: Floats) -> Floats:
    length = float(np.linalg.norm(vector))
    if not length > 0.0:
        raise ValueError("the side direction must not lie along the path")
    return np.asarray(vector / length)


def tube(path: ArrayLike, radius: float | Floats, points: int = 16) -> Mesh:
    """Round bar along an open path (k, 3) [m]; ``radius`` [m] one number or (k,)."""
    line = np.asarray(path, dtype=float)
    sizes = np.broadcast_to(np.asarray(radius, dtype=float), (len(line),))
    if not (sizes > 0.0).all():
        raise ValueError("a tube needs a radius > 0 m")
    first, second = frames_along(line)
    around = circle(points)
    spokes = around[None, :, :1] * first[:, None, :] + around[None, :, 1:] * second[:, None, :]
    return loft(line[:, None, :] + sizes[:, None, None] * spokes)


def rod(start: ArrayLike, end: ArrayLike, radius: float, points: int = 24) -> Mesh:
    """Round bar with flat ends from ``start`` to ``end`` (3,) [m]."""
    return tube(np.array([start, end], dtype=float), radius, points)


def swept(path: ArrayLike, section: ArrayLike, side: ArrayLike | None = None) -> Mesh:
    """Bar of any section (n, 2) [m], anticlockwise, along an open path (k, 3); its x axis starts at ``side``."""
    line, outline = np.asarray(path, dtype=float), np.asarray(section, dtype=float)
    first, second = frames_along(line, side)
    return loft(line[:, None, :] + outline[:, :1] * first[:, None, :] + outline[:, 1:] * second[:, None, :])


def swept_loop(path: ArrayLike, section: ArrayLike, normal: ArrayLike) -> Mesh:
    """Closed bar of section (n, 2) [m], anticlockwise, round a closed path (k, 3), flat across ``normal`` (3,).

    The section's y axis lies along ``normal``; its x axis points to the right of the way round, seen from the
    normal's tip (outward for a path that runs anticlockwise).
    """
    line, outline = np.asarray(path, dtype=float), np.asarray(section, dtype=float)
    upward = _unit(np.asarray(normal, dtype=float))
    # right-handed: (x axis) x (y axis) = way round
    outward = np.cross(upward, tangents(line, closed=True))
    rings = line[:, None, :] - outline[:, :1] * outward[:, None, :] + outline[:, 1:] * upward
    return closed_loft(rings[:, ::-1])
