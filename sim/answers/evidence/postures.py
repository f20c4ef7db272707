"""Whole-body CM and moments of inertia in four postures, for the mean of 66 men."""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np

from sim.answers.evidence.check import Check, Compared, near, table
from sim.person.person import person_of
from sim.person.pose import symmetric_pose
from sim.person.posed_body import PosedBody, posed_body

THEME: Final = "The body at rest"
MEAN_MAN: Final = ("male", 1.763, 75.5)  # m, kg: of the 66 men, from memory
# Arms and legs of the spread-eagle as far out as our joints go, by eye; sitting with forearms level
POSTURES: Final = {
    "standing": symmetric_pose(shoulder_abduction=0.10),
    "arms overhead": symmetric_pose(shoulder_flexion=np.pi),
    "spread-eagle": symmetric_pose(shoulder_abduction=np.radians(120.0), hip_abduction=np.radians(30.0)),
    "sitting": symmetric_pose(
        hip_flexion=0.5 * np.pi, knee_flexion=0.5 * np.pi, elbow_flexion=0.5 * np.pi
    ),
}  # fmt: skip
METHOD: Final = 0.13  # the pendulum's own error is 2 to 8 %, postures and build do the rest
CM_ERROR: Final = 0.021  # m, 1.2 % of stature: what three measured men differ by among themselves
DOUBT: Final = (
    "tables of segments, and solids of the body's shape, give a quarter less; theirs break the triangle inequality "
    "in three postures"
)
AXES: Final = {"sagittal": ("front to back", 2), "transverse": ("left to right", 1), "long": ("along the body", 0)}


def checks() -> tuple[Check, ...]:
    santschi = "Santschi et al. 1963, AMRL-TDR-63-36, means of 66 men, from memory"
    return (
        Check(THEME, "CM below the vertex, 4 postures", santschi, "memory", "cm", 1, _cm),
        *(
            Check(
                THEME, f"I {words}, 4 postures", santschi, "memory", "kg m²", 2,
                lambda k=key, a=axis: _inertia(k, a),  # type: ignore[misc]
                DOUBT if axis == 0 else "",
            )
            for key, (words, axis) in AXES.items()
        ),
    )  # fmt: skip


@cache
def _body(posture: str) -> PosedBody:
    return posed_body(person_of(*MEAN_MAN), POSTURES[posture])


def _cm() -> list[Compared]:
    found = []
    for row in table("santschi_1963"):
        body = _body(row["position"])
        ours = float(body.landmarks["vertex"][0] - body.whole().cm[0])
        found.append(near(100.0 * ours, 100.0 * float(row["cm_below_vertex[m]"]), 100.0 * CM_ERROR, row["position"]))
    return found


def _inertia(key: str, axis: int) -> list[Compared]:
    found = []
    for row in table("santschi_1963"):
        theirs = float(row[f"I_{key}[kg m2]"])
        ours = float(_body(row["position"]).whole().inertia[axis, axis])
        found.append(near(ours, theirs, METHOD * theirs, row["position"]))
    return found
