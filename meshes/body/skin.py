"""The whole skin of a body as one closed mesh, and its sixteen segments as closed meshes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from meshes.body.grid import Grid
from meshes.body.pose import Pose
from meshes.body.shape import BodyShape
from meshes.body.side import Side, left_side
from meshes.body.smoothing import smoothed
from meshes.body.topology import SEGMENTS, SkinTopology, skin_topology
from meshes.mesh import Floats, Ints, Mesh, mesh_of, reshaped

FLIP = np.array([1.0, -1.0, 1.0])


def skin_points(shape: BodyShape, q: int, pose: Pose, *, smooth: bool = True) -> Floats:
    """Posed points (n, 3) [m] in body axes, numbered as ``skin_topology(q)`` has them.

    ``smooth`` False leaves the seams of limbs and neck as they were built, which is quicker.
    """
    if pose.left == pose.right:
        half = half_points(shape, q, pose)
        return both_halves(smoothed(half, q, half=True) if smooth else half, q)
    grid = Grid(q)
    left = _listed(left_side(shape, grid, pose.left, pose.right, pose.neck_extension))
    right = _listed(left_side(shape, grid, pose.right, pose.left, pose.neck_extension))
    halves = skin_topology(q).halves
    points = np.where(halves.side[:, None] < 0.0, right[halves.source] * FLIP, left[halves.source])
    on_midline = halves.side == 0.0
    points[on_midline] = 0.5 * (points + right[halves.source] * FLIP)[on_midline]
    return smoothed(points, q) if smooth else points


def half_points(shape: BodyShape, q: int, pose: Pose) -> Floats:
    """Points (k, 3) [m] of the left half of a skin whose sides are posed alike, by ``Halves.source``, unsmoothed."""
    return _listed(left_side(shape, Grid(q), pose.left, pose.left, pose.neck_extension))


def both_halves(half: Floats, q: int) -> Floats:
    """Points (n, 3) of the whole skin from its left half, symmetric to the last digit."""
    halves = skin_topology(q).halves
    points = half[halves.source]
    points[:, 1] *= halves.side
    return points


def half_volume(half: Floats, q: int) -> float:
    """Volume [m^3] within a skin whose left half's points are ``half`` (k, 3)."""
    corners = skin_topology(q).halves.faces
    x, y, z = half.T
    x, z = x - x.mean(), z - z.mean()  # tetrahedra from a point of the midplane, which closes the half
    (ax, bx, cx), (ay, by, cy), (az, bz, cz) = x.take(corners), y.take(corners), z.take(corners)
    return float((ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)).sum()) / 3.0


@dataclass(frozen=True, eq=False)
class _Part:
    """One segment of a skin: the points used, the triangles, and the loops round whose middles fans close it.

    loops : one after another;  starts, counts : (k,) of each of them
    """

    used: Ints
    faces: Ints
    loops: Ints
    starts: Ints
    counts: Ints


def segment_mesh(points: Floats, topology: SkinTopology, name: str) -> Mesh:
    """One segment of the skin, closed by fans across its ends. Neighbours share fans, so volumes add up exactly."""
    part = _part(topology, name)
    hubs = np.add.reduceat(points[part.loops], part.starts, axis=0) / part.counts[:, None]
    return reshaped(part.faces, np.concatenate([points[part.used], hubs]))


@lru_cache(maxsize=2 * len(SEGMENTS))
def _part(topology: SkinTopology, name: str) -> _Part:
    faces = [topology.faces[topology.segment == SEGMENTS.index(name)]]
    first = len(topology.kept)
    for i, loop in enumerate(topology.caps[name]):
        faces.append(np.stack([np.full(len(loop), first + i), loop, np.roll(loop, -1)], axis=1))
    every = np.concatenate(faces)
    used, index = np.unique(every, return_inverse=True)
    triangles = mesh_of(np.zeros((len(used), 3)), index.reshape(every.shape)).faces
    counts = np.array([len(loop) for loop in topology.caps[name]])
    loops = np.concatenate(topology.caps[name])
    return _Part(used[used < first], triangles, loops, np.cumsum(counts) - counts, counts)


def _listed(side: Side) -> Floats:
    """Points of a half in one list, as ``meshes.body.topology`` numbers them."""
    return np.concatenate(
        [side.trunk.reshape(-1, 3), side.top[None], side.crotch, side.arm.reshape(-1, 3), side.arm_tip[None],
         side.leg.reshape(-1, 3), side.toe[None]]
    )  # fmt: skip
