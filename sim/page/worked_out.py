"""What a value comes to where a scenario does not say it: of the person, the pose, and what hangs on them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from meshes.body.pose import Pose
from scenarios.joint_names import joint_ranges
from scenarios.measure_names import measures
from scenarios.models import Scenario
from sim.case import Case
from sim.page.flat import flat_report
from sim.person.person import Person
from sim.said import word

SIDES: Final = ("left", "right")
FROM_STATURE: Final = word("from height, mass and what else was measured")
FROM_POSE: Final = word("as the pose has it")
FROM_BALANCE: Final = word("what is there, held flat")


@dataclass(frozen=True)
class WorkedOut:
    """One value: its key, its text with a metric unit, where it is from, and whether it is an estimate."""

    key: str
    value: str
    source: str = ""
    estimated: bool = False


def worked_out_of(case: Case) -> Iterator[WorkedOut]:
    """Of everything in a scenario that the program fills in by itself and that has a key."""
    scenario, wearer = case.content, case.wearer
    if not isinstance(scenario, Scenario) or wearer is None:
        return
    yield from _of_person(wearer.body.person, scenario)
    yield from _of_pose(wearer.body.pose)
    if case.worn is not None:
        yield WorkedOut("harness.drop", f"{100.0 * case.worn.drop:.1f} cm", word("as the straps let it hang"))
    flat = flat_report(case).flat
    if flat.field.suit is not None:
        yield WorkedOut("suit.gas", f"{1e3 * flat.suit_gas:.1f} l", FROM_BALANCE)
    if flat.field.wing is not None:
        yield WorkedOut("wing.gas", f"{1e3 * flat.wing_gas:.1f} l", FROM_BALANCE)


def _of_person(person: Person, scenario: Scenario) -> Iterator[WorkedOut]:
    diver, density = scenario.diver, f"{1e-3 * person.body_density:.4f} kg/l"
    if diver.age is None:
        yield WorkedOut("diver.age", f"{person.age:.0f} years", FROM_STATURE, True)
    if diver.body_density is None:
        yield WorkedOut("diver.body_density", density, person.density_basis, diver.body_fat is None)
    if diver.lung_gas is None:
        yield WorkedOut("diver.lung_gas", f"{1e3 * person.lung_gas:.1f} l", word("from stature, age and build"), True)
    known = {str(name): size for name, size in person.measures.items()}
    for one in measures():
        if one.measure not in diver.measures and one.measure in known:
            size = f"{100.0 * known[one.measure]:.1f} cm"
            yield WorkedOut(f"diver.measures.{one.name}", size, FROM_STATURE, True)


def _of_pose(pose: Pose) -> Iterator[WorkedOut]:
    for name in joint_ranges():
        side, _, joint = name.partition(" ")
        if side in SIDES:
            angles = [getattr(getattr(pose, side), joint.replace(" ", "_"))]
        elif name == "neck extension":
            angles = [pose.neck_extension]
        else:
            angles = [getattr(getattr(pose, one), name.replace(" ", "_")) for one in SIDES]
        if max(angles) - min(angles) < 1e-9:
            yield WorkedOut(f"pose.joints.{name}", f"{math.degrees(angles[0]):.0f} deg", FROM_POSE)
