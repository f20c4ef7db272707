"""Sections of arms, legs and feet of a standing body, left side: half-breadths along each limb."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.body_curves import Curves, half_breadth_of_girth, station_curves
from meshes.body_skeleton import Skeleton
from meshes.mesh import Floats

RELAXED_BICEPS: Final = 0.92  # of the flexed girth (assumed)
RELAXED_FOREARM: Final = 0.016  # m less than flexed: bdims against ANSUR II
HAND_THICKNESS: Final = 0.31  # of hand breadth; no survey measure (assumed)
TAU: Final = 2.0 * np.pi


def arm_sections(s: Skeleton) -> Curves:
    """Curves over the distance from the shoulder joint towards the fingertip [m].

    Values: lateral offset of the centre, backward offset, half-size left-right, half-size front-back, exponent.
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
    rows = [
        (0.22 * elbow, 0.0, 0.0, 1.02 * biceps, 1.10 * biceps, 2.0),
        (0.36 * elbow, 0.0, 0.0, 0.98 * biceps, 1.06 * biceps, 2.0),
        (0.60 * elbow, 0.0, 0.0, 0.93 * biceps, 1.06 * biceps, 2.0),
        (0.85 * elbow, 0.0, 0.0, 0.90 * fore, 0.95 * fore, 2.1),
        (elbow, 0.0, 0.0, 0.92 * fore, 0.92 * fore, 2.2),
        (elbow + 0.22 * (wrist - elbow), 0.0, 0.0, 0.98 * fore, 1.02 * fore, 2.1),
        (elbow + 0.60 * (wrist - elbow), 0.0, 0.0, 0.5 * (fore + wr), 0.55 * fore + 0.5 * wr, 2.1),
        (wrist - 0.02, 0.0, 0.0, 0.86 * wr, 1.14 * wr, 2.2),
        (wrist + 0.10 * hand, 0.0, 0.0, 0.80 * wr, 1.20 * wr, 2.3),
        (wrist + 0.38 * hand, 0.0, 0.0, 1.05 * thick, 1.00 * palm, 2.6),
        (wrist + 0.60 * hand, 0.0, 0.0, 0.92 * thick, 0.97 * palm, 2.8),
        (wrist + 0.86 * hand, 0.0, 0.0, 0.66 * thick, 0.76 * palm, 2.8),
        (wrist + 0.97 * hand, 0.0, 0.0, 0.45 * thick, 0.42 * palm, 2.5),
        (tip, 0.0, 0.0, 0.10 * thick, 0.10 * palm, 2.0),
    ]
    table = np.array(rows)
    return station_curves(table[:, 0], table[:, 1:])


def leg_sections(s: Skeleton, hip_half: float) -> Curves:
    """Curves over the height x [m] of a standing leg, from the crotch to above the ankle.

    Values: y and z of the centre, half-size left-right, half-size front-back, exponent.
    ``hip_half`` : half-breadth of the hips [m], which the two thighs share.
    """
    m, h = s.measures, s.heights
    side = float(s.joints["hip"][1])
    crotch, knee, ankle = h["crotch"], h["knee"], h["ankle"]
    upper, lower = m["thighcircumference"], m["lowerthighcircumference"]
    calf, small = m["calfcircumference"], m["anklecircumference"]
    top = 0.5 * (0.96 * hip_half - 0.004)
    top_depth = half_breadth_of_girth(top, 2.2, upper)
    long, shin = crotch - knee, knee - ankle
    mid = (upper - 0.36 * (upper - lower)) / TAU
    low, cf, an = lower / TAU, calf / TAU, small / TAU
    rows = [
        (0.040, side, 0.010, 0.90 * an, 1.15 * an, 2.1),
        (ankle + 0.14 * shin, side, 0.010, 0.93 * an, 1.08 * an, 2.1),
        (ankle + 0.36 * shin, side, 0.013, 0.80 * (cf * 0.62 + an * 0.40) * 1.2, 1.02 * (cf * 0.62 + an * 0.40), 2.1),
        (ankle + 0.66 * shin, side, 0.020, 0.97 * cf, 1.04 * cf, 2.1),
        (ankle + 0.86 * shin, side, 0.008, 0.91 * cf, 0.97 * cf, 2.2),
        (knee, side, 0.002, 0.93 * low, 0.98 * low, 2.3),
        (knee + 0.16 * long, side, -0.004, 0.98 * low, 1.04 * low, 2.2),
        (knee + 0.50 * long, side, -0.008, 0.95 * mid, 1.05 * mid, 2.1),
        (crotch - 0.04, 0.004 + top, -0.004, top, top_depth, 2.2),
        (crotch + 0.05, 0.004 + top, -0.004, top, top_depth, 2.2),
    ]
    table = np.array(rows)
    table[0, 0] = ankle - 0.05
    return station_curves(table[:, 0], table[:, 1:])


def foot_rings(s: Skeleton) -> Floats:
    """Sagittal outline of the foot as rings (k, 6): x, z of the instep side, x, z of the sole side, half-breadth, n.

    From above the ankle round the heel to the toes; the ring planes fan about the instep.
    """
    m, h = s.measures, s.heights
    length, broad = m["footlength"], 0.5 * m["footbreadthhorizontal"]
    an = m["anklecircumference"] / TAU
    floor, lift = h["floor"], h["ankle"] - h["floor"]
    heel = float(s.joints["ankle"][2]) + 0.235 * length
    rows = [
        # up and forward of the heel's lower back corner, as fractions of malleolus height and foot length
        (1.30, 0.405, 0.95, 0.012, 0.92 * an),
        (1.12, 0.44, 0.45, 0.0, 0.95 * an),
        (1.02, 0.47, 0.06, 0.03, 0.93 * an),
        (0.92, 0.50, 0.0, 0.16, 0.94 * an),
        (0.84, 0.54, 0.0, 0.32, 0.80 * broad),
        (0.70, 0.62, 0.02, 0.50, 0.86 * broad),
        (0.50, 0.74, 0.0, 0.71, 1.0 * broad),
        (0.36, 0.86, 0.0, 0.86, 0.94 * broad),
        (0.28, 0.95, 0.02, 0.955, 0.70 * broad),
        (0.17, 0.995, 0.08, 1.0, 0.30 * broad),
    ]
    t = np.array(rows)
    return np.stack(
        [
            floor + lift * t[:, 0], heel - length * t[:, 1], floor + lift * t[:, 2], heel - length * t[:, 3],
            t[:, 4], np.full(len(t), 2.4),
        ],
        axis=1,
    )  # fmt: skip
