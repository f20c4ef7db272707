"""How people stand: where the weight above knees and hips lies from the joints."""

from __future__ import annotations

from math import sqrt
from typing import Final

from meshes.solid import combined
from sim.answers.evidence.check import Check, Compared, near
from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import posed_body
from sim.person.tissue import kind_of

THEME: Final = "The body at rest"
MEAN_PERSON: Final = ("male", 1.72, 68.0)  # the abstract does not say who the fifteen were
PEOPLE: Final = 15
# Woodhull et al. 1985: CM of what is above the joint, ahead of it: mean and SD [cm]
ABOVE_KNEES: Final = (1.4, 1.1)
ABOVE_HIPS: Final = (-1.0, 1.6)
LEGS: Final = ("thigh", "shank", "foot")


def checks() -> tuple[Check, ...]:
    source = "Woodhull et al. 1985, Eur J Appl Physiol 54:109, 15 people on a reaction board"
    return (
        Check(THEME, "CM of what is above the knees, ahead of them, standing", source, "published", "cm", 1,
              lambda: [_ahead("knee", LEGS[1:], ABOVE_KNEES)], "the place of the knees is theirs"),
        Check(THEME, "CM of what is above the hips, ahead of them, standing", source, "published", "cm", 1,
              lambda: [_ahead("hip", LEGS, ABOVE_HIPS)], "one of the numbers from which the hips' place was chosen"),
    )  # fmt: skip


def _ahead(joint: str, below: tuple[str, ...], theirs: tuple[float, float]) -> Compared:
    """Allowed are two standard errors of the mean of so many people."""
    body = posed_body(person_of(*MEAN_PERSON), POSES["upright"])
    above = combined([s for name, s in body.segments if kind_of(name) not in below])
    ours = 100.0 * float(body.joints[f"left {joint}"][2] - above.cm[2])
    return near(ours, theirs[0], 2.0 * theirs[1] / sqrt(PEOPLE))
