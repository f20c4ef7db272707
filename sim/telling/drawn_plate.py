"""What is told first of a plate that comes from a drawing: as a record, and as lines of text."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from meshes.plate import edges
from sim.assembly.assembled import Assembled
from sim.assembly.drawn_plate import DrawnPlate as AsDrawn
from sim.assembly.drawn_plate import plate_doubt
from sim.said import note
from sim.telling.language import quantity, say, told, unit_name
from sim.telling.place_on_plate import place_note
from sim.telling.record import Told
from sim.telling.words import rows

NO_CHANNEL: Final = 5e-5  # m, below the shown digits


@dataclass(frozen=True)
class PlaceOnPlate:
    """Where holes of a drawn plate are: bolts upper and lower, slots left and right."""

    source: Annotated[edges.Source, Told('"stated", "found" in the drawing, or "assumed"')]
    down: Annotated[
        tuple[float, ...],
        Told("of each, from the plate's highest point: upper and lower, left and right", "m", key="from_top_edge_m"),
    ]
    across: Annotated[
        tuple[float, ...],
        Told(
            "of each, from halfway between the outermost points", "m", plus="to the diver's left",
            key="from_middle_line_m",
        ),
    ]  # fmt: skip
    told: Annotated[str, Told("both in words")]


@dataclass(frozen=True)
class Bend:
    """A fold on both sides of a drawn plate."""

    offset: Annotated[float, Told("distance of a fold from the middle line, on both sides, on the flat pattern", "m")]
    angle: Annotated[float, Told("turn of what lies outside it", "deg", plus="toward the diver")]
    radius: Annotated[float, Told("at the middle of the sheet", "m")]
    drawn: Annotated[bool, Told("whether the drawing says so itself; else it was stated")]


@dataclass(frozen=True, kw_only=True)
class DrawnPlate:
    """A plate that comes from a drawing, as it was understood."""

    file: Annotated[str, Told("the drawing's name")]
    solid: Annotated[bool, Told("whether it is a finished solid, not a flat outline")]
    is_flat: Annotated[
        bool,
        Told(
            "whether it is a flat outline for which no bends are stated: taken as a flat sheet",
            key="flat_without_bends",
        ),
    ]
    unit: Annotated[str, Told("in which its numbers were taken")]
    unit_as_the_file_states: Annotated[bool, Told("whether the file itself states that unit; else whoever uses it")]
    unit_told: Annotated[str, Told("both in words")]
    mass: Annotated[float, Told("of the bare plate", "kg")]
    weighed: Annotated[bool, Told("whether that was stated; else from volume and density")]
    volume: Annotated[float, Told("water that it displaces", "l")]
    weight_in_water: Annotated[float, Told("in the water of the file", "kg", plus="sinks")]
    material: Annotated[str, Told("what it is taken to be made of")]
    density: Annotated[float, Told("of that", "kg/m^3")]
    thickness: Annotated[float | None, Told("of the sheet", "m", none="a solid that is no even sheet")]
    length: Annotated[float, Told("from top to bottom edge", "m")]
    drawn_width: Annotated[float, Told("from side to side as drawn, before it is bent", "m")]
    width: Annotated[float, Told("from side to side as worn", "m")]
    channel_depth: Annotated[float, Told("of the channel along the middle", "m")]
    bolts: Annotated[PlaceOnPlate, Told("where the bolts are")]
    shoulder_slots: Annotated[PlaceOnPlate, Told("where the shoulder straps' slots are")]
    waist_slots: Annotated[PlaceOnPlate, Told("where the waist strap's slots are")]
    crotch_slot: Annotated[PlaceOnPlate, Told("where the crotch strap's slot is")]
    bends: Annotated[tuple[Bend, ...], Told("folds as stated, or as the drawing says beside its bend lines")]
    bend_lines: Annotated[
        tuple[float, ...],
        Told("bend lines drawn in the file, from the middle line", "m", plus="to the diver's left"),
    ]
    assumed: Annotated[tuple[str, ...], Told("what nobody stated and no file says, in words")]
    doubts: Annotated[tuple[str, ...], Told("what may be wrong with it, as sentences; they are among the notes, too")]
    read: Annotated[tuple[str, ...], Told("what was skipped or mended in the file, as sentences")]


def told_drawn_plate(assembled: Assembled, taken: Sequence[str] = ()) -> DrawnPlate | None:
    """The record; None for a plate that no drawing shows.

    taken : keys that were not given with the drawing and are those of the file's own plate
    """
    return None if assembled.drawn is None else told_plate(assembled.drawn, assembled.rig.water.density, taken)


def told_plate(drawn: AsDrawn, water: float, taken: Sequence[str] = ()) -> DrawnPlate:
    """The record of one drawing, in water of a density [kg/m^3]; ``taken`` as above."""
    reading = drawn.reading
    assumed = [note("{names}, as of the plate of the file", names=", ".join(taken))] if taken else []
    return DrawnPlate(
        file=reading.file,
        solid=reading.is_solid,
        is_flat=drawn.is_flat,
        unit=reading.unit.name,
        unit_as_the_file_states=reading.unit.by_file,
        unit_told=reading.unit.words,
        mass=drawn.mass,
        weighed=drawn.weighed,
        volume=drawn.volume,
        weight_in_water=drawn.mass - water * drawn.volume,
        material=drawn.material,
        density=drawn.density,
        thickness=drawn.thickness,
        length=drawn.length,
        drawn_width=reading.edges.width,
        width=drawn.width,
        channel_depth=drawn.channel_depth,
        bolts=_place(reading.places["bolts"]),
        shoulder_slots=_place(reading.places["shoulder_slots"]),
        waist_slots=_place(reading.places["waist_slots"]),
        crotch_slot=_place(reading.places["crotch_slot"]),
        bends=tuple(Bend(b.offset, b.angle, b.radius, b.drawn) for b in drawn.bends),
        bend_lines=tuple(reading.bend_lines),
        assumed=(*assumed, *drawn.assumed),
        doubts=tuple(plate_doubt(doubt) for doubt in reading.doubts),
        read=tuple(reading.notes),
    )


def _place(place: edges.Told) -> PlaceOnPlate:
    return PlaceOnPlate(place.source, place.down, place.across, place_note(place))


def drawn_plate_lines(drawn: DrawnPlate | None, plate: str = "Plate") -> list[str]:
    """Lines for the head of a report, an empty one last; none at all without a drawing."""
    if drawn is None:
        return []
    name = (
        say("{plate}, as drawn", plate=told(plate))
        if drawn.file in plate
        else say("{plate}, as drawn in {file}", plate=told(plate), file=drawn.file)
    )
    heading = say("{name}, FLAT: without bends", name=name) if drawn.is_flat else name
    return [*rows(heading, drawn_plate_rows(drawn))[1:], ""]


def drawn_plate_rows(drawn: DrawnPlate) -> Iterator[tuple[str, str]]:
    """What was found, each by its name; doubts first."""
    for doubt in drawn.doubts:
        yield say("CHECK"), _without_subject(told(doubt))
    weight = drawn.weight_in_water
    mass = quantity(drawn.mass, "kg", 2)
    heavy = (
        quantity(weight, "kg", 2) if weight >= 0.0 else say("floats with {weight}", weight=quantity(-weight, "kg", 2))
    )
    yield (
        say("mass"),
        say(
            "{mass}; in this water {heavy}",
            mass=say("{mass} as weighed", mass=mass) if drawn.weighed else mass,
            heavy=heavy,
        ),
    )
    made = told(drawn.material)
    if drawn.thickness is not None:
        made = say("{mm} thick, of {material}", mm=thickness_in_words(drawn.thickness), material=made)
    yield say("made"), made if drawn.weighed else f"{made}, {quantity(drawn.density, 'kg/m^3', 0)}"
    deep = drawn.channel_depth
    channel = say("channel {mm} deep", mm=_mm(deep)) if deep > NO_CHANNEL else say("no channel")
    yield (
        say("size"),
        say("{mm} long, {width}, {channel}", mm=_mm(drawn.length), width=_width(drawn), channel=channel),
    )
    yield say("unit"), told(drawn.unit_told)
    for name, place in (
        (say("bolts"), drawn.bolts),
        (say("shoulder slots"), drawn.shoulder_slots),
        (say("waist slots"), drawn.waist_slots),
        (say("crotch slot"), drawn.crotch_slot),
    ):
        yield name, f"{told(place.source)}: {told(place.told)}"
    bends = "; ".join(_bend(b) for b in drawn.bends)
    if bends:
        found = say("found: {bends}", bends=bends) if drawn.bends[0].drawn else say("stated: {bends}", bends=bends)
        yield say("bends"), found
    if drawn.assumed:
        yield say("assumed"), "; ".join(map(told, drawn.assumed))
    if drawn.read:
        yield say("read"), "; ".join(map(told, drawn.read))


def _width(drawn: DrawnPlate) -> str:
    if drawn.bends:
        return say("{drawn} wide as drawn, {bent} bent", drawn=_mm(drawn.drawn_width), bent=_mm(drawn.width))
    return say("{mm} wide", mm=_mm(drawn.width))


def _bend(bend: Bend) -> str:
    angle, at, radius = math.degrees(abs(bend.angle)), _mm(bend.offset), _mm(bend.radius)
    if bend.angle >= 0.0:
        return say(
            "{angle:.1f} degrees toward the diver at {at} from the middle line, radius {radius}",
            angle=angle,
            at=at,
            radius=radius,
        )
    return say(
        "{angle:.1f} degrees away from the diver at {at} from the middle line, radius {radius}",
        angle=angle,
        at=at,
        radius=radius,
    )


def notes_not_told(notes: Sequence[str], drawn: DrawnPlate | None) -> list[str]:
    """The notes of a report less those that its plate's lines say already."""
    told = () if drawn is None else drawn.doubts
    return [note for note in notes if note not in told]


def _without_subject(doubt: str) -> str:
    return doubt.partition(": ")[2]


def thickness_in_words(sheet: float) -> str:
    """A sheet's thickness: in inches it is sold by the thousandth."""
    return quantity(1e3 * sheet, "mm", 2 if unit_name("mm") != "mm" else 1)


def _mm(length: float) -> str:
    return quantity(1e3 * length, "mm", 1)
