"""The plate on the back; all else there is fixed to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from meshes.plate.back_plate import Plate, plate_of
from meshes.plate.catalogue import standard_plate_shape
from scenarios.back_gear import Harness
from sim.assembly.back_plate import plate_from
from sim.assembly.clothing import Clothing
from sim.assembly.drawn_plate import drawn_plate, plate_doubt
from sim.assembly.placement import Placement, solid_at
from sim.assembly.seat import seated
from sim.assembly.strap_length import drop_of_strap
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.person.posed_body import PosedBody
from sim.rig import Part
from sim.said import note, word


@dataclass(frozen=True, eq=False)
class SeatedPlate:
    """The plate in its own frame, and where that lies in body axes.

    drop : how far its waist slots hang below the natural waist [m];  worn : whether it is there at all
    """

    plate: Plate
    seat: Placement
    drop: float
    worn: bool


def put_on_plate(on: DiverSoFar) -> Iterator[WornThing]:
    """The plate, as high as the harness holds it; offers SeatedPlate, and DrawnPlate for one from a drawing.

    Without a plate the standard one tells where the rest lies, and weighs nothing.
    """
    table, clothing = on.scenario.plate, on.needed(Clothing)
    with blaming("plate"):
        plate = plate_of(standard_plate_shape(), 1.0) if table is None else plate_from(table)
    drop = _drop(on.scenario.harness, plate, on.body, clothing)
    seat = seated(plate, on.body, clothing.under_plate, drop)
    lies = SeatedPlate(plate, seat, drop, table is not None)
    if table is None:
        yield WornThing("plate", offers=(lies,))
        return
    parts = (
        Part(word("plate"), "plate", solid_at(seat, plate.solid)),
        *(Part(note("plate: {name}", name=one.name), "other", solid_at(seat, one.solid)) for one in plate.additions),
    )
    drawn = drawn_plate(table, plate)
    if drawn is None:
        yield WornThing("plate", parts, offers=(lies,))
        return
    doubts = tuple(plate_doubt(doubt) for doubt in drawn.reading.doubts)
    yield WornThing("plate", parts, notes=doubts, offers=(lies, drawn))


def _drop(harness: Harness | None, plate: Plate, body: PosedBody, clothing: Clothing) -> float:
    """How far the plate's waist slots hang below the natural waist [m], told outright or by the straps' length."""
    if harness is None or harness.shoulder_strap is None:
        return 0.0 if harness is None else harness.drop
    with blaming("harness.shoulder_strap"):
        return drop_of_strap(harness.shoulder_strap, plate, body, clothing.under_plate, clothing.under_straps)
