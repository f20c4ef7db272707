"""What the spine bears: the joints at its foot and at the base of the neck, and the body above each, upright.

Points (x, z) of the side view [m], body axes.
"""

from __future__ import annotations

from math import cos, sin, tan
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid, combined
from sim.floating.clip import immersion
from sim.person.posed_body import PosedBody

# L5/S1 above the hip joints, of stature. Rules of Reed, Manary & Schneider 1999 (SAE 1999-01-0959; as coded in
# wojtusch/HuMoD) with a pelvis 23 cm wide between the front spines, 15.5 cm deep and 9.3 cm high (from memory):
# 10.6 cm for a man of 1.756 m, 11.1 cm for a woman of 1.628 m
L5_S1_UP: Final = {"male": 0.060, "female": 0.068}
# The line from hip axis to the sacral plate leans back so far in standing people: 2.5 cm at that height. Pelvic tilt,
# SD 6 degrees (Vialle et al. 2005, J Bone Joint Surg Am 87:260; from memory)
PELVIC_TILT: Final = np.radians(13.0)
# C7/T1: from the skin at C7 toward the notch, 8 degrees further up, 0.55 of the way (Reed et al. 1999, likewise)
NECK_BASE_SHARE: Final = 0.55
NECK_BASE_TURN: Final = np.radians(8.0)
HEAD_AND_ARMS: Final = ("head", "upper arm", "forearm", "hand", "upper trunk", "middle trunk")


def lumbar_joint(body: PosedBody) -> Floats:
    """L5/S1 (2,)."""
    up = L5_S1_UP[body.person.sex] * body.person.height
    return np.array([up, up * tan(PELVIC_TILT)])


def neck_base(body: PosedBody) -> Floats:
    """C7/T1 (2,)."""
    c7, notch = (body.landmarks[n][[0, 2]] for n in ("c7", "notch"))
    (up, back), c, s = notch - c7, cos(NECK_BASE_TURN), sin(NECK_BASE_TURN)
    return np.asarray(c7 + NECK_BASE_SHARE * np.array([c * up - s * back, c * back + s * up]))


def above_lumbar_joint(body: PosedBody) -> tuple[float, Floats]:
    """Mass [kg] and CM (2,) of what of the bare body is above L5/S1.

    The lowest part of the trunk, from the navel down, is cut level; its tissue is taken as even.
    """
    solids = dict(body.segments)
    level = float(lumbar_joint(body)[0])
    whole = combined([s for n, s in solids.items() if _plain(n) in HEAD_AND_ARMS])
    low = solids["lower trunk"]
    if low.mesh is None:
        raise ValueError("the body's segments have lost their meshes")
    down = np.array([-1.0, 0.0, 0.0])
    cut, all_of_it = immersion(low.mesh, down, -level), immersion(low.mesh, down, 1e3)
    share = cut.volume / all_of_it.volume
    # the mesh's own centroid is not quite the tissue's, by the same amount in every slice
    centre = cut.centroid + low.cm - all_of_it.centroid if share > 0.0 else low.cm
    mass = whole.mass + share * low.mass
    cm = (whole.mass * whole.cm + share * low.mass * centre) / mass
    return float(mass), np.asarray(cm[[0, 2]])


def above_hips(body: PosedBody) -> Solid:
    """Head, arms and trunk, which lean when the hips bend."""
    return combined([s for n, s in body.segments if _plain(n) in (*HEAD_AND_ARMS, "lower trunk")])


def head_arm(body: PosedBody, head_cm: Floats, lean: float) -> float:
    """How far ahead of C7/T1 [m] the CM (2,) of the head (given upright) is, trunk leant, head held level."""
    base, pivot = neck_base(body), body.joints["neck"][[0, 2]]
    neck = pivot - base
    behind = neck[1] * cos(lean) - neck[0] * sin(lean) + (head_cm - pivot)[1]
    return float(-behind)


def _plain(segment: str) -> str:
    return segment.removeprefix("left ").removeprefix("right ")
