"""The left half of a body's skin as grids of points, standing shape and joint angles in, posed points out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body_bend import X, Y, bent, least_rotation
from meshes.body_curves import equal_area, kept_above, smooth_step
from meshes.body_grid import Grid
from meshes.body_kinematics import shoulder_rise, upper_arm_placement, wrist_axis
from meshes.body_leg import leg_bent, leg_points, with_hips
from meshes.body_limbs import arm_outward, thumb_relief
from meshes.body_pose import Limbs
from meshes.body_shape import BodyShape, crowded_steps, section
from meshes.body_shoulder import armhole, round_hole, shoulder_rings, shrugged
from meshes.body_skeleton import Skeleton
from meshes.mesh import Floats

ELBOW_BLEND: Final = 0.070  # m on either side of the joint over which the skin bends
WRIST_BLEND: Final = 0.035  # likewise
LEAST_APART: Final = 0.010  # m between levels of the trunk grid where their landmarks coincide
SHOULDER_START: Final = 0.40  # of the upper arm: where the skin moves with the arm alone


@dataclass(frozen=True, eq=False)
class Side:
    """Posed points of the left half [m].

    trunk : (rows, half + 1, 3), groin ring first, front midline to back midline;  top : (3,) the vertex
    crotch : (k, 3) along the midline under the groin, back to front
    arm : (rows, n, 3) from beyond the armhole;  arm_tip : (3,)
    leg : (rows, n, 3) from beyond the groin;  toe : (3,)
    """

    trunk: Floats
    top: Floats
    crotch: Floats
    arm: Floats
    arm_tip: Floats
    leg: Floats
    toe: Floats


def left_side(shape: BodyShape, grid: Grid, own: Limbs, other: Limbs, neck_extension: float) -> Side:
    """Posed left half; ``other`` is the other side's angles, which the midline shares."""
    rest, top = _trunk_points(shape, grid)
    trunk = with_hips(shape, shrugged(rest, shape.skeleton, shoulder_rise(shape.skeleton, own)), rest, own, other)
    leg_rest, crotch_rest = leg_points(shape, grid, rest[0])
    leg = leg_bent(shape, leg_rest, own)
    neck = shape.skeleton.joints["neck"]
    weight = _neck_weight(shape.skeleton, rest)
    arm = _arm(shape, grid, trunk, own)
    toe = leg[-1].mean(axis=0)
    return Side(
        trunk=bent(trunk, neck, Y, -neck_extension, weight),
        top=bent(top, neck, Y, -neck_extension, np.asarray(1.0)),
        crotch=with_hips(shape, crotch_rest, crotch_rest, own, other),
        arm=arm,
        arm_tip=arm[-1].mean(axis=0),
        leg=with_hips(shape, leg, leg_rest, own, other),
        toe=with_hips(shape, toe, leg_rest[-1].mean(axis=0), own, other),
    )


def trunk_heights(skeleton: Skeleton, grid: Grid) -> Floats:
    """Height x (rows, half + 1) of every point of the standing trunk grid, groin to just below the vertex.

    Every row lies above the one before: the levels of shoulder and neck are crossed by landmarks of real people.
    """
    h = skeleton.heights
    t = np.pi * np.arange(grid.half + 1) / grid.half
    rise = np.sin(t) ** 1.2
    side = max(h["crotch"] + 0.06, 0.25 * h["navel"] + 0.02)
    groin = h["crotch"] + (side - h["crotch"]) * rise
    back = 0.5 * (1.0 - np.cos(t))

    def level(front: float, behind: float) -> Floats:
        return np.asarray(front + (behind - front) * back)

    axilla = max(h["axilla"], h["xiphoid"] + 0.02)
    ear = h["tragion"] + 0.02
    tilt = h["c7"] - h["notch"]
    levels = [
        groin,
        level(h["navel"], h["navel"]),
        level(h["xiphoid"], h["xiphoid"]),
        level(axilla - 0.005, axilla + 0.005),
        level(h["acromion"] + 0.012 - 0.35 * tilt, h["acromion"] + 0.012 + 0.35 * tilt),
        level(h["notch"], h["c7"]),
        level(h["chin"] - 0.022, h["c7"] + 0.35 * (ear - h["c7"])),
        level(ear, ear),
    ]
    for i in range(1, len(levels)):
        levels[i] = kept_above(levels[i - 1], levels[i], LEAST_APART)
    rows = [groin[None]]
    for n, low, high in zip(grid.trunk_rows[:-1], levels[:-1], levels[1:], strict=True):
        u = (np.arange(1, n + 1) / n)[:, None]
        rows.append((1.0 - u) * low + u * high)
    n = grid.trunk_rows[-1]
    u = np.sin(0.5 * np.pi * np.arange(1, n) / n)[:, None]  # closer together where the crown closes
    rows.append((1.0 - u) * levels[-1] + u * h["vertex"])
    return np.concatenate(rows)


def _trunk_points(shape: BodyShape, grid: Grid) -> tuple[Floats, Floats]:
    x = trunk_heights(shape.skeleton, grid)
    row, column = round_hole(grid)
    low = np.clip(np.floor(row).astype(int), 0, grid.rows - 2)
    left = np.clip(np.floor(column).astype(int), 0, grid.half - 1)
    v, u = row - low, column - left
    heights = (1.0 - v) * ((1.0 - u) * x[low, left] + u * x[low, left + 1])
    heights += v * ((1.0 - u) * x[low + 1, left] + u * x[low + 1, left + 1])
    points = shape.trunk.at(heights, np.pi * column / grid.half)
    top = np.array([shape.skeleton.heights["vertex"], 0.0, points[-1, :, 2].mean()])
    return points, top


def _neck_weight(skeleton: Skeleton, rest: Floats) -> Floats:
    """0 on the trunk, 1 on the head; along the neck by the distance from the tilted neck base."""
    h = skeleton.heights
    depth = (rest[..., 2] - rest[..., :1, 2]) / np.maximum(np.ptp(rest[..., 2], axis=-1)[..., None], 1e-9)
    base = h["notch"] + (h["c7"] - h["notch"]) * depth
    upper = h["chin"] + 0.01 + (h["tragion"] - h["chin"] - 0.02) * depth
    return smooth_step((rest[..., 0] - base) / (upper - base))


def _arm(shape: BodyShape, grid: Grid, trunk: Floats, own: Limbs) -> Floats:
    """Arm rings beyond the armhole. Ring points are numbered by where they leave the trunk, not round the arm, so
    that the skin over the shoulder does not twist however the arm is turned."""
    loop, inward = armhole(trunk, grid)
    placed = upper_arm_placement(shape.skeleton, own)
    direction = placed.rotation @ -X
    first = placed.rotation.T @ least_rotation(Y, direction) @ X
    n = 12 * grid.q
    angle = np.radians(-135.0) - 2.0 * np.pi * np.arange(n) / n + np.arctan2(first[2], first[1])
    j = shape.skeleton.joints
    start = SHOULDER_START * float(j["shoulder"][0] - j["elbow"][0])
    free = placed.at + _arm_local(shape, grid, own, angle, start) @ placed.rotation.T
    return np.concatenate([shoulder_rings(loop, inward, free[0], direction, grid), free])


def _arm_local(shape: BodyShape, grid: Grid, own: Limbs, angle: Floats, start: float) -> Floats:
    """Rings of the arm beyond the shoulder in the upper arm's frame, origin at the shoulder joint."""
    j, q = shape.skeleton.joints, grid.q
    shoulder = float(j["shoulder"][0])
    elbow, wrist, tip = (shoulder - float(j[k][0]) for k in ("elbow", "wrist", "fingertip"))
    stops = [np.array([start])]
    for n, low, high, crowd in ((3 * q, start, elbow, -1), (4 * q, elbow, wrist, 1), (5 * q, wrist, tip, -2)):
        stops.append(low + (high - low) * crowded_steps(n, crowd))
    s = np.concatenate(stops)[:, None]
    ay, az, n_ = np.moveaxis(shape.arm(s), -1, 0)
    twist = -own.pronation * smooth_step((s - elbow) / (wrist - elbow))
    swell = shape.swell * equal_area(len(angle))
    y, z = section(swell * ay, swell * az, n_, angle - twist)
    z -= swell * thumb_relief(shape.skeleton, s) * np.clip(-np.sin(angle - twist), 0.0, None) ** 3
    y = y + arm_outward(shape.skeleton) * (1.0 - smooth_step((s - start) / (elbow - start)))
    c, sn = np.cos(twist), np.sin(twist)
    points = np.stack([np.broadcast_to(-s, y.shape), c * y - sn * z, sn * y + c * z], axis=-1)
    weight = smooth_step((np.broadcast_to(s, y.shape) - wrist + WRIST_BLEND) / (2.0 * WRIST_BLEND))
    points = bent(points, np.array([-wrist, 0.0, 0.0]), wrist_axis(own), -own.wrist_extension, weight)
    weight = smooth_step((np.broadcast_to(s, y.shape) - elbow + ELBOW_BLEND) / (2.0 * ELBOW_BLEND))
    return bent(points, np.array([-elbow, 0.0, 0.0]), Y, -own.elbow_flexion, weight)
