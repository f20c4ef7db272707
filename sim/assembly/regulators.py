"""First stages on the valves, second stages at mouth and chin, and hoses between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.gear.hose import hose
from meshes.gear.regulator import FirstStage, first_stage, pressure_gauge, second_stage
from meshes.memoized import memoized_on_body
from meshes.mesh import Floats
from meshes.solid import Solid, combined
from scenarios.cylinders import Regulators
from scenarios.suit import DrySuit
from sim.assembly.back_cylinders import BackCylinders
from sim.assembly.clothing import Clothing
from sim.assembly.laid_on_body import laid_on_body, onto_skin
from sim.assembly.placement import Placement, frame_along, inside, placement, point_at, solid_at
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.person.posed_body import PosedBody
from sim.rig import Part
from sim.said import word

# the mask's and the mouth's axes on the head: out of the mouth is to the front, its z to the crown
OUT_OF_MOUTH: Final = np.array([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
LONG_HOSE: Final = 1.4  # m: from here on the first hose runs under the arm and round the neck (common practice)
IN_MOUTH: Final = 50e-6  # m^3 of gas before the diaphragm of the second stage in the mouth (from memory, 30-80 ml)
CHIN_GAP: Final = 0.07  # m below the chin, where a spare second stage hangs (common practice)


@dataclass(frozen=True, eq=False)
class _Ends:
    """Where hoses run: first stages in place, and points on the diver (3,) [m]."""

    right: FirstStage
    right_at: Placement
    left: FirstStage
    left_at: Placement


@dataclass(frozen=True, eq=False)
class FirstStages:
    """First stages in body axes, each as a part of its own, the right one first."""

    parts: tuple[Part, ...]


def put_on_regulators(on: DiverSoFar) -> Iterator[WornThing]:
    """Regulators on the cylinders of the back, if there are any; offers FirstStages."""
    table, cylinders = on.scenario.cylinders, on.offered(BackCylinders)
    if table is None or cylinders is None:
        return
    with blaming("cylinders.regulators"):
        parts = worn_regulators(
            table.regulators,
            cylinders,
            on.body,
            on.needed(Clothing).under_straps,
            dry=isinstance(on.scenario.suit, DrySuit),
        )
        firsts = FirstStages(worn_first_stages(table.regulators, cylinders))
    yield WornThing("cylinders.regulators", parts, offers=(firsts,))


@memoized_on_body
def worn_regulators(
    table: Regulators, cylinders: BackCylinders, body: PosedBody, clothing: float, *, dry: bool
) -> tuple[Part, ...]:
    """Regulators and hoses over ``clothing`` [m] thick, one of them for a suit that is ``dry``.

    Hoses run along plausible ways; their mass is by length, as bought.
    """
    ends = _first_stages(table, cylinders)
    stages = [solid_at(ends.right_at, ends.right.solid), solid_at(ends.left_at, ends.left.solid)]
    parts = []
    if table.first_stages > 0 and table.first_stage_mass > 0.0:
        worn = combined(stages[: table.first_stages])
        parts.append(
            Part(word("first stages"), "regulator", _weighing(worn, table.first_stages * table.first_stage_mass))
        )
    seconds = [_second_at_mouth(table, body), _second_at_chin(table, body)][: table.second_stages]
    if seconds:
        parts.append(Part(word("second stages"), "regulator", combined([s for s, _ in seconds])))
    off = clothing + 0.5 * table.hose_diameter
    inlets = [inlet for _, inlet in seconds] or [body.landmarks["notch"]]
    at_wing = body.landmarks["left acromion"] + np.array([-0.06, -0.02, -0.06])
    ways = _ways(table, ends, body, inlets, at_wing + onto_skin(at_wing[None], body, off), dry=dry)
    hoses = [
        hose(
            laid_on_body(way, body, off),
            mass_per_metre=table.hose_mass,
            outer_diameter=table.hose_diameter,
            length=length,
        )
        for way, length in zip(ways, table.hoses, strict=False)
    ]
    if hoses:
        parts.append(Part(word("hoses"), "hose", combined(hoses)))
    if table.gauge_mass > 0.0:
        hip = _hip(body)
        gauge = pressure_gauge(table.gauge_mass)
        at = Placement(frame_along([-1.0, 0.0, 0.0], [0.0, 1.0, 0.0]), hip)
        parts.append(Part(word("pressure gauge"), "regulator", solid_at(at, gauge)))
    return tuple(parts)


def worn_first_stages(table: Regulators, cylinders: BackCylinders) -> tuple[Part, ...]:
    """First stages in body axes, each a part of its own, the right one first; at most one on each post."""
    if not (table.first_stages > 0 and table.first_stage_mass > 0.0):
        return ()
    ends = _first_stages(table, cylinders)
    right = Part(word("right first stage"), "regulator", solid_at(ends.right_at, ends.right.solid))
    left = Part(word("left first stage"), "regulator", solid_at(ends.left_at, ends.left.solid))
    return (right, left)[: table.first_stages]


def _weighing(solid: Solid, mass: float) -> Solid:
    """More first stages than two posts sit on the same valves: mass and water displaced grow alike."""
    share = mass / solid.mass
    return replace(solid, mass=mass, inertia=solid.inertia * share, volume=solid.volume * share)


def _first_stages(table: Regulators, cylinders: BackCylinders) -> _Ends:
    made = first_stage(max(table.first_stage_mass, 1e-6))
    placed = []
    for where, valve in zip(cylinders.outlets, cylinders.valves, strict=True):
        turn = frame_along(valve.outward, [1.0, 0.0, 0.0])
        placed.append(inside(where, placement(valve.outlet, turn)))
    left_at, right_at = placed
    return _Ends(made, right_at, made, left_at)


def _second_at_mouth(table: Regulators, body: PosedBody) -> tuple[Solid, Floats]:
    made = second_stage(max(table.second_stage_mass, 1e-6), held_gas=IN_MOUTH)
    head = body.placements["head"].rotation
    where = Placement(head @ OUT_OF_MOUTH, body.landmarks["mouth"])
    return solid_at(where, made.solid), point_at(where, made.hose_inlet)


def _second_at_chin(table: Regulators, body: PosedBody) -> tuple[Solid, Floats]:
    made = second_stage(max(table.second_stage_mass, 1e-6))
    where = Placement(OUT_OF_MOUTH, body.landmarks["notch"] + np.array([0.02, 0.0, -CHIN_GAP + 0.02]))
    return solid_at(where, made.solid), point_at(where, made.hose_inlet)


def _hip(body: PosedBody) -> Floats:
    """Left hip, where the gauge is clipped."""
    return np.asarray(body.landmarks["left iliac crest"] + np.array([-0.02, 0.03, 0.0]))


def _ways(
    table: Regulators, ends: _Ends, body: PosedBody, inlets: list[Floats], at_wing: Floats, *, dry: bool
) -> list[Floats]:
    """Ways (k, 3) of the hoses: to the second stages, then to gauge, suit and wing, in the order they are bought.

    at_wing : (3,) where the wing's is hung on [m]. A suit that is not dry takes none, unless there is one more than
    the rest need.
    """
    marks = body.landmarks
    shoulder, other = marks["right acromion"], marks["left acromion"]
    # over the shoulders between neck and arm, and below the collar bone
    over, over_right = (at * [1.0, 0.5, 1.0] + [0.05, 0.0, 0.02] for at in (other, shoulder))
    below_right = shoulder * [1.0, 0.5, 1.0] + [0.0, 0.0, -0.10]
    nape = marks["c7"] + np.array([0.03, 0.0, 0.05])
    hip = marks["right iliac crest"] + np.array([0.0, -0.06, 0.03])
    chest = marks["sternum"] + np.array([0.0, 0.0, -0.04])
    right, left = (
        point_at(at, stage.low_pressure) for at, stage in ((ends.right_at, ends.right), (ends.left_at, ends.left))
    )
    high = point_at(ends.left_at, ends.left.high_pressure[0])
    round_body = len(table.hoses) > 0 and table.hoses[0] >= LONG_HOSE
    over_shoulder = np.array([right[0], over_right, below_right + [0.06, -0.02, -0.02], inlets[0]])
    seconds = [
        np.array([right[0], hip + [0.12, -0.02, 0.06], hip, chest, over, nape, inlets[0]])
        if round_body
        else over_shoulder,
        np.array([left[0], nape + [0.01, -0.06, 0.0], shoulder + [0.02, 0.03, -0.03], inlets[-1]]),
    ]
    low = marks["left iliac crest"] + np.array([0.1, 0.05, 0.03])
    gauge = np.array([high, other + [-0.05, 0.02, 0.06], low, _hip(body)])
    suit = np.array([right[1], over_right, below_right, chest])
    wing = np.array([left[1], other + [0.0, 0.0, 0.06], at_wing])
    to_suit = dry or len(table.hoses) > len(inlets) + 2
    return [*seconds[: len(inlets)], gauge, *([suit] if to_suit else []), wing]
