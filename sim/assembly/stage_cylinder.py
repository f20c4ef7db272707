"""A cylinder slung at the side, from a ring at the shoulder to one at the hip, with its regulator stowed."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.gear.cylinder import Cylinder, cylinder
from meshes.gear.hose import HOSE_MASS, hose
from meshes.gear.regulator import first_stage, pressure_gauge, second_stage
from meshes.gear.valve import valve
from meshes.gear.webbing import stage_rigging
from meshes.mesh import Floats
from meshes.solid import Solid, combined
from scenarios.loose_gear import StageCylinder
from sim.assembly.back_cylinders import gas_part, water_capacity_of
from sim.assembly.gear_places import Spots
from sim.assembly.placement import Placement, frame_along, inside, placement, point_at, solid_at
from sim.rig import Part

# Shares of a slung cylinder's regulator by mass, as those on the back: first stage 0.7 kg, second stage 0.22 kg, a
# metre of hose 0.27 kg, gauge 0.2 kg (all from memory, +-20 %)
FIRST, SECOND, HOSE, GAUGE = (m / 1.39 for m in (0.70, 0.22, 0.27, 0.20))
HANGS_OUT: Final = 0.04  # m from the clothed skin to the middle of a slung cylinder beyond its radius (assumed)


def slung_cylinder(table: StageCylinder, spots: Spots, water_temperature: float) -> tuple[Part, ...]:
    """Metal, gas, and fittings; the valve is toward the head."""
    made = cylinder(
        water_capacity=water_capacity_of(table.water_capacity, table.free_gas, table.working_pressure),
        outer_diameter=table.outer_diameter,
        working_pressure=table.working_pressure,
        metal=table.material,
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
    return (
        Part(table.name, "stage", solid_at(where, made.solid)),
        gas_part(f"{table.gas.name} in {table.name}", table.gas, made, table.fill, temperature, where),
        Part(f"valve and rigging of {table.name}", "stage", combined(fittings)),
    )


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
