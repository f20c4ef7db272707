"""The joints of a limp body: how far each goes, and what relaxed flesh does about it.

Under water a limb weighs next to nothing, so that its own flesh decides with weight and buoyancy how it hangs. What
is published of that is used: hip, knee and ankle in the plane of walking, and the elbow. Muscles that span two joints
make the moment at one hang on the angle of the next; here each has its neighbours as in the relaxed leg, so that the
whole has an energy. Of shoulders, and of legs spread, nothing was found: they move freely between the ends of their
ranges. What a suit adds is not published either and is left out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Final

import numpy as np

from meshes.body.pose import Limbs, Pose
from meshes.body.skeleton import JointName, Skeleton
from meshes.mesh import Floats
from sim.assembly.limbs import LINK_OF
from sim.floating.joint import Joint, Spring

DEGREE: Final = np.pi / 180.0
NECK: Final = "neck_extension"
# Least and greatest angle [degrees], zero and signs as in ``meshes.body.pose``. Turned by another hand, people of 20
# to 44 (Soucie et al. 2011, Haemophilia 17:500, mean of men and women; from memory): hip extension 18, knee 1
# straightened to 140 bent, ankle 13 up and 58 down, elbow 3 and 147. Shoulder extension 60: AAOS in Norkin & White
# 2016, Table A.1; flexion 167: Vairo et al. 2012. Hip abduction 45, flexion 125: Merck Manual, Normal Values for
# Range of Motion of Joints. Shoulder abduction is 180 (AAOS), of which this model's skin goes 120; arms stop at the
# hips, which a hanging arm clears at 9 degrees, and legs at each other's fins, 6 degrees apart (assumed)
RANGES_DEG: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "shoulder_flexion": (-60.0, 167.0),
        "shoulder_abduction": (9.0, 120.0),
        "elbow_flexion": (-3.0, 147.0),
        "hip_flexion": (-18.0, 125.0),
        "hip_abduction": (3.0, 45.0),
        "knee_flexion": (-1.0, 140.0),
        "ankle_plantarflexion": (-13.0, 58.0),
    }
)
NECK_FLEXION_DEG: Final = 45.0  # AAOS, from memory
# Wiegner & Watts 1986, J Neurol Neurosurg Psychiatry 49:1171, 19 people: 0.40 to 1.8 N m/rad, of which the middle;
# the relaxed elbow at 107 degrees between upper arm and forearm (SD 10)
ELBOW_STIFFNESS: Final = 1.1  # N m/rad
ELBOW_RELAXED_DEG: Final = 73.0
LEG: Final = ("hip_flexion", "knee_flexion", "ankle_plantarflexion")
RELAXED_LEG_DEG: Final = (37.16, 15.68, 14.70)  # of hip, knee and ankle, at which all three moments are nil
# joint, parent link, child link, axis of the left side, which joint of the skeleton it turns about
_HINGES: Final[tuple[tuple[str, str, str, tuple[float, float, float], JointName], ...]] = (
    ("shoulder_flexion", "", "upper arm", (0.0, -1.0, 0.0), "shoulder"),
    ("shoulder_abduction", "", "upper arm", (0.0, 0.0, -1.0), "shoulder"),
    ("elbow_flexion", "upper arm", "forearm", (0.0, -1.0, 0.0), "elbow"),
    ("hip_flexion", "", "thigh", (0.0, -1.0, 0.0), "hip"),
    ("hip_abduction", "", "thigh", (0.0, 0.0, -1.0), "hip"),
    ("knee_flexion", "thigh", "shank", (0.0, 1.0, 0.0), "knee"),
    ("ankle_plantarflexion", "shank", "foot", (0.0, 1.0, 0.0), "ankle"),
)
SIDES: Final = ("left", "right")


def limp_joints(skeleton: Skeleton, neck: tuple[float, float]) -> tuple[Joint, ...]:
    """Joints of a standing body, first the neck, which goes from ``neck`` flexion (below 0) to extension [rad]."""
    made = [Joint(NECK, 0, LINK_OF["head"], np.array([0.0, -1.0, 0.0]), skeleton.joints["neck"], *neck)]
    for side in SIDES:
        for name, parent, child, axis, at in _HINGES:
            # a mirrored turn about y keeps its sense, one about z does not
            flip = np.array([1.0, 1.0 if side == "left" else -1.0, 1.0])
            turned = np.array(axis) * (1.0 if axis[2] == 0.0 else flip[1])
            low, high = RANGES_DEG[name]
            made.append(
                Joint(
                    f"{side} {name}", LINK_OF[f"{side} {parent}"] if parent else 0, LINK_OF[f"{side} {child}"],
                    turned, skeleton.joints[at] * flip, low * DEGREE, high * DEGREE, _spring(name),
                )
            )  # fmt: skip
    return tuple(made)


def pose_at(joints: Sequence[Joint], angles: Floats, pose: Pose) -> Pose:
    """The pose with the joints' angles (j,) [rad] in it; what they do not name is as in ``pose``."""
    at = {j.name: float(a) for j, a in zip(joints, angles, strict=True)}
    left, right = (
        replace(own, **{name: at[f"{side} {name}"] for name in RANGES_DEG})
        for side, own in zip(SIDES, (pose.left, pose.right), strict=True)
    )
    return Pose(left, right, at[NECK])


def angles_of(joints: Sequence[Joint], pose: Pose) -> Floats:
    """Angles (j,) [rad] of the joints in a pose."""
    sides: dict[str, Limbs] = {"left": pose.left, "right": pose.right}
    found = [pose.neck_extension]
    for joint in joints[1:]:
        side, name = joint.name.split(" ")
        found.append(getattr(sides[side], name))
    return np.array(found)


def _spring(joint: str) -> Spring | None:
    """What a relaxed joint of either side does by itself; None where nothing is published."""
    if joint == "elbow_flexion":
        return Spring(ELBOW_STIFFNESS * ELBOW_RELAXED_DEG * DEGREE, ELBOW_STIFFNESS, np.zeros(0), np.zeros(0))
    return leg_spring(joint, *RELAXED_LEG_DEG) if joint in LEG else None


def leg_spring(joint: str, hip: float, knee: float, ankle: float) -> Spring:
    """Passive moment of a leg's ``joint`` with its neighbours at these angles [degrees].

    Riener & Edrich 1999, J Biomech 32:539, ten healthy people (coefficients from memory, and as published code has
    them). Flexion and plantarflexion are plus; each moment falls with its own angle.
    """
    powers: tuple[tuple[float, float, float], ...]
    if joint == "hip_flexion":
        constant, powers = 8.072, ((1.0, 1.4655 - 0.0034 * knee, -0.0750), (-1.0, 1.3403 - 0.0226 * knee, 0.0305))
    elif joint == "knee_flexion":
        constant, powers = (
            -4.820,
            (
                (1.0, 1.800 - 0.0460 * ankle + 0.0217 * hip, -0.0352),
                (-1.0, -3.971 - 0.0004 * ankle - 0.0128 * hip, 0.0495),
                (1.0, 2.220, -0.150),
            ),
        )
    else:
        constant, powers = -1.792, ((1.0, 2.1016 - 0.0176 * knee, -0.0843), (-1.0, -7.9763 + 0.0008 * knee, 0.1949))
    sign, exponent, rate = np.array(powers).T
    return Spring(constant, 0.0, sign * np.exp(exponent), rate / DEGREE)
