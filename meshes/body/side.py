"""The left half of a body's skin as grids of points, standing shape and joint angles in, posed points out."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body.bend import X, Y, bent, least_rotation
from meshes.body.curves import equal_area, kept_above, smooth_step
from meshes.body.grid import Grid
from meshes.body.kinematics import shoulder_rise, upper_arm_motion, wrist_axis
from meshes.body.leg import LegSwelling, leg_bent, leg_swelling, with_hips
from meshes.body.limbs import arm_outward, thumb_relief
from meshes.body.pose import Limbs
from meshes.body.shape import BodyShape, body_shape, crowded_steps, section
from meshes.body.shoulder import armhole, round_hole, shoulder_rings, shrugged
from meshes.body.skeleton import Skeleton
from meshes.body.swelling import Swelling
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


@dataclass(frozen=True, eq=False)
class Unposed:
    """The standing left half as it swells, arms left out: trunk (rows, half + 1, 3), and the leg."""

    trunk: Swelling
    leg: LegSwelling


@lru_cache(maxsize=4)
def unposed(skeleton: Skeleton, grid: Grid) -> Unposed:
    """The standing left half of a body, made once for all that it swells to and all poses."""
    shape = body_shape(skeleton)
    row, column = round_hole(grid)
    heights = _between(trunk_heights(skeleton, grid), row, column)
    trunk = shape.trunk.swelling(heights, np.pi * column / grid.half)
    return Unposed(trunk, leg_swelling(shape, grid, trunk.axis[0, :, 0]))


def left_side(shape: BodyShape, grid: Grid, own: Limbs, other: Limbs, neck_extension: float) -> Side:
    """Posed left half; ``other`` is the other side's angles, which the midline shares."""
    skeleton = shape.skeleton
    half = unposed(skeleton, grid)
    rest, leg_rest, crotch_rest = (
        half.trunk.at(shape.swell),
        half.leg.rings(shape.swell),
        half.leg.crotch.at(shape.swell),
    )
    top = np.array([skeleton.heights["vertex"], 0.0, rest[-1, :, 2].mean()])
    trunk = with_hips(shape, shrugged(rest, skeleton, shoulder_rise(skeleton, own)), rest, own, other)
    leg = leg_bent(shape, leg_rest, own)
    arm = _arm(shape, grid, trunk, own)
    toe = leg[-1].mean(axis=0)
    if neck_extension != 0.0:
        neck, weight = skeleton.joints["neck"], _neck_weight(skeleton, rest)
        trunk = bent(trunk, neck, Y, -neck_extension, weight)
        top = bent(top, neck, Y, -neck_extension, np.asarray(1.0))
    return Side(
        trunk=trunk,
        top=top,
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


def _between(heights: Floats, row: Floats, column: Floats) -> Floats:
    """Heights at fractional rows and columns of the grid."""
    rows, columns = heights.shape
    low = np.clip(np.floor(row).astype(int), 0, rows - 2)
    left = np.clip(np.floor(column).astype(int), 0, columns - 2)
    v, u = row - low, column - left
    lower = (1.0 - u) * heights[low, left] + u * heights[low, left + 1]
    upper = (1.0 - u) * heights[low + 1, left] + u * heights[low + 1, left + 1]
    return np.asarray((1.0 - v) * lower + v * upper)


def _neck_weight(skeleton: Skeleton, rest: Floats) -> Floats:
    """0 on the trunk, 1 on the head; along the neck by the distance from the tilted neck base."""
    h = skeleton.heights
    depth = (rest[..., 2] - rest[..., :1, 2]) / np.maximum(np.ptp(rest[..., 2], axis=-1)[..., None], 1e-9)
    base = h["notch"] + (h["c7"] - h["notch"]) * depth
    upper = h["chin"] + 0.01 + (h["tragion"] - h["chin"] - 0.02) * depth
    return smooth_step((rest[..., 0] - base) / (upper - base))


def _arm(shape: BodyShape, grid: Grid, trunk: Floats, own: Limbs) -> Floats:
    """Arm rings beyond the armhole."""
    loop, inward = armhole(trunk, grid)
    placed = upper_arm_motion(shape.skeleton, own)
    arm = _free_arm(shape.skeleton, grid, own)
    points = _arm_bent(shape.skeleton, arm.at(shape.swell), own)
    free = placed.at + points @ placed.rotation.T
    return np.concatenate([shoulder_rings(loop, inward, free[0], placed.rotation @ -X, grid), free])


@lru_cache(maxsize=8)
def _free_arm(skeleton: Skeleton, grid: Grid, own: Limbs) -> Swelling:
    """Rings of the straight arm beyond the shoulder in the upper arm's frame, origin at the shoulder joint.

    Ring points are numbered by where they leave the trunk, not round the arm, so that the skin over the shoulder does
    not twist however the arm is turned.
    """
    turn = upper_arm_motion(skeleton, own).rotation
    first = turn.T @ least_rotation(Y, turn @ -X) @ X
    n, q = 12 * grid.q, grid.q
    angle = np.radians(-135.0) - 2.0 * np.pi * np.arange(n) / n + np.arctan2(first[2], first[1])
    elbow, wrist, tip = _along_arm(skeleton)
    start = SHOULDER_START * elbow
    stops = [np.array([start])]
    for rows, low, high, crowd in ((3 * q, start, elbow, -1), (4 * q, elbow, wrist, 1), (5 * q, wrist, tip, -2)):
        stops.append(low + (high - low) * crowded_steps(rows, crowd))
    s = np.concatenate(stops)[:, None]
    ay, az, n_ = np.moveaxis(body_shape(skeleton).arm(s), -1, 0)
    twist = -own.pronation * smooth_step((s - elbow) / (wrist - elbow))
    round_off = equal_area(n)
    y, z = section(round_off * ay, round_off * az, n_, angle - twist)
    z -= round_off * thumb_relief(skeleton, s) * np.clip(-np.sin(angle - twist), 0.0, None) ** 3
    aside = np.broadcast_to(arm_outward(skeleton) * (1.0 - smooth_step((s - start) / (elbow - start))), y.shape)
    c, sn, zero = np.cos(twist), np.sin(twist), np.zeros_like(y)
    return Swelling(
        np.stack([np.broadcast_to(-s, y.shape), c * aside, sn * aside], axis=-1),
        np.stack([zero, c * y - sn * z, sn * y + c * z], axis=-1),
    )


def _along_arm(skeleton: Skeleton) -> tuple[float, float, float]:
    """Distances [m] of elbow, wrist and fingertip from the shoulder joint."""
    j = skeleton.joints
    elbow, wrist, tip = (float(j["shoulder"][0] - j[k][0]) for k in ("elbow", "wrist", "fingertip"))
    return elbow, wrist, tip


def _arm_bent(skeleton: Skeleton, points: Floats, own: Limbs) -> Floats:
    """Rings of the straight arm bent at wrist and elbow, in the upper arm's frame."""
    if own.wrist_extension == own.elbow_flexion == 0.0:
        return points
    elbow, wrist, _ = _along_arm(skeleton)
    along = -points[..., 0]
    weight = smooth_step((along - wrist + WRIST_BLEND) / (2.0 * WRIST_BLEND))
    points = bent(points, np.array([-wrist, 0.0, 0.0]), wrist_axis(own), -own.wrist_extension, weight)
    weight = smooth_step((along - elbow + ELBOW_BLEND) / (2.0 * ELBOW_BLEND))
    return bent(points, np.array([-elbow, 0.0, 0.0]), Y, -own.elbow_flexion, weight)
