"""Whether plates hold when they are carried: as told in ``hangflat.plate/1``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.plate.edges import edges_of
from scenarios.cylinders import Cylinders
from sim.answers.plate.hold.held import WayHeld
from sim.answers.plate.hold.place import place_words
from sim.answers.plate.hold.run import HeldPlate, HeldPlates
from sim.said import amount, known, note, word
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

HOLD_CAUTION: Final = word(
    "A comparison between shapes carried alike, no certificate that any of them holds: loads are assumed, and what "
    "is made is proved by a test of its own."
)
HOW: Final = (
    word(
        "Bent sheet as a shell of flat triangles (plate and membrane, quadratic), of one material that stays "
        "elastic, its mesh refined where the peak is not sure. Stress is von Mises stress on the worse face. "
        "Cylinders are one mass at their centre, pulling at both bolts; straps pull at the edges of their slots; a "
        "back or a floor only pushes."
    ),
    word(
        "Not in it: what spares the plate (friction on a floor, bands and cylinders that stiffen it between the "
        "bolts, cylinders that come to lie on its flats), and what does not (webbing that pulls unevenly, notches "
        "finer than drawn, what bending left in the sheet, fatigue, yield and what comes after it). Places of "
        "another thickness are as thick as they are, square at their borders; parts fixed to the plate weigh on it "
        "and stiffen nothing."
    ),
)
LAYERED: Final = word(
    "Laminates and sandwiches count as one material alike in all directions that bends as they do; fibre directions, "
    "layers that part and a core that gives way in shear are not in it."
)
TIPS: Final = word(
    "Lying on the floor of a vehicle it would tip over under its cylinders, with nothing of the sheet to rest on "
    "then: this way is left out."
)
MOULDED: Final = word("Plastics count as elastic; that they creep under load and soften in the sun is not in it.")


THROUGH: Final = 1.5  # moment that a section yields under all through, over that at which its faces begin to
LOST: Final = 15.0  # thicknesses of bending, beyond which nothing worked out in a straight line means much (assumed)


@dataclass(frozen=True, kw_only=True)
class WayTold:
    """A plate carried in one way."""

    way: Annotated[str, Told('"standing", "lifted", "set down" or "vehicle"')]
    peak: Annotated[float, Told("greatest stress, von Mises, on the worse face", "Pa")]
    of_strength: Annotated[float, Told("it over the material's strength", "1")]
    error: Annotated[
        float, Told("what the mesh may be wrong by: the last refinement's change, or the jump there", "1")
    ]
    deflection: Annotated[float, Told("greatest distance of the sheet from its unloaded shape", "m")]
    folds: Annotated[bool, Told("whether the plate folds up, so that its peak and deflection say no more than that")]
    place: Annotated[str, Told("where the peak is, in words")]
    down: Annotated[float, Told("of the peak on the flat sheet, from the top edge", "m", key="from_top_edge_m")]
    across: Annotated[
        float,
        Told("of the peak, from the middle line", "m", plus="to the diver's left", key="from_middle_line_m"),
    ]


@dataclass(frozen=True, kw_only=True)
class HeldTold:
    """One plate."""

    plate: Annotated[str, Told("its name")]
    material: Annotated[str, Told("of the table of materials")]
    strength: Annotated[float, Told("stress at the face at which it is spoilt", "Pa")]
    thickness: Annotated[float, Told("of the sheet", "m")]
    mass: Annotated[float, Told("of the bare plate", "kg")]
    triangles: Annotated[tuple[int, ...], Told("of each mesh")]
    ways: Annotated[tuple[WayTold, ...], Told("carried in each way that it can be in")]
    floor: Annotated[
        str | None, Told("how it lies on a floor if it does not lie flat, or why that way is not among its ways")
    ]

    def way(self, name: str) -> WayTold | None:
        """Carried in the way of that name; None where it cannot be."""
        return next((way for way in self.ways if way.way == name), None)


@dataclass(frozen=True, kw_only=True)
class LoadTold:
    """One way of carrying."""

    way: Annotated[str, Told("its name")]
    meaning: Annotated[str, Told("how it is held")]
    load: Annotated[float, Told("how many times its weight all weighs", "1")]
    source: Annotated[str, Told("of that number")]


@dataclass(frozen=True, kw_only=True)
class HoldTold:
    """Whether plates hold, one beside another."""

    carries: Annotated[str, Told("what is carried, in words")]
    carried_mass: Annotated[float, Told("of cylinders with gas, valves and bands", "kg")]
    loads: Annotated[tuple[LoadTold, ...], Told("each way of carrying")]
    plates: Annotated[tuple[HeldTold, ...], Told("the plate asked about, and those beside it")]
    how: Annotated[tuple[str, ...], Told("how it is worked out and what is not in it, as sentences")]
    caution: Annotated[str, Told("what this is not")] = HOLD_CAUTION
    picture: Annotated[WrittenFile | None, Told("where it is stressed", left_out=True)] = None


def hold_told(found: HeldPlates) -> HoldTold:
    """The record of plates carried."""
    kinds = {one.of.made_of.kind for one in found.plates}
    how = [*HOW, *([LAYERED] if kinds & {"laminate", "sandwich"} else []), *([MOULDED] if "plastic" in kinds else [])]
    return HoldTold(
        carries=_carries(found.cylinders),
        carried_mass=found.plates[0].of.carried.mass,
        loads=tuple(LoadTold(way=w.name, meaning=w.meaning, load=w.load, source=w.source) for w in found.ways),
        plates=tuple(_plate(one, len(found.ways)) for one in found.plates),
        how=tuple(how),
    )


def _plate(one: HeldPlate, asked: int) -> HeldTold:
    """``asked`` : how many ways of carrying were."""
    changes = one.held.changes
    return HeldTold(
        plate=one.of.name,
        material=one.of.made_of.name,
        strength=one.of.strength,
        thickness=one.of.plate.thickness,
        mass=one.of.plate.solid.mass,
        triangles=one.held.triangles,
        ways=tuple(_way(one, way, float(change)) for way, change in zip(one.held.ways, changes, strict=True)),
        floor=_floor(one, asked),
    )


def _floor(one: HeldPlate, asked: int) -> str | None:
    if len(one.held.ways) < asked:
        return TIPS
    if one.held.rests is None:
        return None
    return note(
        "Lying on the floor of a vehicle it does not lie flat: it leans by {degrees:.0f}° and stands on single "
        "points.",
        degrees=float(np.degrees(one.held.rests.tilt)),
    )


def _way(one: HeldPlate, way: WayHeld, change: float) -> WayTold:
    pattern, shell = one.of.plate.pattern, one.held.at.shell
    worst = int(np.argmax(way.stress.at_corners))
    touching = (shell.triangles[:, :3] == worst).any(axis=1)
    flat = edges_of(pattern.outline.outer)
    x, y = shell.flat[worst]
    return WayTold(
        way=way.way.name,
        peak=way.peak,
        of_strength=way.peak / one.of.strength,
        error=max(change, float(way.stress.jump[touching].max()) / way.peak),
        deflection=way.deflection,
        folds=way.peak > THROUGH * one.of.strength and way.deflection > LOST * one.of.plate.thickness,
        place=place_words(pattern, shell.flat[worst]),
        down=flat.top - float(x),
        across=float(y) - flat.middle,
    )


def _carries(table: Cylinders) -> str:
    made, fill = known(table.material), amount(1e-5 * table.fill, "bar", 0)
    twin = table.arrangement == "twin"
    if table.water_capacity is None:
        if twin:
            return note("a twin set, {material}, filled to {fill}", material=made, fill=fill)
        return note("a single cylinder, {material}, filled to {fill}", material=made, fill=fill)
    size = amount(1e3 * table.water_capacity, "l", 1)
    if twin:
        return note("a twin set of {size}, {material}, filled to {fill}", size=size, material=made, fill=fill)
    return note("a single cylinder of {size}, {material}, filled to {fill}", size=size, material=made, fill=fill)
