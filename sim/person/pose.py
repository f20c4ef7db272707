"""Poses by name. Angles in radians, meaning and zero as in ``meshes.body.pose``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from math import isfinite, radians
from types import MappingProxyType
from typing import Final

from meshes.body.pose import Limbs, Pose

__all__ = ["POSES", "RANGES", "Limbs", "Pose", "checked_pose", "symmetric_pose"]

# Least and greatest angle [deg] that a joint is let take: means of AAOS and Boone & Azen 1979 plus about 2 SD
RANGES: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "shoulder_flexion": (-60.0, 190.0),
        "shoulder_abduction": (-20.0, 120.0),
        "elbow_flexion": (-10.0, 155.0),
        "pronation": (-90.0, 180.0),
        "wrist_extension": (-85.0, 85.0),
        "hip_flexion": (-30.0, 130.0),
        "hip_abduction": (-10.0, 60.0),
        "knee_flexion": (-5.0, 150.0),
        "ankle_plantarflexion": (-35.0, 75.0),
        "neck_extension": (-60.0, 90.0),
    }
)


def symmetric_pose(neck_extension: float = 0.0, **angles: float) -> Pose:
    """Pose with both sides alike; ``angles`` are fields of ``Limbs`` [rad]."""
    limbs = Limbs(**angles)
    return checked_pose(Pose(limbs, limbs, neck_extension))


def checked_pose(pose: Pose) -> Pose:
    """The pose itself; raises ValueError naming the joint when an angle is beyond what a joint does."""
    named = [("neck_extension", pose.neck_extension)]
    named += [(f.name, getattr(side, f.name)) for side in (pose.left, pose.right) for f in fields(side)]
    for name, angle in named:
        low, high = RANGES[name]
        if not (isfinite(angle) and radians(low) - 1e-9 <= angle <= radians(high) + 1e-9):
            raise ValueError(
                f"{name.replace('_', ' ')} must be {low:g} to {high:g} degrees, got {angle * 57.29578:g}"
            )
    return pose


def _degrees(neck_extension: float = 0.0, **angles: float) -> Pose:
    return symmetric_pose(radians(neck_extension), **{k: radians(v) for k, v in angles.items()})


# What divers call them: common practice. The angles are assumed, chosen by eye.
_ARMS_AHEAD: Final = {
    "shoulder_flexion": 130.0, "shoulder_abduction": 12.0, "elbow_flexion": 42.0, "pronation": 80.0,
    "wrist_extension": 0.0,
}  # fmt: skip
POSES: Final[Mapping[str, Pose]] = MappingProxyType(
    {
        "flat, knees bent": _degrees(
            50.0, **_ARMS_AHEAD, hip_flexion=0.0, hip_abduction=6.0, knee_flexion=95.0, ankle_plantarflexion=-5.0
        ),
        "flat, legs straight": _degrees(
            45.0, **_ARMS_AHEAD, hip_flexion=0.0, hip_abduction=5.0, knee_flexion=8.0, ankle_plantarflexion=60.0
        ),
        "arms ahead": _degrees(
            30.0, shoulder_flexion=165.0, shoulder_abduction=8.0, elbow_flexion=15.0, pronation=80.0,
            hip_abduction=4.0, knee_flexion=5.0, ankle_plantarflexion=60.0,
        ),
        "arms at sides": _degrees(
            35.0, shoulder_flexion=-8.0, shoulder_abduction=9.0, elbow_flexion=12.0, pronation=30.0,
            hip_abduction=4.0, knee_flexion=5.0, ankle_plantarflexion=60.0,
        ),
        "upright": _degrees(shoulder_abduction=9.0, elbow_flexion=5.0, pronation=20.0, hip_abduction=2.0),
    }
)  # fmt: skip
