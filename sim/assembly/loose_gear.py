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
from meshes.mesh import Floats
from meshes.primitives import ellipsoid
from meshes.solid import Solid, combined, scaled_to_mass, solid_of
from scenarios.loose_gear import GearItem, GearShape, StageCylinder
from sim.assembly.gear_places import PLACES, Spots, at_place, spots_of
from sim.assembly.laid_on_body import laid_on_body, onto_skin
from sim.assembly.placement import Placement, frame_along, inside, placement, solid_at
from sim.assembly.rehung import hanging_note
from sim.assembly.stage_cylinder import slung_cylinder
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.person.posed_body import PosedBody
from sim.rig import Kind, Part

KINDS: Final[Mapping[GearShape, Kind]] = {"mask": "mask", "canister light": "light", "backup light": "light"}
AROUND_HEAD: Final = 0.012  # m by which a mask's frame is made for a head wider and deeper than bare (assumed)
ACROSS_HAND: Final = 0.4  # of the way from wrist to fingertip, where a light's mount is held (common practice)
HEAD_RADIUS: Final = 0.0225  # m, of a light head where its mount is
HEAD_LENGTH: Final = 0.10  # m
# m from the left shoulder's joint: by the armpit, beside the wing (assumed)
CORD_BY: Final = np.array([-0.08, 0.07, -0.03])
CORD_RADIUS: Final = 0.004  # m
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


def _strapped(table: GearItem, spots: Spots, turned: Placement, made: Solid) -> Placement:
    """Where the long thing ``made`` that is ``turned`` so lies on the clothed trunk; as told where it is elsewhere or
    told by numbers."""
    on_trunk = PLACES[table.place or "right hip"][0] in ("chest", "back", "hip", "shoulder")
    if table.at is not None or not on_trunk or made.mesh is None:
        return turned
    along, _, toward_diver = np.abs(made.mesh.vertices).max(axis=0)
    return _laid(turned, float(along), float(toward_diver), spots)


def _laid(turned: Placement, half: float, radius: float, spots: Spots) -> Placement:
    """Moved until a thing that reaches ``half`` either way along itself, and ``radius`` about that, touches the
    clothed body [m]."""
    along = turned.origin + np.linspace(-half, half, 5)[:, None] * turned.rotation[:, 0]
    return replace(turned, origin=turned.origin + onto_skin(along, spots.body, spots.pressed + radius))


def _drawn(table: GearItem, spots: Spots) -> Solid:
    """Its shape, of its mass."""
    where = _worn_at(table, spots)
    if table.drawn_as == "mask":
        m = spots.body.person.skeleton.measures
        around = {"head_breadth": m["headbreadth"] + AROUND_HEAD, "head_depth": m["headlength"] + AROUND_HEAD}
        return solid_at(where, mask(table.mass, held_gas=table.held_gas, **around))
    if table.drawn_as == "egg":
        return _egg(table, where, spots)
    if table.drawn_as == "backup light":
        made, where = backup_light(), _upside_down(where)
    else:
        made = line_cutter()
    made = solid_at(_strapped(table, spots, where, made), made)
    return scaled_to_mass(made, table.mass)


def _upside_down(where: Placement) -> Placement:
    """Lid and handle of what hangs down are toward the feet."""
    return inside(where, placement([-0.06, 0.0, 0.0], np.diag([-1.0, 1.0, -1.0])))


def _egg(table: GearItem, where: Placement, spots: Spots) -> Solid:
    """An egg half as long again as it is wide, as large as the water it displaces; it lies on the body unless its
    place is told by numbers."""
    radius = (max(table.displaced, LEAST_EGG) / (4.0 / 3.0 * np.pi * 1.5)) ** (1.0 / 3.0)
    if table.at is None:
        where = _laid(where, 0.5 * radius, radius, spots)  # round ends about these points hold the egg
    egg = solid_of(ellipsoid([1.5 * radius, radius, radius], rings=12, points=16), 1.0)
    return solid_at(where, replace(egg, mass=table.mass, inertia=egg.inertia * (table.mass / egg.mass)))


@memoized_on_body
def _canister_light(table: GearItem, spots: Spots) -> Solid:
    """Battery canister where it is worn, light head on the back of the hand of that side, cord along the arm."""
    body, battery = spots.body, battery_canister()
    canister = _strapped(table, spots, _upside_down(_worn_at(table, spots)), battery)
    side = "left" if table.place is not None and PLACES[table.place][1] > 0 else "right"
    shoulder, elbow = body.joints[f"{side} shoulder"], body.joints[f"{side} elbow"]
    wrist = body.joints[f"{side} wrist"]
    tip = body.landmarks["left fingertip"] if side == "left" else body.landmarks["right fingertip"]
    aside = np.array([1.0, 1.0 if side == "left" else -1.0, 1.0])
    along = (tip - wrist) / np.linalg.norm(tip - wrist)
    out = body.placements[f"{side} hand"].rotation @ (aside * [0.0, 1.0, 0.0])
    head = Placement(frame_along(along, out), _on_hand(body, side, wrist + ACROSS_HAND * (tip - wrist), along, out))
    beside = [shoulder + CORD_BY * aside, elbow + 0.05 * out, wrist + 0.04 * out]
    way = np.array([canister.origin, *beside, head.origin - 0.5 * HEAD_LENGTH * along])
    laid = laid_on_body(way, body, spots.pressed + CORD_RADIUS)
    made = [solid_at(canister, battery), solid_at(head, light_head()), cord(laid)]
    return scaled_to_mass(combined(made), table.mass)


def _on_hand(body: PosedBody, side: str, at: Floats, along: Floats, out: Floats) -> Floats:
    """Middle (3,) of a light head that lies on the back of the hand at ``at``, between wrist and fingers."""
    hand = body.drawing.vertices - at
    near = (np.abs(hand @ along) < 0.5 * HEAD_LENGTH) & (np.linalg.norm(hand, axis=1) < HEAD_LENGTH)
    return np.asarray(at + (float((hand[near] @ out).max(initial=0.0)) + HEAD_RADIUS) * out)
