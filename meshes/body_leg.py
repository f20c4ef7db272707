"""The skin of a leg of the left side, from the groin to the toes, and how it bends."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.body_bend import Y, Z, bent
from meshes.body_curves import equal_area, smooth_step
from meshes.body_grid import Grid
from meshes.body_pose import Limbs
from meshes.body_shape import BodyShape, crowded_steps, section
from meshes.mesh import Floats

GROIN_ANGLE: Final = np.radians(35.0)  # of the plane that parts thigh and trunk, from the horizontal (assumed)
HIP_BLEND: Final = (0.08, 0.09)  # m before and after that plane over which the skin bends
ANKLE_BLEND: Final = (0.010, 0.050)  # m below and above the ankle joint over which the skin bends
KNEE_BLEND: Final = 0.095  # m on either side of the joint, likewise
SHARED: Final = 0.03  # m from the midline over which the skin goes with both thighs


def leg_angles(grid: Grid) -> Floats:
    """Angle of each point of a leg ring from the outside (+y) towards the back; the first is front and inside."""
    n = 16 * grid.q
    return np.radians(-135.0 + 360.0 * np.arange(n) / n)


def leg_points(shape: BodyShape, grid: Grid, groin: Floats) -> tuple[Floats, Floats]:
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
        v = crowded_steps(n, crowd)[:, None]
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


def leg_bent(shape: BodyShape, rings: Floats, own: Limbs) -> Floats:
    """Leg rings bent at ankle and knee, the thigh still standing."""
    j = shape.skeleton.joints
    weight = smooth_step((j["ankle"][0] + ANKLE_BLEND[1] - rings[..., 0]) / sum(ANKLE_BLEND))
    out = bent(rings, j["ankle"], Y, own.ankle_plantarflexion, weight)
    weight = smooth_step((j["knee"][0] + KNEE_BLEND - rings[..., 0]) / (2.0 * KNEE_BLEND))
    return bent(out, j["knee"], Y, own.knee_flexion, weight)


def with_hips(shape: BodyShape, points: Floats, rest: Floats, own: Limbs, other: Limbs) -> Floats:
    """Turn what lies beyond the groin plane with the thigh; at the midline of the trunk the two sides share.

    points : (..., 3) as posed so far;  rest : the same points of the standing body, which decide how much they turn
    """
    hip = shape.skeleton.joints["hip"]
    beyond = -np.cos(GROIN_ANGLE) * (rest[..., 0] - hip[0]) + np.sin(GROIN_ANGLE) * (rest[..., 1] - hip[1])
    weight = smooth_step((beyond + HIP_BLEND[0]) / sum(HIP_BLEND))
    mine = _hip_turned(points, hip, own, weight, 1.0)
    if other == own and own.hip_abduction == 0.0:
        return mine
    mirror_hip = hip * [1.0, -1.0, 1.0]
    theirs = _hip_turned(points, mirror_hip, other, weight, -1.0)
    below = shape.skeleton.heights["crotch"] - rest[..., 0]
    share = (0.5 + 0.5 * smooth_step(np.maximum(rest[..., 1], below) / SHARED))[..., None]
    return np.asarray(share * mine + (1.0 - share) * theirs)


def _hip_turned(points: Floats, hip: Floats, limbs: Limbs, weight: Floats, side: float) -> Floats:
    out = bent(points, hip, Z, -side * limbs.hip_abduction, weight)
    return bent(out, hip, Y, -limbs.hip_flexion, weight)
