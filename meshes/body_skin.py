"""The whole skin of a body as one closed mesh, and its sixteen segments as closed meshes."""

from __future__ import annotations

import numpy as np

from meshes.body_grid import Grid
from meshes.body_pose import Pose
from meshes.body_shape import BodyShape
from meshes.body_side import Side, left_side
from meshes.body_smoothing import smoothed
from meshes.body_topology import SEGMENTS, SkinTopology, skin_topology
from meshes.mesh import Floats, Ints, Mesh, mesh_of

FLIP = np.array([1.0, -1.0, 1.0])


def skin_points(shape: BodyShape, q: int, pose: Pose, *, smooth: bool = True) -> Floats:
    """Posed points (n, 3) [m] in body axes, numbered as ``skin_topology(q)`` has them.

    ``smooth`` False leaves the seams of limbs and neck as they were built, which is quicker.
    """
    grid = Grid(q)
    left = left_side(shape, grid, pose.left, pose.right, pose.neck_extension)
    alike = pose.left == pose.right
    right = left if alike else left_side(shape, grid, pose.right, pose.left, pose.neck_extension)
    points = _packed(left, right, grid)[skin_topology(q).kept]
    if smooth:
        points = smoothed(points, q)
    return _made_symmetric(points, skin_topology(q).twin) if alike else points


def segment_mesh(points: Floats, topology: SkinTopology, name: str) -> Mesh:
    """One segment of the skin, closed by fans across its ends. Neighbours share fans, so volumes add up exactly."""
    faces = [topology.faces[topology.segment == SEGMENTS.index(name)]]
    hubs: list[Floats] = []
    for loop in topology.caps[name]:
        hub = np.full(len(loop), len(points) + len(hubs))
        hubs.append(points[loop].mean(axis=0))
        faces.append(np.stack([hub, loop, np.roll(loop, -1)], axis=1))
    every = np.concatenate(faces)
    used, index = np.unique(every, return_inverse=True)
    return mesh_of(np.concatenate([points, np.array(hubs)])[used], index.reshape(every.shape))


def _made_symmetric(points: Floats, twin: Ints) -> Floats:
    """The mean of points and their mirror image: symmetric to the last digit."""
    return np.asarray(0.5 * (points + points[twin] * FLIP))


def _packed(left: Side, right: Side, grid: Grid) -> Floats:
    """Points of both sides in one list, those of the midline once."""
    trunk = np.concatenate([left.trunk, right.trunk[:, grid.half - 1 : 0 : -1] * FLIP], axis=1)
    top = 0.5 * (left.top + right.top * FLIP)
    parts = [trunk.reshape(-1, 3), top[None], left.crotch]
    for side, sign in ((left, np.ones(3)), (right, FLIP)):
        parts += [side.arm.reshape(-1, 3) * sign, side.arm_tip[None] * sign]
        parts += [side.leg.reshape(-1, 3) * sign, side.toe[None] * sign]
    return np.concatenate(parts)
