"""Everything else that hangs on a diver: masks, lights, knives, and cylinders that hang from two rings."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from meshes.gear.headgear import mask
from meshes.gear.hose import cord
from meshes.gear.light import backup_light, battery_canister, light_head, line_cutter
from meshes.memoized import memoized_on_body
from meshes.primitives import ellipsoid
from meshes.solid import Solid, combined, scaled_to_mass, solid_of
from scenarios.loose_gear import GearItem, GearShape, StageCylinder
from sim.assembly.gear_places import PLACES, Spots, at_place, spots_of
from sim.assembly.placement import Placement, frame_along, inside, placement, solid_at
from sim.assembly.rehung import hanging_note
from sim.assembly.stage_cylinder import slung_cylinder
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.rig import Kind, Part

KINDS: Final[Mapping[GearShape, Kind]] = {"mask": "mask", "canister light": "light", "backup light": "light"}
AROUND_HEAD: Final = 0.012  # m by which a mask's frame is made for a head wider and deeper than bare (assumed)
LEAST_EGG: Final = 2e-5  # m^3: what has no shape of its own is drawn at least as large as a thumb


def put_on_gear(on: DiverSoFar) -> Iterator[WornThing]:
    """Each entry of the scenario's gear as a thing of its own."""
    spots, temperature = spots_of(on), on.scenario.water.temperature
    for i, item in enumerate(on.scenario.gear):
        key = f"gear.{i}"
        with blaming(key):
            if isinstance(item, StageCylinder):
                parts = slung_cylinder(item, spots, temperature, on.water.density)
                note = hanging_note(parts, on.water.density)
            else:
                parts, note = (carried_item(item, spots),), None
        yield WornThing(key, parts, notes=() if note is None else (note,))


def carried_item(table: GearItem, spots: Spots) -> Part:
    """A thing by its mass and the water it displaces, drawn as what it is where its shape is known."""
    solid = _canister_light(table, spots) if table.drawn_as == "canister light" else _drawn(table, spots)
    return Part(table.name, KINDS.get(table.drawn_as, "other"), replace(solid, volume=table.displaced))


def _worn_at(table: GearItem, spots: Spots) -> Placement:
    return placement(table.at) if table.at is not None else at_place(table.place or "right hip", spots)


def _drawn(table: GearItem, spots: Spots) -> Solid:
    """Its shape, of its mass."""
    body, where = spots.body, _worn_at(table, spots)
    if table.drawn_as == "mask":
        m = body.person.skeleton.measures
        around = {"head_breadth": m["headbreadth"] + AROUND_HEAD, "head_depth": m["headlength"] + AROUND_HEAD}
        return solid_at(where, mask(table.mass, held_gas=table.held_gas, **around))
    if table.drawn_as == "egg":
        return _egg(table, where)
    if table.drawn_as == "backup light":
        made = solid_at(_upside_down(where), backup_light())
    else:
        made = solid_at(where, line_cutter())
    return scaled_to_mass(made, table.mass)


def _upside_down(where: Placement) -> Placement:
    """Lid and handle of what hangs down are toward the feet."""
    return inside(where, placement([-0.06, 0.0, 0.0], np.diag([-1.0, 1.0, -1.0])))


def _egg(table: GearItem, where: Placement) -> Solid:
    """An egg half as long again as it is wide, as large as the water it displaces."""
    radius = (max(table.displaced, LEAST_EGG) / (4.0 / 3.0 * np.pi * 1.5)) ** (1.0 / 3.0)
    egg = solid_of(ellipsoid([1.5 * radius, radius, radius], rings=12, points=16), 1.0)
    return solid_at(where, replace(egg, mass=table.mass, inertia=egg.inertia * (table.mass / egg.mass)))


@memoized_on_body
def _canister_light(table: GearItem, spots: Spots) -> Solid:
    """Battery canister where it is worn, light head on the back of the hand of that side, cord along the arm."""
    body, canister = spots.body, _worn_at(table, spots)
    side = "left" if table.place is not None and PLACES[table.place][1] > 0 else "right"
    tip = body.landmarks["left fingertip"] if side == "left" else body.landmarks["right fingertip"]
    wrist = body.joints[f"{side} wrist"]
    along = (tip - wrist) / np.linalg.norm(tip - wrist)
    out = body.placements[f"{side} hand"].rotation @ np.array([0.0, 1.0 if side == "left" else -1.0, 0.0])
    head = Placement(frame_along(along, out), 0.5 * (wrist + tip) + 0.05 * out)
    way = np.array(
        [canister.origin, body.joints[f"{side} shoulder"] + 0.1 * out, body.joints[f"{side} elbow"], wrist]
    )
    made = [solid_at(_upside_down(canister), battery_canister()), solid_at(head, light_head()), cord(way)]
    return scaled_to_mass(combined(made), table.mass)
