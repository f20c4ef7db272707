"""The left half of a body's skin as grids of points, standing shape and joint angles in, posed points out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body_bend import X, Y, Z, bent, least_rotation
from meshes.body_curves import Curves, equal_area, smooth_step
from meshes.body_grid import Grid
from meshes.body_kinematics import shoulder_rise, upper_arm_placement, wrist_axis
from meshes.body_limbs import arm_sections, foot_rings, leg_sections, thumb_relief
from meshes.body_pose import Limbs
from meshes.body_shoulder import armhole, round_hole, shoulder_rings, shrugged
from meshes.body_skeleton import Skeleton
from meshes.body_trunk import TrunkSurface, trunk_surface
from meshes.mesh import Floats

GROIN_ANGLE: Final = np.radians(35.0)  # of the plane that parts thigh and trunk, from the horizontal (assumed)
HIP_BLEND: Final = (0.08, 0.09)  # m before and after that plane over which the skin bends
ANKLE_BLEND: Final = (0.010, 0.050)  # m below and above the ankle joint over which the skin bends
SHOULDER_START: Final = 0.40  # of the upper arm: where the skin moves with the arm alone


@dataclass(frozen=True, eq=False)
class BodyShape:
    """Everything that fixes a standing body's surface, made once per person.

    swell : factor on all breadths and depths about the centre lines
    """

    skeleton: Skeleton
    trunk: TrunkSurface
    arm: Curves
    leg: Curves
    foot: Floats
    swell: float


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


def body_shape(skeleton: Skeleton, swell: float = 1.0) -> BodyShape:
    """Shape of a standing body with breadths and depths scaled by ``swell``."""
    return BodyShape(
        skeleton,
        trunk_surface(skeleton, swell),
        arm_sections(skeleton),
        leg_sections(skeleton),
        foot_rings(skeleton),
        swell,
    )


def left_side(shape: BodyShape, grid: Grid, own: Limbs, other: Limbs, neck_extension: float) -> Side:
    """Posed left half; ``other`` is the other side's angles, which the midline shares."""
    rest, top = _trunk_points(shape, grid)
    hip = shape.skeleton.joints["hip"]
    trunk = _with_hips(shrugged(rest, shape.skeleton, shoulder_rise(shape.skeleton, own)), hip, own, other)
    leg_rest, crotch_rest = _leg_points(shape, grid, rest[0])
    leg = _leg_bent(shape, leg_rest, own)
    neck = shape.skeleton.joints["neck"]
    weight = _neck_weight(shape.skeleton, rest)
    arm = _arm(shape, grid, trunk, own)
    toe = leg[-1].mean(axis=0)
    return Side(
        trunk=bent(trunk, neck, Y, -neck_extension, weight),
        top=bent(top, neck, Y, -neck_extension, np.asarray(1.0)),
        crotch=_with_hips(crotch_rest, hip, own, other),
        arm=arm,
        arm_tip=arm[-1].mean(axis=0),
        leg=_with_hips(leg, hip, own, other, rest=leg_rest),
        toe=_with_hips(toe[None], hip, own, other, rest=leg_rest[-1].mean(axis=0)[None])[0],
    )


def trunk_heights(skeleton: Skeleton, grid: Grid) -> Floats:
    """Height x (rows, half + 1) of every point of the standing trunk grid, groin to just below the vertex."""
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


def _with_hips(points: Floats, hip: Floats, own: Limbs, other: Limbs, rest: Floats | None = None) -> Floats:
    """Turn what lies beyond the groin plane with the thigh; across the midline the two sides share."""
    where = points if rest is None else rest
    beyond = -np.cos(GROIN_ANGLE) * (where[..., 0] - hip[0]) + np.sin(GROIN_ANGLE) * (where[..., 1] - hip[1])
    weight = smooth_step((beyond + HIP_BLEND[0]) / sum(HIP_BLEND))
    mine = _hip_turned(points, hip, own, weight, 1.0)
    if other == own and own.hip_abduction == 0.0:
        return mine
    mirror_hip = hip * [1.0, -1.0, 1.0]
    theirs = _hip_turned(points, mirror_hip, other, weight, -1.0)
    share = (0.5 + 0.5 * smooth_step(where[..., 1] / 0.03))[..., None]
    return np.asarray(share * mine + (1.0 - share) * theirs)


def _hip_turned(points: Floats, hip: Floats, limbs: Limbs, weight: Floats, side: float) -> Floats:
    out = bent(points, hip, Z, -side * limbs.hip_abduction, weight)
    return bent(out, hip, Y, -limbs.hip_flexion, weight)


def _steps(n: int, crowd: int) -> Floats:
    """n rising shares ending in 1, closer together near the start (crowd 1) or the end (-1, and more so -2)."""
    u = np.arange(1, n + 1) / n
    if crowd > 0:
        return np.asarray(u**1.35)
    return np.asarray(1.0 - (1.0 - u) ** (1.35 if crowd == -1 else 1.7))


def section(size_y: Floats, size_z: Floats, exponent: Floats, angle: Floats) -> tuple[Floats, Floats]:
    """y and z of a superellipse at angles from +y towards +z."""
    c, s = np.cos(angle), np.sin(angle)
    power = 2.0 / exponent
    return size_y * np.sign(c) * np.abs(c) ** power, size_z * np.sign(s) * np.abs(s) ** power


def leg_angles(grid: Grid) -> Floats:
    """Angle of each point of a leg ring from the outside (+y) towards the back; the first is front and inside."""
    n = 16 * grid.q
    return np.radians(-135.0 + 360.0 * np.arange(n) / n)


def _leg_points(shape: BodyShape, grid: Grid, groin: Floats) -> tuple[Floats, Floats]:
    """Standing leg rings beyond the groin, and the crotch points."""
    s = shape.skeleton
    h, q, swell = s.heights, grid.q, shape.swell * equal_area(16 * grid.q)
    half, k = grid.half, grid.crotch
    t = np.pi * np.arange(half + 1) / half
    crotch_x = np.full(k, h["crotch"])
    loop_x = np.concatenate([groin[:, 0], crotch_x])
    free = h["crotch"] - 0.055
    u = (np.arange(1, 4 * q + 1) / (4 * q))[:, None]
    x = [(1.0 - u) * loop_x + u * free]
    blend = [smooth_step((u - 0.1) / 0.9)]
    foot = h["ankle"] + 0.35 * (h["ankle"] - h["floor"])
    for n, low, high, crowd in ((5 * q, free, h["knee"], -1), (6 * q, h["knee"], foot, 1)):
        v = _steps(n, crowd)[:, None]
        x.append(np.broadcast_to((1.0 - v) * low + v * high, (n, half + 1 + k)))
        blend.append(np.ones((n, 1)))
    heights, weight = np.concatenate(x), np.concatenate(blend)[..., None]
    cy, cz, ay, az, n_ = np.moveaxis(shape.leg(heights), -1, 0)
    y, z = section(swell * ay, swell * az, n_, leg_angles(grid))
    limb = np.stack([heights, np.maximum(cy + y, 0.0), cz + z], axis=-1)
    above = _hip_shell(shape, heights, t, k)
    rings = (1.0 - weight) * above + weight * limb
    rings = _with_foot(shape, grid, rings)
    crotch = _hip_shell(shape, loop_x[None], t, k)[0, half + 1 :]
    return rings, crotch


def _hip_shell(shape: BodyShape, x: Floats, t: Floats, k: int) -> Floats:
    """The hips' outline carried down (rows, n, 3): half a trunk ring closed along the midline by k points."""
    half = len(t)
    outer = shape.trunk.at(x[:, :half], np.broadcast_to(t, (len(x), half)))
    u = np.arange(1, k + 1) / (k + 1)
    zero, straight = np.zeros((len(x), k)), np.full((len(x), k), np.pi)
    front = shape.trunk.at(x[:, half:], zero)[..., 2]
    back = shape.trunk.at(x[:, half:], straight)[..., 2]
    inner = np.stack([x[:, half:], zero, (1.0 - u) * back + u * front], axis=-1)
    return np.concatenate([outer, inner], axis=1)


def _with_foot(shape: BodyShape, grid: Grid, rings: Floats) -> Floats:
    foot = shape.foot
    side = float(shape.skeleton.joints["ankle"][1])
    fine = np.linspace(0.0, len(foot) - 1.0, 8 * grid.q + 1)[1:]
    rows = np.stack([np.interp(fine, np.arange(len(foot)), foot[:, i]) for i in range(foot.shape[1])], axis=1)
    centre = 0.5 * (rows[:, 0:2] + rows[:, 2:4])[:, None, :]
    reach = 0.5 * (rows[:, 2:4] - rows[:, 0:2])[:, None, :]
    cosine, sine = section(
        shape.swell * equal_area(16 * grid.q) * rows[:, 4:5], np.ones((len(rows), 1)), rows[:, 5:6], leg_angles(grid)
    )
    xz = centre + reach * sine[..., None]
    points = np.stack([xz[..., 0], side + cosine, xz[..., 1]], axis=-1)
    return np.concatenate([rings, points])


def _leg_bent(shape: BodyShape, rings: Floats, own: Limbs) -> Floats:
    j = shape.skeleton.joints
    weight = smooth_step((j["ankle"][0] + ANKLE_BLEND[1] - rings[..., 0]) / sum(ANKLE_BLEND))
    out = bent(rings, j["ankle"], Y, own.ankle_plantarflexion, weight)
    reach = 0.095
    weight = smooth_step((j["knee"][0] + reach - rings[..., 0]) / (2.0 * reach))
    return bent(out, j["knee"], Y, own.knee_flexion, weight)


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
        stops.append(low + (high - low) * _steps(n, crowd))
    s = np.concatenate(stops)[:, None]
    ay, az, n_ = np.moveaxis(shape.arm(s), -1, 0)
    twist = -own.pronation * smooth_step((s - elbow) / (wrist - elbow))
    swell = shape.swell * equal_area(len(angle))
    y, z = section(swell * ay, swell * az, n_, angle - twist)
    z -= swell * thumb_relief(shape.skeleton, s) * np.clip(-np.sin(angle - twist), 0.0, None) ** 3
    c, sn = np.cos(twist), np.sin(twist)
    points = np.stack([np.broadcast_to(-s, y.shape), c * y - sn * z, sn * y + c * z], axis=-1)
    reach = 0.035
    weight = smooth_step((np.broadcast_to(s, y.shape) - wrist + reach) / (2.0 * reach))
    points = bent(points, np.array([-wrist, 0.0, 0.0]), wrist_axis(own), -own.wrist_extension, weight)
    reach = 0.070
    weight = smooth_step((np.broadcast_to(s, y.shape) - elbow + reach) / (2.0 * reach))
    return bent(points, np.array([-elbow, 0.0, 0.0]), Y, -own.elbow_flexion, weight)
