"""What can be taken hold of in the view: where, along what, and which key of the scenario it moves."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Final, Literal

import numpy as np

from meshes.mesh import Floats
from scenarios.joint_names import joint_ranges
from scenarios.models import Scenario
from sim.case import Case
from sim.telling.record import Told

HEADWARD: Final = (1.0, 0.0, 0.0)
REACH: Final = 1.2  # m from the hips to which lead and gear may be dragged, headward or footward (assumed)
# joint, what it bears, where it is held, which way it turns as the angle in the plane of x and z grows
LIMBS: Final = (
    ("knee flexion", "knees", "knee", "ankle", -1.0),
    ("hip flexion", "hips", "hip", "knee", 1.0),
    ("shoulder flexion", "arms", "shoulder", "elbow", 1.0),
)


@dataclass(frozen=True)
class Handle:
    """One thing to take hold of; lengths m, body axes."""

    name: Annotated[str, Told("what it moves")]
    key: Annotated[str, Told("key of the scenario")]
    way: Annotated[Literal["line", "turn", "place"], Told("along a line, about a pivot, or to another place")]
    at: Annotated[tuple[float, float, float], Told("where it is, m in body axes")]
    now: Annotated[float, Told("the value now, in its unit; of a place its headward coordinate")]
    low: Annotated[float, Told("least value")]
    high: Annotated[float, Told("greatest value")]
    step: Annotated[float, Told("from one value to the next")]
    unit: Annotated[str, Told("of the value, as users write it")]
    each: Annotated[float, Told("the value's change per metre headward, or per degree of turn from x to z")]
    pivot: Annotated[
        tuple[float, float, float] | None, Told("that it turns about, m in body axes", none="a line")
    ] = None


def handles(case: Case) -> tuple[Handle, ...]:
    """Everything of a case that can be dragged; nothing of a parts file."""
    return () if not isinstance(case.content, Scenario) else tuple(_handles(case, case.content))


def _handles(case: Case, scenario: Scenario) -> Iterator[Handle]:
    worn, parts = case.worn, case.rig.parts
    if worn is not None:
        at = next(p.solid.cm for p in parts if p.kind == "plate")
        yield Handle("rig", "harness.drop", "line", _point(at), 100.0 * worn.drop, -6.0, 10.0, 0.5, "cm", -100.0)
    bottles = [p.solid.cm for p in parts if p.kind == "cylinder"]
    if bottles and scenario.cylinders is not None:
        shift = 100.0 * scenario.cylinders.shift
        above = np.mean(bottles, axis=0) + (0.0, 0.0, 0.08)
        yield Handle("cylinders", "cylinders.shift", "line", _point(above), shift, -10.0, 10.0, 0.5, "cm", 100.0)
    for part in parts:
        table, _, number = part.told_by.partition(".")
        if number.isdecimal() and (table == "lead" or (table == "gear" and part.kind in ("light", "other"))):
            key, here = f"{part.told_by}.at", _point(part.solid.cm)
            yield Handle(part.name, key, "place", here, here[0], -REACH, REACH, 0.01, "m", 1.0)
    yield from _limbs(case)


def _limbs(case: Case) -> Iterator[Handle]:
    """The right limbs, which are nearest in the view from the side; both sides follow."""
    body = None if case.wearer is None else case.wearer.body
    if body is None:
        return
    ranges = joint_ranges()
    for joint, name, pivot, held, each in LIMBS:
        now = math.degrees(getattr(body.pose.right, joint.replace(" ", "_")))
        low, high = ranges[joint]
        at, about = body.joints[f"right {held}"], body.joints[f"right {pivot}"]
        yield Handle(
            name, f"pose.joints.{joint}", "turn", _point(at), now, low, high, 1.0, "deg", each, _point(about)
        )


def _point(at: Floats) -> tuple[float, float, float]:
    x, y, z = (round(float(v), 4) for v in at)
    return x, y, z
