"""A cylinder that hangs from two rings on the diver, under the chest or along the flank, its regulator stowed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.gear.cylinder import Cylinder, cylinder
from meshes.gear.hose import HOSE_MASS, hose
from meshes.gear.regulator import first_stage, pressure_gauge, second_stage
from meshes.gear.valve import valve
from meshes.gear.webbing import stage_rigging
from meshes.solid import Solid, combined, mirrored
from scenarios.loose_gear import Hangs, StageCylinder
from sim.assembly.back_cylinders import gas_part, water_capacity_of
from sim.assembly.gear_places import Spots
from sim.assembly.placement import Placement, frame_along, inside, placement, point_at, solid_at
from sim.assembly.rehung import hung_parts
from sim.hanging import Hanging, Lies, Point, TwoLines, cylinder_frame
from sim.rig import Part
from sim.said import note

# Shares of a slung cylinder's regulator by mass, as those on the back: first stage 0.7 kg, second stage 0.22 kg, a
# metre of hose 0.27 kg, gauge 0.2 kg (all from memory, +-20 %)
FIRST, SECOND, HOSE, GAUGE = (m / 1.39 for m in (0.70, 0.22, 0.27, 0.20))
NECK: Final = 0.03  # m from the axis to the cord round the neck (a boss 55 mm thick, from memory)
SHOULDER: Final = 0.02  # m by which the upper line may be shorter than a wide cylinder's radius (assumed)
FARTHER: Final = 0.10  # m by which the holds may be farther apart than the rings (assumed)
TRANSOM: Final = np.radians(120.0)  # round the trunk from its front: the clip at the lower back (assumed)


@dataclass(frozen=True)
class Rigged:
    """How divers rig a cylinder. Lines [m]; ``band`` : share of the way from base to shoulder.

    A bolt snap is about 10 cm long and sits close to the band; a bungee holds the neck against the armpit. Bands sit
    where the holds come about as far apart as the rings are (common practice; lengths from memory).
    """

    upper_line: float
    lower_line: float
    band: float


RIGGED: Final[dict[Hangs, Rigged]] = {
    "under the chest": Rigged(0.10, 0.10, 0.45),
    "along the flank": Rigged(0.06, 0.08, 0.33),
}


def slung_cylinder(
    table: StageCylinder, spots: Spots, water_temperature: float, water_density: float
) -> tuple[Part, ...]:
    """Metal, gas, and fittings where they come to lie in that water; the valve is toward the head."""
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
    how = two_lines(table, spots, made, side)
    begin = Hanging(how, _along_the_rings(how), side)
    where = _in_line(table, begin, made)
    temperature = water_temperature if table.temperature is None else table.temperature
    parts = (
        Part(table.name, "stage", solid_at(where, made.solid), hangs=begin if table.at is None else None),
        gas_part(
            table.name,
            table.gas,
            made,
            table.fill,
            temperature,
            where,
        ),
        Part(
            note("valve and rigging of {cylinder}", cylinder=table.name),
            "stage",
            _fittings(table, made, how, where, side),
        ),
    )
    return parts if table.at is not None else hung_parts(parts, water_density)


def two_lines(table: StageCylinder, spots: Spots, made: Cylinder, side: float) -> TwoLines:
    """The rings on the clothed trunk, and the lines and the band as told or usual."""
    usual, radius = RIGGED[table.hangs], 0.5 * made.outer_diameter
    upper = max(usual.upper_line, radius - SHOULDER) if table.upper_line is None else table.upper_line
    lower = usual.lower_line if table.lower_line is None else table.lower_line
    rings = _rings(table.hangs, spots, side)
    return TwoLines(
        *rings,
        upper_reach=upper + NECK,
        lower_reach=lower + radius,
        collar=made.neck_x,
        band=_band(table, made, rings[0][0] - rings[1][0]),
        shoulder=made.shoulder_x,
        radius=radius,
        breadth=spots.half_breadth,
        depth=0.5 * (spots.back - spots.front),
        middle=0.5 * (spots.back + spots.front),
    )


def _rings(hangs: Hangs, spots: Spots, side: float) -> tuple[Point, Point]:
    """Upper and lower ring on the clothed trunk (offsets of a few centimetres from landmarks assumed)."""
    heights = spots.body.person.skeleton.heights
    if hangs == "under the chest":
        aside = 0.75 * spots.body.person.skeleton.joints["shoulder"][1] / spots.half_breadth
        return (
            _on_trunk(spots, heights["axilla"] + 0.03, side, float(np.arcsin(min(aside, 1.0)))),
            _on_trunk(spots, spots.waist - 0.06, side, 0.5 * np.pi),
        )
    return (
        _on_trunk(spots, heights["axilla"], side, 0.5 * np.pi),
        _on_trunk(spots, float(spots.body.landmarks["sacrum"][0]), side, TRANSOM),
    )


def _band(table: StageCylinder, made: Cylinder, apart: float) -> float:
    """Where the lower band sits [m from the base]: as told, or the usual share, or on a long cylinder higher, so that
    its holds are not much farther apart than the rings are [m]."""
    usual = max(RIGGED[table.hangs].band * made.shoulder_x, made.neck_x - apart - FARTHER)
    band = usual if table.lower_band is None else table.lower_band
    if not band < made.shoulder_x:
        raise ValueError(
            f"lower_band is {1e2 * band:.0f} cm from the base, and the cylinder's shoulder begins at "
            f"{1e2 * made.shoulder_x:.0f} cm; say less"
        )
    return band


def _on_trunk(spots: Spots, x: float, side: float, angle: float) -> Point:
    """On the clothed trunk, at an angle [rad] round it from its front."""
    middle, depth = 0.5 * (spots.back + spots.front), 0.5 * (spots.back - spots.front)
    return x, side * spots.half_breadth * float(np.sin(angle)), middle - depth * float(np.cos(angle))


def _along_the_rings(how: TwoLines) -> Lies:
    """As it would lie with its collar at the upper ring, in line with the lower one."""
    upper, lower = np.array(how.upper), np.array(how.lower)
    band = upper + (lower - upper) / np.linalg.norm(lower - upper) * (how.collar - how.band)
    return Lies(how.upper, (float(band[0]), float(band[1]), float(band[2])))


def _in_line(table: StageCylinder, hanging: Hanging, made: Cylinder) -> Placement:
    """Of the cylinder's frame, in line with the rings; its middle where that is told."""
    turn, origin = cylinder_frame(hanging)
    return Placement(turn, origin if table.at is None else np.asarray(table.at) - 0.5 * made.neck_x * turn[:, 0])


def _fittings(table: StageCylinder, made: Cylinder, how: TwoLines, where: Placement, side: float) -> Solid:
    """Valve, rigging and stowed regulator; those of the right are the left ones' mirror image."""
    head = valve(table.valve_mass)
    band = stage_rigging(made.outer_diameter, neck_x=made.neck_x, band_x=how.band, mass=table.rigging_mass)
    fittings = [solid_at(placement(made.neck), head.solid), mirrored(band)]  # the leash toward the diver's back
    if table.regulator_mass > 0.0:
        outlet = inside(placement(made.neck), placement(head.outlet, frame_along(head.outward, [1.0, 0.0, 0.0])))
        fittings += _stowed_regulator(table.regulator_mass, made, outlet)
    whole = combined(fittings)
    return solid_at(where, whole if side > 0.0 else mirrored(whole))


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
