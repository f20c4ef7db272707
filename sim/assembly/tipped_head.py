"""The head of a diver afloat, tipped so that the mouth is well clear of the water.

No further than that takes; where it cannot be had, to where the mouth is highest, as far as the neck goes.
"""

from __future__ import annotations

from dataclasses import replace
from math import radians
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.assembly.afloat import DiverAfloat
from sim.assembly.limbs import LINK_OF
from sim.floating.articulated import carried_point
from sim.floating.joint import Joint
from sim.floating.limp import Follow, Limp

Y: Final = np.array([0.0, 1.0, 0.0])
WELL_CLEAR: Final = (
    0.12  # m of the mouth over the water for which the head is tipped: the LSA Code's, for lifejackets
)
STAYS: Final = 0.02  # m by which another way of tipping the head must be better to leave the one it is tipped in
SAME_TIP: Final = radians(3.0)  # of the neck, within which a way of tipping counts as the one it is in


def mouth_height(diver: DiverAfloat, limp: Limp) -> float:
    """Height of the mouth over the water [m]."""
    mouth = carried_point(diver.body, limp.angles, LINK_OF["head"], diver.mouth)
    return float(limp.up @ mouth - limp.level)


def following(diver: DiverAfloat) -> Follow:
    """The joints with the neck at the angle that the diver gives it in an attitude."""
    pivot = diver.body.joints[0].point
    arm = diver.mouth - pivot

    def joints(up: Floats, level: float, angles: Floats) -> tuple[Joint, ...]:
        tipped = tipped_neck(up, level - float(up @ pivot), arm, diver.neck, float(angles[0]))
        neck = replace(diver.body.joints[0], low=tipped, high=tipped)
        return (neck, *diver.body.joints[1:])

    return joints


def tipped_neck(up: Floats, level: float, arm: Floats, neck: tuple[float, float], now: float) -> float:
    """Angle [rad] of the neck, nearest to straight, that brings the mouth WELL_CLEAR of the water; else highest.

    level : of the water over the neck's pivot [m];  arm : (3,) from there to the mouth, head straight [m]
    now : where the neck is, which it does not leave for less than STAYS
    """
    # the height over the pivot is aside + reach cos(angle - best), as the neck turns about -y
    aside = float(up[1] * arm[1])
    across, along = float(up @ arm) - aside, float(up @ np.cross(-Y, arm))
    best, reach = float(np.arctan2(along, across)), float(np.hypot(along, across))

    def height(angle: float) -> float:
        return aside + reach * float(np.cos(angle - best)) - level

    ends = [*neck, *(a for a in [_wrapped(best)] if neck[0] < a < neck[1])]
    if height(max(ends, key=height)) <= WELL_CLEAR:
        return max(ends, key=lambda a: height(a) + STAYS * (abs(a - now) < SAME_TIP))
    swing = np.arccos(np.clip((level + WELL_CLEAR - aside) / max(reach, 1e-9), -1.0, 1.0))
    some = [0.0, *neck, _wrapped(best - swing), _wrapped(best + swing)]
    return min((a for a in some if neck[0] <= a <= neck[1] and height(a) >= WELL_CLEAR - 1e-9), key=abs)


def _wrapped(angle: float) -> float:
    return float((angle + np.pi) % (2.0 * np.pi) - np.pi)
