"""The skin of a leg of the left side, from the groin to the toes, and how it bends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body.bend import Y, Z, bent
from meshes.body.curves import equal_area, smooth_step
from meshes.body.grid import Grid
from meshes.body.pose import Limbs
from meshes.body.shape import BodyShape, crowded_steps, section
from meshes.body.swelling import Swelling
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


@dataclass(frozen=True, eq=False)
class LegSwelling:
    """A standing leg as it swells.

    hips : (4 q, n, 3) the hips' outline carried down, into which the upper rings of the leg run by ``blend``
    limb : (15 q, n, 3) the leg on its own;  foot : (8 q, n, 3);  crotch : (k, 3) under the groin
    """

    hips: Swelling
    limb: Swelling
    blend: Floats
    foot: Swelling
    crotch: Swelling

    def rings(self, swell: float) -> Floats:
        """Leg rings beyond the groin (23 q, n, 3)."""
        limb = self.limb.at(swell)
        np.maximum(limb[..., 1], 0.0, out=limb[..., 1])
        upper = len(self.blend)
        limb[:upper] = (1.0 - self.blend) * self.hips.at(swell) + self.blend * limb[:upper]
        return np.concatenate([limb, self.foot.at(swell)])


def leg_swelling(shape: BodyShape, grid: Grid, groin: Floats) -> LegSwelling:
    """The leg below groin points at heights ``groin`` (half + 1,) [m]."""
    h, q = shape.skeleton.heights, grid.q
    half, k = grid.half, grid.crotch
    t = np.pi * np.arange(half + 1) / half
    loop_x = np.concatenate([groin, np.full(k, h["crotch"])])
    free = h["crotch"] - 0.055
    u = (np.arange(1, 4 * q + 1) / (4 * q))[:, None]
    x = [(1.0 - u) * loop_x + u * free]
    foot = h["ankle"] + 0.35 * (h["ankle"] - h["floor"])
    for n, low, high, crowd in ((5 * q, free, h["knee"], -1), (6 * q, h["knee"], foot, 1)):
        v = crowded_steps(n, crowd)[:, None]
        x.append(np.broadcast_to((1.0 - v) * low + v * high, (n, half + 1 + k)))
    heights = np.concatenate(x)
    cy, cz, ay, az, n_ = np.moveaxis(shape.leg(heights), -1, 0)
    round_off = equal_area(16 * q)
    y, z = section(round_off * ay, round_off * az, n_, leg_angles(grid))
    hips = _hip_shell(shape, np.concatenate([loop_x[None], x[0]]), t, k)
    return LegSwelling(
        hips=Swelling(hips.axis[1:], hips.out[1:]),
        limb=Swelling(np.stack([heights, cy, cz], axis=-1), np.stack([np.zeros_like(y), y, z], axis=-1)),
        blend=smooth_step((u - 0.1) / 0.9)[..., None],
        foot=_foot(shape, grid),
        crotch=Swelling(hips.axis[0, half + 1 :], hips.out[0, half + 1 :]),
    )


def _hip_shell(shape: BodyShape, x: Floats, t: Floats, k: int) -> Swelling:
    """The hips' outline carried down (rows, n, 3): half a trunk ring closed along the midline by k points."""
    half = len(t)
    angles = np.concatenate([t, np.zeros(k), np.full(k, np.pi)])
    heights = np.concatenate([x, x[:, half:]], axis=1)
    ways = shape.trunk.swelling(heights, np.broadcast_to(angles, heights.shape))
    u = (np.arange(1, k + 1) / (k + 1))[:, None]

    def closed(way: Floats) -> Floats:
        front, back = way[:, half : half + k], way[:, half + k :]
        return np.concatenate([way[:, :half], (1.0 - u) * back + u * front], axis=1)

    return Swelling(closed(ways.axis), closed(ways.out))


def _foot(shape: BodyShape, grid: Grid) -> Swelling:
    foot, side = shape.foot, float(shape.skeleton.joints["ankle"][1])
    fine = np.linspace(0.0, len(foot) - 1.0, 8 * grid.q + 1)[1:]
    rows = np.stack([np.interp(fine, np.arange(len(foot)), foot[:, i]) for i in range(foot.shape[1])], axis=1)
    centre = 0.5 * (rows[:, 0:2] + rows[:, 2:4])[:, None, :]
    reach = 0.5 * (rows[:, 2:4] - rows[:, 0:2])[:, None, :]
    cosine, sine = section(
        equal_area(16 * grid.q) * rows[:, 4:5], np.ones((len(rows), 1)), rows[:, 5:6], leg_angles(grid)
    )
    xz = centre + reach * sine[..., None]
    zero = np.zeros_like(cosine)
    return Swelling(
        np.stack([xz[..., 0], np.full_like(cosine, side), xz[..., 1]], axis=-1),
        np.stack([zero, cosine, zero], axis=-1),
    )


def leg_bent(shape: BodyShape, rings: Floats, own: Limbs) -> Floats:
    """Leg rings bent at ankle and knee, the thigh still standing."""
    j = shape.skeleton.joints
    if own.ankle_plantarflexion == own.knee_flexion == 0.0:
        return rings
    weight = smooth_step((j["ankle"][0] + ANKLE_BLEND[1] - rings[..., 0]) / sum(ANKLE_BLEND))
    out = bent(rings, j["ankle"], Y, own.ankle_plantarflexion, weight)
    weight = smooth_step((j["knee"][0] + KNEE_BLEND - rings[..., 0]) / (2.0 * KNEE_BLEND))
    return bent(out, j["knee"], Y, own.knee_flexion, weight)


def with_hips(shape: BodyShape, points: Floats, rest: Floats, own: Limbs, other: Limbs) -> Floats:
    """Turn what lies beyond the groin plane with the thigh; at the midline of the trunk the two sides share.

    points : (..., 3) as posed so far;  rest : the same points of the standing body, which decide how much they turn
    """
    if own.hip_flexion == own.hip_abduction == other.hip_flexion == other.hip_abduction == 0.0:
        return points
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
