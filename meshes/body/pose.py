"""Joint angles of a body [rad]. Zero is standing upright, arms hanging, palms to the thighs, feet forward."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limbs:
    """Angles of the arm and leg of one side, the same sign on both sides.

    shoulder_flexion : arm forward (pi is overhead);  shoulder_abduction : arm out to its side
    elbow_flexion : forearm towards the front of the upper arm;  pronation : thumb turned inwards
    wrist_extension : back of the hand towards the forearm
    hip_flexion : thigh forward;  hip_abduction : thigh out to its side
    knee_flexion : foot towards the back;  ankle_plantarflexion : toes away from the shin
    """

    shoulder_flexion: float = 0.0
    shoulder_abduction: float = 0.0
    elbow_flexion: float = 0.0
    pronation: float = 0.0
    wrist_extension: float = 0.0
    hip_flexion: float = 0.0
    hip_abduction: float = 0.0
    knee_flexion: float = 0.0
    ankle_plantarflexion: float = 0.0


@dataclass(frozen=True)
class Pose:
    """Angles of both sides and of the neck (extension: head back, as when looking ahead face-down)."""

    left: Limbs
    right: Limbs
    neck_extension: float = 0.0
