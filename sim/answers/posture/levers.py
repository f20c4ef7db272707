"""What a relaxed diver trims with, and how far each goes.

None of it is measured anywhere that could be found: the ranges are those that divers are taught to rest in (common
practice), their angles assumed, all well inside what the joints do (``sim.person.pose.RANGES``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import radians
from typing import Final, Literal

from meshes.body.pose import Pose
from sim.said import word

LeverName = Literal["knees", "hips", "arms", "head", "breath"]
Angles = Mapping[str, float]  # joint angles [degrees] by name, both sides alike


@dataclass(frozen=True)
class Lever:
    """Something to trim with: the angles at either end of its comfortable range, as in ``meshes.body.pose``.

    words : what the diver does there, at either end;  basis : where the range comes from
    """

    name: LeverName
    ends: tuple[Angles, Angles]
    words: tuple[str, str]
    basis: str


KNEES: Final = (60.0, 120.0)  # degrees of flexion
SMALL: Final = 20.0  # degrees, a small shift of the knees: feet 15 cm higher or lower (assumed)
LEVERS: Final = (
    Lever(
        word("knees"), ({"knee_flexion": KNEES[0]}, {"knee_flexion": KNEES[1]}),
        (word("knees opened to 60 degrees"), word("heels drawn in, knees at 120 degrees")),
        "60 to 120 degrees: from half stretched to heels drawn in (common practice; angles assumed)",
    ),
    Lever(
        word("hips"), ({"hip_flexion": -10.0}, {"hip_flexion": 20.0}),
        (word("back arched, thighs 10 degrees up"), word("thighs dropped by 20 degrees")),
        "thighs 10 degrees up to 20 down: from an arched back to low knees (common practice; angles assumed)",
    ),
    Lever(
        word("arms"),
        ({"shoulder_flexion": 165.0, "elbow_flexion": 15.0}, {"shoulder_flexion": 90.0, "elbow_flexion": 100.0}),
        (word("arms stretched out ahead"), word("arms drawn in under the chest")),
        "from stretched out ahead to drawn in under the chest (common practice; angles assumed)",
    ),
    Lever(
        word("head"), ({"neck_extension": 10.0}, {"neck_extension": 50.0}),
        (word("looking down"), word("head lifted")),
        "10 to 50 degrees of lift: from looking at the bottom to looking ahead (angles assumed)",
    ),
)  # fmt: skip
BREATH: Final = 0.5  # of a quiet breath, by which a relaxed diver's chest stays fuller or emptier (assumed)
BREATH_WORDS: Final = (word("chest emptier by half a breath"), word("chest fuller by half a breath"))
BREATH_BASIS: Final = "half a quiet breath either way, the wing made neutral again (assumed)"


def turned(pose: Pose, angles: Angles) -> Pose:
    """The pose with joints of both sides at ``angles`` [degrees]."""
    limbs = {name: radians(angle) for name, angle in angles.items() if name != "neck_extension"}
    neck = radians(angles["neck_extension"]) if "neck_extension" in angles else pose.neck_extension
    return Pose(replace(pose.left, **limbs), replace(pose.right, **limbs), neck)
