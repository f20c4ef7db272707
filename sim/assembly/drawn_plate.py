"""What is to be told of a plate that comes from a drawing: what was read off it, what it is taken to be made of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from meshes.plate.back_plate import Plate
from meshes.plate.from_drawing import BEND_RADIUS
from meshes.plate.reading import PlateReading
from scenarios.back_gear import Plate as PlateTable
from scenarios.materials import OTHER, material
from sim.said import amount, known, note

UNKNOWN_DENSITY: Final = 1000.0  # kg/m^3, of a plate that was weighed and whose material has no name here


@dataclass(frozen=True)
class ToldBend:
    """One fold, on both sides: distance from the middle line [m], turn [rad], plus toward the diver, radius [m].

    drawn : whether the drawing says so, and not the table
    """

    offset: float
    angle: float
    radius: float
    radius_from: Literal["stated", "assumed"]
    drawn: bool = False


@dataclass(frozen=True, eq=False)
class DrawnPlate:
    """A plate from a drawing, as it was understood.

    material, density [kg/m^3] : what it is taken to be made of;  entry : of the catalogue that says so, or ""
    mass [kg], volume [m^3] : of the bare plate;  weighed : whether the mass was stated
    thickness : of the sheet [m], None of a solid that is none;  length, width : as worn, bent [m];  channel_depth [m]
    """

    reading: PlateReading
    material: str
    density: float
    entry: str
    mass: float
    weighed: bool
    volume: float
    thickness: float | None
    length: float
    width: float
    channel_depth: float
    bends: tuple[ToldBend, ...]
    assumed: tuple[str, ...]

    @property
    def is_flat(self) -> bool:
        """Whether it is a flat drawing without bends."""
        return not self.reading.is_solid and not self.bends


def plate_doubt(doubt: str) -> str:
    """A doubt about a drawing as a note of its own."""
    made = note("Plate: {doubt}", doubt=known(doubt))
    return made if doubt.endswith("?") else note("{text}.", text=made)


def density_of(table: PlateTable) -> float:
    """Density [kg/m^3] as stated, or that of the material."""
    if table.density is not None:
        return table.density
    if table.material == OTHER:
        return UNKNOWN_DENSITY
    made_of = material(table.material)
    return made_of.density if table.thickness is None else made_of.density_of_sheet(table.thickness)


def told_bends(table: PlateTable) -> tuple[ToldBend, ...]:
    """The folds of a plate's table, radius and all."""
    return tuple(
        ToldBend(b.offset, b.angle, b.radius or BEND_RADIUS, "assumed" if b.radius is None else "stated")
        for b in table.bends
    )


def drawn_plate(table: PlateTable | None, plate: Plate) -> DrawnPlate | None:
    """What is to be told of a plate made from its table; None for one that no drawing shows."""
    reading = plate.reading
    if table is None or reading is None:
        return None
    bends = told_bends(table) or _bends_of(reading, plate.thickness)
    return DrawnPlate(
        reading=reading,
        material=table.material,
        density=density_of(table),
        entry=table.catalogue or "",
        mass=plate.solid.mass,
        weighed=table.mass is not None,
        volume=plate.solid.volume,
        thickness=plate.thickness or None,
        length=reading.edges.length,
        width=plate.width,
        channel_depth=plate.channel_depth,
        bends=bends,
        assumed=tuple(_assumed(table, bends, reading)),
    )


def _bends_of(reading: PlateReading, thickness: float) -> tuple[ToldBend, ...]:
    """The folds that the drawing itself says, left and right as one."""
    told = (
        ToldBend(
            abs(b.at),
            b.angle,
            BEND_RADIUS if b.inner_radius is None else b.inner_radius + thickness / 2,
            "assumed" if b.inner_radius is None else "stated",
            drawn=True,
        )
        for b in sorted(reading.drawn_bends, key=lambda b: (round(abs(b.at), 4), b.at < 0.0))
    )
    return tuple({(round(b.offset, 4), round(b.angle, 6), round(b.radius, 6)): b for b in told}.values())


def _assumed(table: PlateTable, bends: tuple[ToldBend, ...], reading: PlateReading) -> Iterator[str]:
    """What nobody stated and no file says."""
    if table.catalogue:
        yield note(
            'what is not given of material, thickness and density, as of "{entry}" in the catalogue',
            entry=str(table.catalogue),
        )
    if table.density is None and table.mass is None:
        yield note(
            "density of {material}, {density}",
            material=known(str(table.material)),
            density=amount(density_of(table), "kg/m^3", 0),
        )
    if any(b.radius_from == "assumed" for b in bends):
        yield note("bend radius {radius:g} mm at the middle of the sheet", radius=1e3 * BEND_RADIUS)
    for name, place in reading.places.items():
        if place.source == "assumed":
            yield note("{place}, none found and none stated", place=known(name.replace("_", " ")))
