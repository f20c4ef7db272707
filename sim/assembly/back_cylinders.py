"""Cylinders on the plate, what is in them, and what is screwed to them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from scipy.constants import atm

from meshes.gear.bands import BOLT_SPACING, cam_bands, cylinder_boot, single_adapter, twin_bands
from meshes.gear.cylinder import Cylinder, cylinder
from meshes.gear.valve import Valve, isolation_manifold, valve
from meshes.memoized import memoized_on_body
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from meshes.solid import combined, point_mass
from scenarios.breathing import FreeGas, GasMix
from scenarios.cylinders import Cylinders
from sim.assembly.placement import Placement, inside, placement, point_at, solid_at
from sim.assembly.surroundings import mixed
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_plate import SeatedPlate
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.breathing_gas import AIR, fill_mass, gas_density
from sim.rig import Part
from sim.said import known, note, word

BAND_BELOW_SHOULDER: Final = 0.05  # m from the cylinder's shoulder to the middle of the upper band (common practice)
CUSHION: Final = 0.020  # m of folded wing and webbing between plate and cylinders (assumed)
STRAPS_MASS: Final = 0.5  # kg of a single's two straps with buckles, where not stated (from memory, 0.4 to 0.6)
GAP_BETWEEN: Final = 0.0125  # m between twin cylinders: axes an outer diameter plus 10 to 15 mm apart (from memory)
NAMED_GASES: Final = (word("air"), word("oxygen"))  # by a word; a mix's name is one in every language
FREE_GAS_TEMPERATURE: Final = 294.26  # K, 70 F, at which free-gas capacities are stated in the trade (from memory)


@dataclass(frozen=True, eq=False)
class BackCylinders:
    """Cylinders in place.

    parts : cylinders, gas, valves, bands and boots in body axes
    each : placement of every cylinder's frame, left first;  made : the cylinder as built
    outlets : (left, right) valve frames' placements for first stages; for a single both are the same
    valves : the valve in each of those frames;  isolator : (3,) the isolating valve's knob [m], None without one
    """

    parts: tuple[Part, ...]
    each: tuple[Placement, ...]
    made: Cylinder
    outlets: tuple[Placement, ...]
    valves: tuple[Valve, ...]
    isolator: Floats | None = None


def put_on_cylinders(on: DiverSoFar) -> Iterator[WornThing]:
    """Cylinders on the back, if worn; offers BackCylinders."""
    if on.scenario.cylinders is None:
        return
    lies = on.needed(SeatedPlate)
    with blaming("cylinders"):
        made = on_back(on.scenario.cylinders, lies.plate, lies.seat, on.scenario.water.temperature)
    yield WornThing("cylinders", made.parts, offers=(made,))


def water_capacity_of(capacity: float | None, free: FreeGas | None, working_pressure: float) -> float:
    """Volume inside a cylinder [m^3], from its free-gas capacity (of air, real gas) where that is what is known."""
    if capacity is not None:
        return capacity
    if free is None:
        raise ValueError("a cylinder needs a water capacity or a free-gas capacity")
    full = (free.pressure or working_pressure) + atm
    mass = free.volume * gas_density(AIR, atm, FREE_GAS_TEMPERATURE)
    return mass / gas_density(AIR, full, FREE_GAS_TEMPERATURE)


def gas_part(cylinder: str, mix: GasMix, made: Cylinder, gauge: float, temperature: float, where: Placement) -> Part:
    """The breathing gas in one cylinder: mass without displacement, at the centroid of the inside."""
    name = note("{gas} in {cylinder}", gas=known(mix.name), cylinder=cylinder)
    mass = fill_mass(mixed(mix), made.water_capacity, gauge + atm, temperature)
    return Part(name, "breathing gas", point_mass(mass, point_at(where, made.gas_centroid)))


@memoized_on_body
def on_back(table: Cylinders, plate: Plate, seat: Placement, water_temperature: float) -> BackCylinders:
    """Cylinders strapped or bolted to a plate whose frame ``seat`` places in body axes.

    The upper bolt holds the upper band, just below the cylinders' shoulder, so that the plate decides how high the
    cylinders sit. Twins lie on the flats, either side of the channel; a single lies on the channel's back.
    """
    made = cylinder(
        water_capacity=water_capacity_of(table.water_capacity, table.free_gas, table.working_pressure),
        outer_diameter=table.outer_diameter,
        working_pressure=table.working_pressure,
        metal=table.material,
        base=table.base,
        mass=table.mass,
        length=table.length,
    )
    base = float(plate.upper_bolt[0]) - (made.shoulder_x - BAND_BELOW_SHOULDER) + table.shift
    radius = 0.5 * made.outer_diameter
    twin = table.arrangement == "twin"
    height = radius + CUSHION + (plate.thickness if twin else plate.channel_depth + plate.thickness)
    spacing = _spacing(table, made)
    sides = (0.5 * spacing, -0.5 * spacing) if twin else (0.0,)
    each = tuple(inside(seat, placement([base, y, height])) for y in sides)
    middle = inside(seat, placement([base, 0.0, height]))
    names = (word("left cylinder"), word("right cylinder")) if twin else (word("cylinder"),)
    parts = [Part(n, "cylinder", solid_at(w, made.solid)) for n, w in zip(names, each, strict=True)]
    temperature = water_temperature if table.temperature is None else table.temperature
    parts += [
        gas_part(
            known(n),
            table.gas,
            made,
            table.fill,
            temperature,
            w,
        )
        for n, w in zip(names, each, strict=True)
    ]
    if table.boot_mass > 0.0:
        boot = cylinder_boot(made.outer_diameter, mass=table.boot_mass)
        parts.append(Part(word("cylinder boots"), "other", combined([solid_at(w, boot) for w in each])))
    band_x = made.shoulder_x - BAND_BELOW_SHOULDER - 0.5 * BOLT_SPACING
    parts += _bands(table, made, spacing, inside(middle, placement([band_x, 0.0, 0.0])))
    if table.adapter_mass > 0.0:
        # on the channel's back, as long as the bolts are apart
        at = [float(plate.upper_bolt[0]) - 0.5 * BOLT_SPACING, 0.0, plate.channel_depth + plate.thickness]
        parts.append(
            Part(word("adapter"), "bands", solid_at(inside(seat, placement(at)), single_adapter(table.adapter_mass)))
        )
    top = inside(middle, placement(made.neck))
    if twin:
        manifold = isolation_manifold(spacing, table.manifold_mass)
        parts.append(Part(word("manifold with valves"), "manifold", solid_at(top, manifold.solid)))
        knob = point_at(top, manifold.isolator)
        return BackCylinders(tuple(parts), each, made, (top, top), (manifold.left, manifold.right), knob)
    one = valve(table.valve_mass, mirror=True)  # its knob at the right hand (common practice)
    parts.append(Part(word("valve"), "valve", solid_at(top, one.solid)))
    return BackCylinders(tuple(parts), each, made, (top, top), (one, one))


def _spacing(table: Cylinders, made: Cylinder) -> float:
    """Distance [m] between the axes of a twin set."""
    return table.spacing if table.spacing is not None else made.outer_diameter + GAP_BETWEEN


def _bands(table: Cylinders, made: Cylinder, spacing: float, where: Placement) -> list[Part]:
    if table.bands_mass == 0.0:
        return []
    if table.arrangement == "twin":
        solid = twin_bands(made.outer_diameter, spacing, mass=table.bands_mass)
    else:
        solid = cam_bands(made.outer_diameter, mass=table.bands_mass or STRAPS_MASS)
    return [Part(word("bands"), "bands", solid_at(where, solid))]
