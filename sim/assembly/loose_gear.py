"""Everything else that hangs on a diver: masks, lights, knives, and cylinders slung at the side."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.gear.cylinder import Cylinder, cylinder
from meshes.gear.headgear import mask
from meshes.gear.hose import HOSE_MASS, cord, hose
from meshes.gear.light import backup_light, battery_canister, light_head, line_cutter
from meshes.gear.regulator import first_stage, pressure_gauge, second_stage
from meshes.gear.valve import valve
from meshes.gear.webbing import stage_rigging
from meshes.mesh import Floats
from meshes.primitives import ellipsoid
from meshes.solid import Solid, combined, scaled_to_mass, solid_of
from scenarios.loose_gear import GearItem, StageCylinder
from sim.assembly.back_cylinders import gas_part, metal_of, water_capacity_of
from sim.assembly.placement import Placement, frame_along, inside, placement, point_at, solid_at
from sim.assembly.worn import on_face, on_segment
from sim.person.posed_body import PosedBody
from sim.rig import Part

# Shares of a slung cylinder's regulator by mass, as those on the back: first stage 0.7 kg, second stage 0.22 kg, a
# metre of hose 0.27 kg, gauge 0.2 kg (all from memory, +-20 %)
FIRST, SECOND, HOSE, GAUGE = (m / 1.39 for m in (0.70, 0.22, 0.27, 0.20))
HANGS_OUT: Final = 0.04  # m from the clothed skin to the middle of a slung cylinder beyond its radius (assumed)


@dataclass(frozen=True, eq=False)
class Spots:
    """Where things are clipped: the body, the clothed trunk's half breadth and depth [m] at the waist, x of waist."""

    body: PosedBody
    waist: float
    half_breadth: float
    front: float
    back: float


def carried_item(table: GearItem, spots: Spots) -> Part:
    """A thing by its mass and the water it displaces, drawn as what it is where its shape is known."""
    where = placement(table.at) if table.at is not None else _spot(table.place or "right hip", spots)
    solid = _shape(table, spots.body, where)
    kind = "mask" if table.place == "face" else "light" if "light" in table.name else "other"
    return Part(table.name, kind, replace(solid, volume=table.displaced))  # type: ignore[arg-type]


def _shape(table: GearItem, body: PosedBody, where: Placement) -> Solid:
    if table.place == "face" and table.at is None:
        m = body.person.skeleton.measures
        around = {"head_breadth": m["headbreadth"] + 0.012, "head_depth": m["headlength"] + 0.012}
        return solid_at(where, mask(table.mass, held_gas=table.held_gas, **around))
    drawn = _known(table, body, where)
    if drawn is not None:
        return scaled_to_mass(drawn, table.mass)
    # an egg half as long again as it is wide, as large as the water it displaces (at least a thumb)
    radius = (max(table.displaced, 2e-5) / (4.0 / 3.0 * np.pi * 1.5)) ** (1.0 / 3.0)
    egg = solid_of(ellipsoid([1.5 * radius, radius, radius], rings=12, points=16), 1.0)
    return solid_at(where, replace(egg, mass=table.mass, inertia=egg.inertia * (table.mass / egg.mass)))


def _known(table: GearItem, body: PosedBody, where: Placement) -> Solid | None:
    """Catalogue gear that has a shape of its own, lid and handle toward the feet; None for all else."""
    upside_down = inside(where, placement([-0.06, 0.0, 0.0], np.diag([-1.0, 1.0, -1.0])))
    if table.catalogue == "canister light":
        side = "left" if (table.place or "").startswith("left") else "right"
        wrist, tip = body.joints[f"{side} wrist"], body.landmarks[f"{side} fingertip"]
        along = (tip - wrist) / np.linalg.norm(tip - wrist)
        out = body.placements[f"{side} hand"].rotation @ np.array([0.0, 1.0 if side == "left" else -1.0, 0.0])
        head = Placement(frame_along(along, out), 0.5 * (wrist + tip) + 0.05 * out)
        way = np.array(
            [where.origin, body.joints[f"{side} shoulder"] + 0.1 * out, body.joints[f"{side} elbow"], wrist]
        )
        return combined([solid_at(upside_down, battery_canister()), solid_at(head, light_head()), cord(way)])
    if table.catalogue == "backup light":
        return solid_at(upside_down, backup_light())
    if table.catalogue in ("knife", "knife on the leg"):
        return solid_at(where, line_cutter())
    return None


def _spot(place: str, spots: Spots) -> Placement:
    """Where a place is, carried along by the pose. Offsets are a hand's breadth and the like (assumed)."""
    body = spots.body
    joints, heights = body.person.skeleton.joints, body.person.skeleton.heights
    side = -1.0 if place.startswith("right") else 1.0
    name = "right" if side < 0.0 else "left"
    if place == "face":
        return on_face(body)
    if place.endswith("thigh"):
        along = 0.45 * joints["hip"] + 0.55 * joints["knee"]
        at = [along[0], side * (joints["hip"][1] + 0.10), along[2]]
        return on_segment(body, f"{name} thigh", at)
    if place.endswith("shank"):
        calf = 0.6 * joints["knee"] + 0.4 * joints["ankle"]
        return on_segment(body, f"{name} shank", [calf[0], side * (calf[1] + 0.06), calf[2]])
    if place.endswith("forearm"):
        middle = 0.3 * joints["elbow"] + 0.7 * joints["wrist"]
        return on_segment(body, f"{name} forearm", [middle[0], side * (middle[1] + 0.05), middle[2]])
    chest, flank = heights["chest"], float(body.landmarks["left hip side"][2])
    places = {
        "chest": [chest, 0.0, spots.front],
        "back": [chest, 0.0, spots.back],
        "hip": [spots.waist - 0.06, side * spots.half_breadth, flank],
        "shoulder": [heights["axilla"] + 0.03, side * 0.75 * joints["shoulder"][1], spots.front + 0.03],
        "crotch strap": [heights["crotch"] + 0.04, 0.0, spots.back],
    }
    return placement(next(v for k, v in places.items() if place.endswith(k)))


def slung_cylinder(table: StageCylinder, spots: Spots, water_temperature: float) -> list[Part]:
    """A cylinder at the side, from a ring at the shoulder to one at the hip, valve toward the head."""
    made = cylinder(
        water_capacity=water_capacity_of(table.water_capacity, table.free_gas, table.working_pressure),
        outer_diameter=table.outer_diameter,
        working_pressure=table.working_pressure,
        metal=metal_of(table.material),
        base=table.base,
        mass=table.mass,
        length=table.length,
    )
    side = 1.0 if table.side == "left" else -1.0
    where = _slung(table, spots, made.neck_x, made.outer_diameter, side)
    temperature = water_temperature if table.temperature is None else table.temperature
    head = valve(table.valve_mass, mirror=side < 0.0)
    top = inside(where, placement(made.neck))
    rigging = stage_rigging(
        made.outer_diameter, neck_x=made.neck_x, band_x=0.45 * made.shoulder_x, mass=table.rigging_mass
    )
    fittings = [solid_at(top, head.solid), solid_at(where, rigging)]
    if table.regulator_mass > 0.0:
        outlet = inside(placement(made.neck), placement(head.outlet, frame_along(head.outward, [1.0, 0.0, 0.0])))
        fittings += [solid_at(where, s) for s in _stowed_regulator(table.regulator_mass, made, outlet)]
    return [
        Part(table.name, "stage", solid_at(where, made.solid)),
        gas_part(f"{table.gas.name} in {table.name}", table.gas, made, table.fill, temperature, where),
        Part(f"valve and rigging of {table.name}", "stage", combined(fittings)),
    ]


def _stowed_regulator(mass: float, made: Cylinder, outlet: Placement) -> list[Solid]:
    """A regulator not in use, in the cylinder's frame: its hose in a bight on the side away from the diver.

    Hose and second stage displace more water than brass of their mass; the second stage hangs flooded.
    """
    first, out, top = first_stage(FIRST * mass), 0.5 * made.outer_diameter + 0.01, made.shoulder_x
    port = point_at(outlet, first.low_pressure[0])
    bight = [[0.9 * top, 0.03, out], [0.45 * top, 0.03, out], [0.42 * top, 0.0, out], [0.45 * top, -0.03, out]]
    end = np.array([0.75 * top, -0.03, out])
    way = np.array([port, *bight, end])
    upward = frame_along([0.0, 0.0, 1.0], [1.0, 0.0, 0.0])
    return [
        solid_at(outlet, first.solid),
        hose(way, length=HOSE * mass / HOSE_MASS),
        solid_at(Placement(upward, end + [0.05, 0.0, 0.0]), second_stage(SECOND * mass).solid),
        solid_at(placement([0.85 * top, 0.05, out]), pressure_gauge(GAUGE * mass)),
    ]


def _slung(table: StageCylinder, spots: Spots, length: float, diameter: float, side: float) -> Placement:
    shoulder = np.array([spots.body.person.skeleton.heights["axilla"], side * 0.9 * spots.half_breadth, spots.front])
    flank = float(spots.body.landmarks["left hip side"][2])
    hip = np.array([spots.waist - 0.10, side * (spots.half_breadth + 0.5 * diameter), flank])
    along = (shoulder - hip) / np.linalg.norm(shoulder - hip)
    turn = frame_along(along, _away(along, side))
    if table.at is not None:
        return Placement(turn, np.asarray(table.at) - 0.5 * length * along)
    outward = np.array([0.0, side, -0.6]) / np.hypot(1.0, 0.6)
    neck = shoulder + (0.5 * diameter + HANGS_OUT) * outward - 0.08 * along
    return Placement(turn, neck - length * along)


def _away(along: Floats, side: float) -> Floats:
    """The cylinder's z axis: away from the body, so that its valve's outlet looks at the diver."""
    return np.asarray(np.cross(along, [0.0, 0.0, side])) * side
