"""The left half of a body's skin as grids of points, standing shape and joint angles in, posed points out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body_bend import X, Y, Z, bent, least_rotation
from meshes.body_curves import Curves, smooth_step
from meshes.body_grid import Grid
from meshes.body_kinematics import shoulder_rotation, wrist_axis
from meshes.body_limbs import arm_sections, foot_rings, leg_sections
from meshes.body_pose import Limbs
from meshes.body_skeleton import Skeleton
from meshes.body_trunk import TrunkSurface, trunk_surface
from meshes.mesh import Floats

GROIN_ANGLE: Final = np.radians(35.0)  # of the plane that parts thigh and trunk, from the horizontal (assumed)
HIP_BLEND: Final = (0.08, 0.09)  # m before and after that plane over which the skin bends
SHOULDER_START: Final = 0.34  # of the upper arm: where the skin moves with the arm alone


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
        leg_sections(skeleton, 0.5 * skeleton.measures["hipbreadth"]),
        foot_rings(skeleton),
        swell,
    )


def left_side(shape: BodyShape, grid: Grid, own: Limbs, other: Limbs, neck_extension: float) -> Side:
    """Posed left half; ``other`` is the other side's angles, which the midline shares."""
    rest, top = _trunk_points(shape, grid)
    hip = shape.skeleton.joints["hip"]
    trunk = _with_hips(rest, hip, own, other)
    leg_rest, foot_weight, crotch_rest = _leg_points(shape, grid, rest[0])
    leg = _leg_bent(shape, leg_rest, foot_weight, own)
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
    """Height x (rows, half + 1) of every point of the standing trunk grid, from the groin to just below the vertex."""
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
    t = np.broadcast_to(np.pi * np.arange(grid.half + 1) / grid.half, x.shape)
    points = shape.trunk.at(x, t)
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


def section(size_y: Floats, size_z: Floats, exponent: Floats, angle: Floats) -> tuple[Floats, Floats]:
    """y and z of a superellipse at angles from +y towards +z."""
    c, s = np.cos(angle), np.sin(angle)
    power = 2.0 / exponent
    return size_y * np.sign(c) * np.abs(c) ** power, size_z * np.sign(s) * np.abs(s) ** power


def leg_angles(grid: Grid) -> Floats:
    """Angle of each point of a leg ring from the outside (+y) towards the back; the first is front and inside."""
    n = 16 * grid.q
    return np.radians(-135.0 + 360.0 * np.arange(n) / n)


def _leg_points(shape: BodyShape, grid: Grid, groin: Floats) -> tuple[Floats, Floats, Floats]:
    """Standing leg rings beyond the groin, their ankle weight (rows,), and the crotch points."""
    s = shape.skeleton
    h, q, swell = s.heights, grid.q, shape.swell
    half, k = grid.half, grid.crotch
    t = np.pi * np.arange(half + 1) / half
    crotch_x = np.full(k, h["crotch"])
    loop_x = np.concatenate([groin[:, 0], crotch_x])
    free = h["crotch"] - 0.055
    u = (np.arange(1, 4 * q + 1) / (4 * q))[:, None]
    x = [(1.0 - u) * loop_x + u * free]
    blend = [smooth_step(u)]
    for n, low, high in ((5 * q, free, h["knee"]), (6 * q, h["knee"], h["ankle"] + 0.35 * (h["ankle"] - h["floor"]))):
        v = (np.arange(1, n + 1) / n)[:, None]
        x.append(np.broadcast_to((1.0 - v) * low + v * high, (n, half + 1 + k)))
        blend.append(np.ones((n, 1)))
    heights, weight = np.concatenate(x), np.concatenate(blend)[..., None]
    cy, cz, ay, az, n_ = np.moveaxis(shape.leg(heights), -1, 0)
    y, z = section(swell * ay, swell * az, n_, leg_angles(grid))
    limb = np.stack([heights, np.maximum(cy + y, 0.0), cz + z], axis=-1)
    above = _hip_shell(shape, heights, t, k)
    rings = (1.0 - weight) * above + weight * limb
    rings, ankle = _with_foot(shape, grid, rings)
    crotch = _hip_shell(shape, loop_x[None], t, k)[0, half + 1 :]
    return rings, ankle, crotch


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


def _with_foot(shape: BodyShape, grid: Grid, rings: Floats) -> tuple[Floats, Floats]:
    foot = shape.foot
    side = float(shape.skeleton.joints["ankle"][1])
    fine = np.linspace(0.0, len(foot) - 1.0, 8 * grid.q + 1)[1:]
    rows = np.stack([np.interp(fine, np.arange(len(foot)), foot[:, i]) for i in range(foot.shape[1])], axis=1)
    centre = 0.5 * (rows[:, 0:2] + rows[:, 2:4])[:, None, :]
    reach = 0.5 * (rows[:, 2:4] - rows[:, 0:2])[:, None, :]
    cosine, sine = section(shape.swell * rows[:, 4:5], np.ones((len(rows), 1)), rows[:, 5:6], leg_angles(grid))
    xz = centre + reach * sine[..., None]
    points = np.stack([xz[..., 0], side + cosine, xz[..., 1]], axis=-1)
    weight = np.concatenate([np.zeros(len(rings)), smooth_step(fine / (0.35 * len(foot)))])
    return np.concatenate([rings, points]), weight


def _leg_bent(shape: BodyShape, rings: Floats, foot_weight: Floats, own: Limbs) -> Floats:
    j = shape.skeleton.joints
    out = bent(rings, j["ankle"], Y, own.ankle_plantarflexion, np.broadcast_to(foot_weight[:, None], rings.shape[:2]))
    reach = 0.075
    weight = smooth_step((j["knee"][0] + reach - rings[..., 0]) / (2.0 * reach))
    return bent(out, j["knee"], Y, own.knee_flexion, weight)


def _arm(shape: BodyShape, grid: Grid, trunk: Floats, own: Limbs) -> Floats:
    loop = armhole(trunk, grid)
    j = shape.skeleton.joints
    turn = shoulder_rotation(own)
    direction = turn @ -X
    carry = least_rotation(Y, direction)
    first = turn.T @ carry @ X
    n = 12 * grid.q
    angle = np.radians(-135.0) - 2.0 * np.pi * np.arange(n) / n + np.arctan2(first[2], first[1])
    start = SHOULDER_START * float(j["shoulder"][0] - j["elbow"][0])
    free = j["shoulder"] + _arm_local(shape, grid, own, angle, start) @ turn.T
    return np.concatenate([_shoulder_rings(loop, free[0], j["shoulder"], start, direction, grid), free])


def armhole(trunk: Floats, grid: Grid) -> Floats:
    """The loop (12 q, 3) of trunk points round the armhole: bottom front, along the bottom, up the back, over."""
    i0, i1 = grid.hole_rows
    j0, j1 = grid.hole_columns
    return np.concatenate([trunk[i0, j0:j1], trunk[i0:i1, j1], trunk[i1, j1:j0:-1], trunk[i1:i0:-1, j0]])


def _arm_local(shape: BodyShape, grid: Grid, own: Limbs, angle: Floats, start: float) -> Floats:
    """Rings of the arm beyond the shoulder in the upper arm's frame, origin at the shoulder joint."""
    j, q = shape.skeleton.joints, grid.q
    shoulder = float(j["shoulder"][0])
    elbow, wrist, tip = (shoulder - float(j[k][0]) for k in ("elbow", "wrist", "fingertip"))
    stops = [np.array([start])]
    for n, low, high in ((3 * q, start, elbow), (4 * q, elbow, wrist), (5 * q, wrist, tip)):
        v = np.arange(1, n + 1) / n
        if high == tip:
            v = np.sin(0.5 * np.pi * v) ** 0.9
        stops.append(low + (high - low) * v)
    s = np.concatenate(stops)[:, None]
    off_y, off_z, ay, az, n_ = np.moveaxis(shape.arm(s), -1, 0)
    twist = -own.pronation * smooth_step((s - elbow) / (wrist - elbow))
    y, z = section(shape.swell * ay, shape.swell * az, n_, angle - twist)
    y, z = y + off_y, z + off_z
    c, sn = np.cos(twist), np.sin(twist)
    points = np.stack([np.broadcast_to(-s, y.shape), c * y - sn * z, sn * y + c * z], axis=-1)
    reach = 0.035
    weight = smooth_step((np.broadcast_to(s, y.shape) - wrist + reach) / (2.0 * reach))
    points = bent(points, np.array([-wrist, 0.0, 0.0]), wrist_axis(own), -own.wrist_extension, weight)
    reach = 0.055
    weight = smooth_step((np.broadcast_to(s, y.shape) - elbow + reach) / (2.0 * reach))
    return bent(points, np.array([-elbow, 0.0, 0.0]), Y, -own.elbow_flexion, weight)


def _shoulder_rings(loop: Floats, free: Floats, joint: Floats, start: float, along: Floats, grid: Grid) -> Floats:
    """Rings between the armhole and the first that is the arm's alone, turning smoothly from one to the other."""
    centre = loop.mean(axis=0)
    end = joint + start * along
    carry = least_rotation(Y, along)
    first, last = loop - centre, (free - end) @ carry
    rings = []
    for t in np.arange(1, 3 * grid.q) / (3 * grid.q):
        middle = (1.0 - t) ** 2 * centre + 2.0 * t * (1.0 - t) * joint + t * t * end
        heading = (1.0 - t) * (joint - centre) + t * (end - joint)
        turn = least_rotation(Y, heading / np.linalg.norm(heading))
        w = float(smooth_step(np.asarray(t)))
        rings.append(middle + ((1.0 - w) * first + w * last) @ turn.T)
    return np.array(rings)
