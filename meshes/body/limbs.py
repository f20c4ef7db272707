"""Sections of arms, legs and feet of a standing body, left side: half-breadths along each limb."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.body.curves import Curves, half_breadth_of_girth, smooth_step, station_curves
from meshes.body.skeleton import ANKLE_FROM_HEEL, SEAT_BEHIND, Skeleton
from meshes.mesh import Floats

RELAXED_BICEPS: Final = 0.94  # of the flexed girth, at mid-arm (assumed)
AXILLARY_ARM: Final = 1.02  # girth under the armpit / flexed biceps girth; ANSUR 1988 means, from memory
RELAXED_FOREARM: Final = 0.016  # m less than flexed: bdims against ANSUR II
HAND_THICKNESS: Final = 0.36  # of hand breadth; no survey measure; the mitt also holds the thumb (assumed)
DELTOID: Final = 1.02  # how far the skin bulges from the shoulder joint / mean radius of the arm's root and mid-arm
THUMB: Final = 0.26  # how far the ball of the thumb stands out / hand breadth (assumed)
THIGH_GAP: Final = 0.004  # m, from the midline to the thigh at the crotch (assumed)
TAU: Final = 2.0 * np.pi


def arm_sections(s: Skeleton) -> Curves:
    """Curves over the distance from the shoulder joint towards the fingertip [m].

    Values: half-size left-right, half-size front-back, exponent.
    """
    m, j = s.measures, s.joints
    elbow = float(j["shoulder"][0] - j["elbow"][0])
    wrist = float(j["shoulder"][0] - j["wrist"][0])
    tip = float(j["shoulder"][0] - j["fingertip"][0])
    biceps = RELAXED_BICEPS * m["bicepscircumferenceflexed"] / TAU
    fore = (m["forearmcircumferenceflexed"] - RELAXED_FOREARM) / TAU
    wr = m["wristcircumference"] / TAU
    palm, thick = 0.5 * m["handbreadth"], 0.5 * HAND_THICKNESS * m["handbreadth"]
    hand = tip - wrist
    root = AXILLARY_ARM * m["bicepscircumferenceflexed"] / TAU
    rows = [
        (0.20 * elbow, 0.96 * root, 1.04 * root, 2.0),
        (0.38 * elbow, 0.5 * (root + biceps), 0.54 * (root + biceps), 2.0),
        (0.62 * elbow, 0.96 * biceps, 1.04 * biceps, 2.0),
        (0.86 * elbow, 0.90 * fore, 0.95 * fore, 2.1),
        (elbow, 0.92 * fore, 0.92 * fore, 2.2),
        (elbow + 0.22 * (wrist - elbow), 0.98 * fore, 1.02 * fore, 2.1),
        (elbow + 0.60 * (wrist - elbow), 0.5 * (fore + wr), 0.55 * fore + 0.5 * wr, 2.1),
        (wrist - 0.02, 0.86 * wr, 1.14 * wr, 2.2),
        (wrist + 0.10 * hand, 0.84 * wr, 1.22 * wr, 2.3),
        (wrist + 0.38 * hand, 1.06 * thick, 1.06 * palm, 2.5),
        (wrist + 0.62 * hand, 0.90 * thick, 1.00 * palm, 2.7),
        (wrist + 0.86 * hand, 0.60 * thick, 0.80 * palm, 2.7),
        (wrist + 0.96 * hand, 0.44 * thick, 0.50 * palm, 2.5),
        (tip, 0.10 * thick, 0.12 * palm, 2.0),
    ]
    table = np.array(rows)
    return station_curves(table[:, 0], table[:, 1:])


def arm_outward(s: Skeleton) -> float:
    """How far the root of the arm lies outside the shoulder joint [m], so that the deltoids are as broad as measured.

    The joint goes by the shoulder blades; muscle and fat of the chest's side push the arm away from it.
    """
    m = s.measures
    radius = 0.5 * (AXILLARY_ARM + RELAXED_BICEPS) * m["bicepscircumferenceflexed"] / TAU
    return 0.5 * m["bideltoidbreadth"] - float(s.joints["shoulder"][1]) - DELTOID * radius


def thumb_relief(s: Skeleton, along: Floats) -> Floats:
    """How far the thumb side of the hand stands out [m] at distances from the shoulder joint [m]."""
    j, m = s.joints, s.measures
    wrist, tip = (float(j["shoulder"][0] - j[k][0]) for k in ("wrist", "fingertip"))
    u = (along - wrist) / (tip - wrist)
    return np.asarray(THUMB * m["handbreadth"] * smooth_step((u - 0.06) / 0.26) * smooth_step((0.70 - u) / 0.20))


def leg_sections(s: Skeleton) -> Curves:
    """Curves over the height x [m] of a standing leg, from the crotch to above the ankle.

    Values: y and z of the centre, half-size left-right, half-size front-back, exponent.
    """
    m, h = s.measures, s.heights
    hip, knee_y, ankle_y = (float(s.joints[k][1]) for k in ("hip", "knee", "ankle"))
    knee_z, ankle_z = (float(s.joints[k][2]) for k in ("knee", "ankle"))
    root_z = (SEAT_BEHIND - 0.5) * m["buttockdepth"]  # midway between front and back of the hips
    crotch, knee, ankle = h["crotch"], h["knee"], h["ankle"]
    thigh, low = m["thighcircumference"], m["lowerthighcircumference"] / TAU
    calf, small = m["calfcircumference"] / TAU, m["anklecircumference"] / TAU
    top = 0.5 * (0.985 * 0.5 * m["hipbreadth"] - THIGH_GAP)  # the thighs share the breadth of the hips
    deep = half_breadth_of_girth(top, 2.2, thigh)
    upper = 0.80 * thigh / TAU + 0.20 * low  # radius at mid-thigh
    long, shin = crotch - knee, knee - ankle
    bow = 0.5 * (hip + knee_y) - 0.002

    def shank_y(share: float) -> float:
        return ankle_y + share * (knee_y - ankle_y)

    def shank_z(share: float) -> float:
        return ankle_z + share * (knee_z - ankle_z)

    rows = [
        (ankle - 0.05, ankle_y, ankle_z + 0.005, 0.88 * small, 1.12 * small, 2.1),
        (ankle + 0.13 * shin, ankle_y, shank_z(0.13) + 0.006, 0.91 * small, 1.08 * small, 2.1),
        (
            ankle + 0.36 * shin,
            shank_y(0.36),
            shank_z(0.36) + 0.012,
            0.58 * calf + 0.36 * small,
            0.62 * calf + 0.42 * small,
            2.1,
        ),
        (ankle + 0.68 * shin, shank_y(0.68) + 0.003, shank_z(0.68) + 0.021, 0.98 * calf, 1.03 * calf, 2.1),
        (ankle + 0.87 * shin, shank_y(0.87), shank_z(0.87) + 0.012, 0.91 * calf, 0.97 * calf, 2.2),
        (knee, knee_y, knee_z + 0.006, 0.92 * low, 0.97 * low, 2.3),
        (knee + 0.16 * long, knee_y, knee_z + 0.006, 0.98 * low, 1.03 * low, 2.2),
        (knee + 0.52 * long, bow, 0.5 * (knee_z + root_z) + 0.010, 0.95 * upper, 1.06 * upper, 2.1),
        (crotch - 0.045, THIGH_GAP + top, root_z + 0.002, top, deep, 2.2),
        (crotch + 0.05, THIGH_GAP + top, root_z + 0.002, top, deep, 2.2),
    ]
    table = np.array(rows)
    return station_curves(table[:, 0], table[:, 1:])


def foot_rings(s: Skeleton) -> Floats:
    """Sagittal outline of the foot as rings (k, 6): x, z of the instep side, x, z of the sole side, half-breadth, n.

    From above the ankle round the heel to the toes; the ring planes fan about the instep.
    """
    m, h = s.measures, s.heights
    length, broad = m["footlength"], 0.5 * m["footbreadthhorizontal"]
    an = m["anklecircumference"] / TAU
    floor, lift = h["floor"], h["ankle"] - h["floor"]
    heel = float(s.joints["ankle"][2]) + ANKLE_FROM_HEEL * length
    rows = [
        # instep, then sole: up as a share of the ankle's height, forward of the heel as a share of foot length
        (1.32, 0.400, 1.05, 0.035, 0.92 * an),
        (1.14, 0.435, 0.55, 0.000, 0.94 * an),
        (1.02, 0.470, 0.10, 0.020, 0.90 * an),
        (0.92, 0.505, 0.00, 0.150, 0.88 * an),
        (0.82, 0.550, 0.03, 0.320, 0.76 * broad),
        (0.69, 0.625, 0.05, 0.500, 0.83 * broad),
        (0.51, 0.740, 0.00, 0.710, 0.98 * broad),
        (0.38, 0.860, 0.00, 0.860, 0.92 * broad),
        (0.33, 0.940, 0.02, 0.950, 0.74 * broad),
        (0.25, 0.988, 0.08, 0.995, 0.42 * broad),
    ]
    t = np.array(rows)
    return np.stack(
        [
            floor + lift * t[:, 0], heel - length * t[:, 1], floor + lift * t[:, 2], heel - length * t[:, 3],
            t[:, 4], np.full(len(t), 2.4),
        ],
        axis=1,
    )  # fmt: skip
