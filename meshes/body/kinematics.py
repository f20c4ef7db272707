"""Where each rigid segment of a body is carried by a pose."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body.bend import X, Y, Z, rotation
from meshes.body.pose import Limbs, Pose
from meshes.body.skeleton import Skeleton
from meshes.body.topology import SEGMENTS
from meshes.mesh import Floats
from meshes.solid import MIRROR

# Of stature, arm overhead: the collar bone lifts the joint. Assumed; the overhead reach of ANSUR II, a full effort,
# asks for about 0.06 with the stretch of the trunk
SHOULDER_RISE: Final = 0.030


@dataclass(frozen=True, eq=False)
class SegmentMotion:
    """Rigid motion from the standing body (arms hanging) to the pose: p = at + rotation @ (p_standing - pivot).

    pivot : (3,) the segment's proximal joint when standing;  at : (3,) the same joint in the pose [m]
    rotation : (3, 3)
    """

    rotation: Floats
    pivot: Floats
    at: Floats

    def carried(self, point: Floats) -> Floats:
        """Points (..., 3) of the standing body carried along."""
        return np.asarray(self.at + (point - self.pivot) @ self.rotation.T)


def segment_motions(skeleton: Skeleton, pose: Pose) -> dict[str, SegmentMotion]:
    """Motion of each of the sixteen segments."""
    neck, fixed = skeleton.joints["neck"], SegmentMotion(np.eye(3), np.zeros(3), np.zeros(3))
    placed = dict.fromkeys(("lower trunk", "middle trunk", "upper trunk"), fixed)
    placed["head"] = SegmentMotion(rotation(Y, -pose.neck_extension), neck, neck)
    for side, limbs in (("left", pose.left), ("right", pose.right)):
        for name, p in {**_arm(skeleton, limbs), **_leg(skeleton, limbs)}.items():
            placed[f"{side} {name}"] = p if side == "left" else _mirrored(p)
    return {name: placed[name] for name in SEGMENTS}


@lru_cache(maxsize=16)
def shoulder_rotation(limbs: Limbs) -> Floats:
    """Rotation (3, 3) of the left upper arm from hanging."""
    return np.asarray(rotation(Y, -limbs.shoulder_flexion) @ rotation(Z, -limbs.shoulder_abduction))


def shoulder_rise(skeleton: Skeleton, limbs: Limbs) -> float:
    """How far the shoulder joint goes headward as the arm is raised [m]."""
    lowered = -float((shoulder_rotation(limbs) @ -X)[0])  # cosine of the angle from hanging
    return 0.5 * SHOULDER_RISE * skeleton.stature * (1.0 - lowered)


def upper_arm_motion(skeleton: Skeleton, limbs: Limbs) -> SegmentMotion:
    """Motion of the left upper arm."""
    joint = skeleton.joints["shoulder"]
    return SegmentMotion(shoulder_rotation(limbs), joint, joint + shoulder_rise(skeleton, limbs) * X)


def hip_rotation(limbs: Limbs) -> Floats:
    """Rotation (3, 3) of the left thigh from standing."""
    return np.asarray(rotation(Y, -limbs.hip_flexion) @ rotation(Z, -limbs.hip_abduction))


def wrist_axis(limbs: Limbs) -> Floats:
    """Axis (3,) in the left forearm's frame about which the wrist flexes (extension turns the other way)."""
    return np.asarray(rotation(X, -limbs.pronation) @ Z)


def _arm(skeleton: Skeleton, limbs: Limbs) -> dict[str, SegmentMotion]:
    j = skeleton.joints
    upper = upper_arm_motion(skeleton, limbs)
    fore = _jointed(upper, j["elbow"], rotation(Y, -limbs.elbow_flexion))
    turn = rotation(wrist_axis(limbs), -limbs.wrist_extension) @ rotation(X, -limbs.pronation)
    return {"upper arm": upper, "forearm": fore, "hand": _jointed(fore, j["wrist"], turn)}


def _leg(skeleton: Skeleton, limbs: Limbs) -> dict[str, SegmentMotion]:
    j = skeleton.joints
    thigh = SegmentMotion(hip_rotation(limbs), j["hip"], j["hip"])
    shank = _jointed(thigh, j["knee"], rotation(Y, limbs.knee_flexion))
    return {
        "thigh": thigh,
        "shank": shank,
        "foot": _jointed(shank, j["ankle"], rotation(Y, limbs.ankle_plantarflexion)),
    }


def _jointed(parent: SegmentMotion, joint: Floats, turn: Floats) -> SegmentMotion:
    return SegmentMotion(parent.rotation @ turn, joint, parent.carried(joint))


def _mirrored(p: SegmentMotion) -> SegmentMotion:
    return SegmentMotion(MIRROR @ p.rotation @ MIRROR, MIRROR @ p.pivot, MIRROR @ p.at)
