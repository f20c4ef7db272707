"""A person as far as the fast demands need them, dressed as a diver is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.arm_chain import Arm, UpperArms, upper_arms
from sim.answers.fit.buttocks import Buttocks, buttocks
from sim.answers.fit.gear_cloud import Head, head_of
from sim.answers.fit.head_lift import head_back
from sim.answers.fit.joint_ranges import neck_extension
from sim.answers.fit.reach import SIDES, Side, left_arm, shoulder_lack
from sim.answers.fit.sight import upward_sight
from sim.assembly.assembled import Mobility, Worn
from sim.person.person import Person, person_of
from sim.person.population import Drawn
from sim.person.trunk_skin import TrunkSkin, trunk_skin

FLANKS_EVERY: Final = 0.005  # m between the heights at which a trunk's breadth is kept


@dataclass(frozen=True, eq=False)
class Dress:
    """How people are dressed: thickness on the trunk and of the hood [m], what is taken off the joints."""

    clothing: float
    hood: float
    mobility: Mobility


@dataclass(frozen=True, eq=False)
class DressedPerson:
    """A person dressed.

    arms : left and right, each as a left arm, no cylinders in its way;  upper_arms : positions of each that are tried
    alike : whether they are mirror images
    skin : of the standing trunk, for straps
    neck, eyes : how far the neck lifts the head, how far up the eyes look [rad]
    behind : their buttocks;  clothing : on the trunk [m]
    flanks : (2, n) heights, and half the trunk's breadth there [m]
    """

    person: Person
    arms: dict[Side, Arm]
    upper_arms: dict[Side, UpperArms]
    alike: bool
    head: Head
    skin: TrunkSkin
    neck: float
    eyes: float
    behind: Buttocks
    clothing: float
    flanks: Floats


def dress_of(worn: Worn) -> Dress:
    """As the diver of ``worn`` is dressed."""
    return Dress(worn.clothing, worn.hood, worn.mobility)


def drawn_person(drawn: Drawn) -> Person:
    """Somebody drawn from the survey. Raises ValueError for a body that cannot be."""
    return person_of(drawn.sex, drawn.height, drawn.mass, measures=drawn.measures)


def dressed_person(person: Person, dress: Dress) -> DressedPerson:
    """A person dressed."""
    lacks = {side: shoulder_lack(dress.mobility, side) for side in SIDES}
    made = {
        lack: left_arm(person, lack, elbow_off=dress.mobility.elbow_bulk, clothing=dress.clothing, hood=dress.hood)
        for lack in lacks.values()
    }
    tried = {lack: upper_arms(arm) for lack, arm in made.items()}
    return DressedPerson(
        person=person,
        arms={side: made[lack] for side, lack in lacks.items()},
        upper_arms={side: tried[lack] for side, lack in lacks.items()},
        alike=len(made) == 1,
        head=head_of(head_back(person, dress.hood)),
        skin=trunk_skin(person),
        neck=neck_extension(person, dress.mobility),
        eyes=upward_sight(person.age).looked_at,
        behind=buttocks(person),
        clothing=dress.clothing,
        flanks=_flanks(person),
    )


def _flanks(person: Person) -> Floats:
    h = person.skeleton.heights
    x = np.arange(h["crotch"], h["acromion"], FLANKS_EVERY)
    return np.stack([x, person.shape.trunk.at(x, np.full(len(x), 0.5 * np.pi))[:, 1]])
