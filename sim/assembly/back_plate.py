"""The plate of a scenario: from the catalogue, by its measures, or a designer's own drawing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from meshes.memoized import memoized_on_body
from meshes.plate.additions import block_on
from meshes.plate.back_plate import Addition, Plate, Zone, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.from_drawing import plate_from_drawing, plate_from_solid_file
from meshes.plate.openings import StatedPlaces
from meshes.plate.rearranged import rearranged
from meshes.plate.sheet import Bend, both_sides
from meshes.plate.zones import with_zones
from meshes.solid import scaled_to_mass
from scenarios.back_gear import Plate as PlateTable
from scenarios.plate_additions import Added
from sim.assembly.drawn_plate import density_of, told_bends

# keys of [plate] that stretch a built-in outline
SIZES: Final = (
    "length", "width", "thickness", "channel_depth", "channel_width", "channel_angle", "bend_radius",
)  # fmt: skip


def plate_from(table: PlateTable) -> Plate:
    """Plate in its own frame. Raises ValueError (ShapeFileError for a file) with what was found and what to do."""
    plate = _built(table) if table.file is None else _drawn(table, table.file)
    above = float(plate.shoulder_slots[:, 0].mean() - plate.waist_slots[:, 0].mean())
    if not above > 0.0:
        raise ValueError(
            f"its shoulder slots lie {-1e3 * above:.0f} mm below its waist slots: which end is the top? State "
            "shoulder_slots and waist_slots by their distances from the top edge, or turn head_axis"
        )
    if table.zones:
        zones = tuple(Zone(z.top, z.bottom, z.inner, z.outer, z.thickness) for z in table.zones)
        plate = _zoned(plate, zones, density_of(table))
    if table.mass is not None:
        plate = _weighing(plate, table.mass)
    return _loaded(plate, table.added) if table.added else plate


@memoized_on_body
def _zoned(plate: Plate, zones: tuple[Zone, ...], density: float) -> Plate:
    """The same plate, thicker or thinner in places, of a density [kg/m^3]."""
    return with_zones(plate, zones, density)


@memoized_on_body
def _weighing(plate: Plate, mass: float) -> Plate:
    """The same plate with another mass [kg]."""
    return replace(plate, solid=scaled_to_mass(plate.solid, mass))


@memoized_on_body
def _loaded(plate: Plate, added: tuple[Added, ...]) -> Plate:
    """The same plate with what is fixed to it."""
    return replace(plate, additions=tuple(_additions(plate, added)))


def _additions(plate: Plate, added: tuple[Added, ...]) -> Iterator[Addition]:
    for one in added:
        for side in (1.0, -1.0) if one.both_sides else (1.0,):
            block = block_on(plate, one.from_top, side * one.from_middle, one.size, one.weight, one.face)
            yield Addition(one.name, block)


def _built(table: PlateTable) -> Plate:
    make = small_plate_shape if table.shape == "small" else standard_plate_shape
    sizes = {key: value for key in SIZES if (value := getattr(table, key)) is not None}
    shape = rearranged(make(**sizes), _stated(table))
    return plate_of(shape if table.openings else replace(shape, cutouts=(), holes=()), density_of(table))


def _stated(table: PlateTable) -> StatedPlaces:
    return StatedPlaces(table.bolts or None, table.shoulder_slots, table.waist_slots, table.crotch_slot)


def _drawn(table: PlateTable, file: Path) -> Plate:
    density = density_of(table)
    stated = _stated(table)
    if table.is_solid:
        return plate_from_solid_file(
            file, density=density, up=table.head_axis, away=table.back_axis, unit=table.unit, stated=stated
        )
    return plate_from_drawing(
        file,
        thickness=table.thickness or 0.0,
        density=density,
        unit=table.unit,
        up=table.head_axis,
        bends=both_sides([Bend(b.offset, -b.angle, b.radius) for b in told_bends(table)]),
        stated=stated,
    )
