"""A rebreather on the back: canister along the spine, two small cylinders, hoses, and counterlungs.

What the counterlungs hold is the breath that the lungs do not: ``loop_gas`` when the chest is relaxed, less whatever
the chest holds beyond that. Lungs and counterlungs together displace the same at every breath, so that breathing
lifts nobody; it only moves gas from one to the other. The bags' gas stays where the bags lie: that it runs to their
upper ends as the diver turns is left out, and so is its weight, as that of the gas in the lungs is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.gear.cylinder import cylinder
from meshes.gear.hose import hose
from meshes.gear.regulator import first_stage
from meshes.gear.valve import valve
from meshes.gear.weighed import weighed
from meshes.loft import lathe
from meshes.mesh import Floats, joined
from meshes.primitives import ellipsoid
from meshes.solid import Solid, combined, scaled_to_mass, solid_of
from scenarios.by_key import told_otherwise
from scenarios.diver import Diver
from scenarios.rebreather import CounterlungPlace, Rebreather, SmallCylinder
from sim.assembly.back_cylinders import CUSHION, gas_part, water_capacity_of
from sim.assembly.diver import chest_gas
from sim.assembly.gear_places import spots_of
from sim.assembly.placement import frame_along, inside, placement, point_at, solid_at
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_plate import SeatedPlate
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.rig import Part
from sim.said import amount, known, note, word

ABOVE_BOLT: Final = 0.05  # m from the plate's upper bolt to the canister's top (assumed)
GAP: Final = 0.01  # m between canister and cylinders (assumed)
CLOTH: Final = 1150.0  # kg/m^3, coated nylon as the wing's (from memory)
LONGER: Final = 2.5  # length of a counterlung over its breadth (assumed)
HOSE: Final = 0.045  # m across a breathing hose (from memory)
LEAST_DRAWN: Final = 5e-4  # m^3: an empty bag is drawn as large as this
UPSIDE_DOWN: Final = np.diag([-1.0, 1.0, -1.0])  # valves down, at the diver's hands (common practice)


@dataclass(frozen=True)
class Breath:
    """Gas in the counterlungs [m^3] now;  in_chest : in the chest beyond its relaxed state."""

    in_counterlungs: float
    in_chest: float


def put_on_rebreather(on: DiverSoFar) -> Iterator[WornThing]:
    """The rebreather, if one is worn; offers Breath."""
    table = on.scenario.rebreather
    if table is None:
        return
    with blaming("rebreather.loop_gas"):
        breath = breath_of(table, on.scenario.diver)
    with blaming("rebreather"):
        lies = on.needed(SeatedPlate)
        parts = (
            *_small_cylinders(table, lies, on.scenario.water.temperature),
            _canister(table, lies),
            *_bags_and_hoses(table, on, lies, breath.in_counterlungs),
        )
    shared = note(
        "The counterlungs hold {held} now, the chest {chest} beyond its relaxed state: a breath moves gas from one "
        "to the other and lifts nobody.",
        held=amount(1e3 * breath.in_counterlungs, "l", 1),
        chest=amount(1e3 * breath.in_chest, "l", 1),
    )
    yield WornThing("rebreather", parts, notes=(shared,), offers=(breath,))


def breath_of(table: Rebreather, diver: Diver) -> Breath:
    """How the loop's gas is shared out. Raises ValueError where the counterlungs cannot give or take a breath."""
    beyond = chest_gas(diver) - chest_gas(told_otherwise(diver, "breathing_level", "relaxed"))
    left = table.loop_gas - beyond
    level = f'with the chest "{diver.breathing_level}" (diver.breathing_level) the counterlungs would hold'
    if not left >= 0.0:
        raise ValueError(
            f"{level} less than nothing: the chest takes {1e3 * beyond:.1f} l of the {1e3 * table.loop_gas:.1f} l of "
            "loop_gas; say more loop_gas, or a smaller breath"
        )
    if not left <= table.counterlung_room:
        raise ValueError(
            f"{level} {1e3 * left:.1f} l, and there is room for {1e3 * table.counterlung_room:.1f} l "
            "(counterlung_room); say less loop_gas, or a fuller chest"
        )
    return Breath(left, beyond)


def _small_cylinders(table: Rebreather, lies: SeatedPlate, temperature: float) -> Iterator[Part]:
    """Oxygen at the right, diluent at the left of the canister; each as metal, gas and fittings."""
    for name, small, side in (("oxygen", table.oxygen, -1.0), ("diluent", table.diluent, 1.0)):
        with blaming(f"rebreather.{name}"):
            yield from _small_cylinder(name, small, side * 0.5 * table.canister_diameter, lies, temperature)


def _small_cylinder(
    name: str, table: SmallCylinder, beside: float, lies: SeatedPlate, water_temperature: float
) -> tuple[Part, ...]:
    """``beside`` : y of the canister's side [m]."""
    made = cylinder(
        water_capacity=water_capacity_of(table.water_capacity, table.free_gas, table.working_pressure),
        outer_diameter=table.outer_diameter,
        working_pressure=table.working_pressure,
        metal=table.material,
        base=table.base,
        mass=table.mass,
        length=table.length,
    )
    radius, side = 0.5 * made.outer_diameter, float(np.sign(beside))
    at = [_top(lies), beside + side * (GAP + radius), radius + CUSHION + lies.plate.thickness]
    where = inside(lies.seat, placement(at, UPSIDE_DOWN))
    head = valve(table.valve_mass, mirror=side < 0.0)
    fittings = [solid_at(inside(where, placement(made.neck)), head.solid)]
    if table.regulator_mass > 0.0:
        outlet = inside(placement(made.neck), placement(head.outlet, frame_along(head.outward, [1.0, 0.0, 0.0])))
        fittings.append(solid_at(inside(where, outlet), first_stage(table.regulator_mass).solid))
    temperature = water_temperature if table.temperature is None else table.temperature
    label = note("{name} cylinder", name=known(name))
    return (
        Part(label, "rebreather", solid_at(where, made.solid)),
        gas_part(
            label,
            table.gas,
            made,
            table.fill,
            temperature,
            where,
        ),
        Part(note("valve and first stage of {cylinder}", cylinder=label), "rebreather", combined(fittings)),
    )


def _top(lies: SeatedPlate) -> float:
    """x of the canister's top in the plate's frame [m]."""
    return float(lies.plate.upper_bolt[0]) + ABOVE_BOLT


def _canister(table: Rebreather, lies: SeatedPlate) -> Part:
    """A round can of its stated mass, which keeps the stated volume of water out."""
    length, radius = table.canister_length, 0.5 * table.canister_diameter
    rim = 0.15 * radius
    x = [0.0, 0.0, rim, length - rim, length, length]
    can = lathe(np.column_stack([x, [0.0, radius - rim, radius, radius, radius - rim, 0.0]]))
    made = scaled_to_mass(solid_of(can, 1.0), table.canister_mass + table.absorbent_mass)
    height = radius + CUSHION + lies.plate.channel_depth + lies.plate.thickness
    where = inside(lies.seat, placement([_top(lies) - length, 0.0, height]))
    return Part(word("canister"), "rebreather", replace(solid_at(where, made), volume=table.watertight_volume))


def _bags_and_hoses(table: Rebreather, on: DiverSoFar, lies: SeatedPlate, gas: float) -> Iterator[Part]:
    middles = counterlung_middles(table.counterlungs, on, lies)
    drawn = 0.5 * max(gas, LEAST_DRAWN)
    radius = (drawn / (4.0 / 3.0 * np.pi * LONGER)) ** (1.0 / 3.0)
    bags = joined([ellipsoid([LONGER * radius, radius, radius], middle) for middle in middles])
    yield Part(word("counterlungs"), "counterlungs", weighed(bags, table.counterlung_mass, CLOTH, held_gas=gas))
    mouth = on.body.landmarks["mouth"]
    halves = [_hose(middle, mouth, np.sign(middle[1])) for middle in middles]
    hoses = scaled_to_mass(combined(halves), table.hoses_mass)
    yield Part(word("mouthpiece and hoses"), "hose", replace(hoses, volume=table.hoses_volume))


def _hose(start: Floats, mouth: Floats, side: float) -> Solid:
    """From a counterlung past the neck to the mouth."""
    wide = 0.5 * abs(start[1]) + 0.04
    beside = 0.5 * (start + mouth) * [1.0, 0.0, 1.0] + [0.0, side * wide, 0.0]
    return hose(np.array([start, beside, mouth]), outer_diameter=HOSE)


def counterlung_middles(place: CounterlungPlace, on: DiverSoFar, lies: SeatedPlate) -> tuple[Floats, Floats]:
    """Middle (3,) [m] of the left and the right bag in body axes; offsets from the trunk assumed."""
    heights, spots = on.body.person.skeleton.heights, spots_of(on)
    if place == "back":
        left = point_at(lies.seat, [_top(lies) - 0.10, 0.16, lies.plate.thickness + 0.03])
    elif place == "shoulders":
        left = np.array([heights["axilla"] + 0.04, 0.11, spots.front - 0.01])
    else:
        left = np.array([heights["chest"] - 0.04, 0.09, spots.front - 0.05])
    return left, left * [1.0, -1.0, 1.0]
