"""The wing: its bag, the hose that gas comes through, and the gas."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from meshes.gear.hose import inflator_hose
from meshes.gear.wing_bag import WingBag, wing_bag
from meshes.memoized import memoized_on_body
from meshes.solid import combined, scaled_to_mass
from scenarios.back_gear import Wing
from sim.assembly.placement import Placement, inside, placement, point_at, solid_at
from sim.assembly.surroundings import inside_density
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_plate import SeatedPlate
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.breathing_gas import AIR
from sim.fill_laws import logistic_law
from sim.person.posed_body import PosedBody
from sim.rig import Part, WingPocket
from sim.said import word


@dataclass(frozen=True, eq=False)
class WingLooks:
    """The wing's bag in its own frame, and where that lies; its cells are those of the wing's pocket."""

    bag: WingBag
    where: Placement


def put_on_wing(on: DiverSoFar) -> Iterator[WornThing]:
    """The wing on the plate's back, if one is worn, and the gas in it; offers WingLooks."""
    table = on.scenario.wing
    if table is None:
        return
    lies = on.needed(SeatedPlate)
    where = _behind(lies.seat, lies.plate.thickness)
    with blaming("wing"):
        bag = wing_bag(
            table.cylinders, lift_volume=table.capacity, height=table.length, width=table.width, mass=table.mass
        )
        part = worn_wing(table, bag, where, on.body)
    law = logistic_law(np.zeros(len(bag.capacity)), bag.capacity, table.softness)
    gas = None if table.gas == "neutral" else float(table.gas)
    density = inside_density(AIR, on.water, on.scenario.water.temperature)
    pocket = WingPocket(point_at(where, bag.cells), law, gas, density, table.gas_time)
    yield WornThing("wing", (part,), pocket, offers=(WingLooks(bag, where),))


@memoized_on_body
def _behind(seat: Placement, thickness: float) -> Placement:
    """Of the frame of a bag that lies on the plate's back."""
    return inside(seat, placement([0.0, 0.0, thickness]))


@memoized_on_body
def worn_wing(table: Wing, bag: WingBag, where: Placement, body: PosedBody) -> Part:
    """Bag and inflator hose as one part of the stated mass, wherever the bag's frame is placed."""
    top = point_at(where, [0.42 * table.length, 0.0, 0.02])
    shoulder, notch = body.landmarks["left acromion"], body.landmarks["notch"]
    over = shoulder * [1.0, 0.6, 1.0] + np.array([0.05, 0.0, 0.02])
    end = np.array([float(notch[0]) - 0.08, 0.55 * float(shoulder[1]), float(notch[2]) - 0.02])
    drawn = combined([solid_at(where, bag.solid), inflator_hose(np.array([top, over, end]))])
    return Part(word("wing"), "wing", replace(scaled_to_mass(drawn, table.mass), volume=table.mass / table.density))
