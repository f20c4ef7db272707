"""Lead in its usual places."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.gear.bands import BOLT_SPACING
from meshes.gear.lead import ankle_weight, channel_weight, gap_weight, shot_pouch, tail_weight, weight_belt
from meshes.memoized import memoized, memoized_on_body
from meshes.plate.back_plate import Plate
from meshes.solid import Solid, combined
from scenarios.loose_gear import Lead
from sim.assembly.back_cylinders import BAND_BELOW_SHOULDER, BackCylinders
from sim.assembly.clothing import Clothing
from sim.assembly.on_segment import on_segment
from sim.assembly.placement import Placement, inside, placement, solid_at
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_plate import SeatedPlate
from sim.assembly.worn_thing import DiverSoFar, WornThing, sentence
from sim.person.posed_body import PosedBody
from sim.rig import Part
from sim.said import amount, known, note, word

BLOCK: Final = 2.0  # kg, the usual belt block is 1 or 2 kg (common practice)
LEAST_CHANNEL: Final = 0.010  # m, for a strip of lead and the webbing over it (assumed)
PLACES: Final = {
    "": word("placed by hand"), "belt": word("belt"), "ankles": word("ankles"), "tail": word("tail"),
    "plate channel": word("plate channel"), "upper band": word("upper band"),
    "between cylinders": word("between cylinders"),
}  # fmt: skip
ABOVE_ANKLE: Final = 0.06  # m up the shank from the ankle joint (assumed)


@dataclass(frozen=True, eq=False)
class Bearers:
    """What lead can hang on: the body, the plate where it lies, and the cylinders if worn.

    waist : (x, z of its middle, breadth, depth) [m] of the waist over the suit
    """

    body: PosedBody
    plate: Plate
    seat: Placement
    cylinders: BackCylinders | None
    waist: tuple[float, float, float, float]


def put_on_lead(on: DiverSoFar) -> Iterator[WornThing]:
    """Each lead as a thing of its own."""
    if not on.scenario.lead:
        return
    lies = on.needed(SeatedPlate)
    bearers = Bearers(on.body, lies.plate, lies.seat, on.offered(BackCylinders), _waist(on))
    for i, lead in enumerate(on.scenario.lead):
        key = f"lead.{i}"
        with blaming(key):
            part, doubt = worn_lead(lead, bearers)
        yield WornThing(key, (part,), notes=() if doubt is None else (sentence(doubt),))


def _waist(on: DiverSoFar) -> tuple[float, float, float, float]:
    """x, z of the middle, breadth and depth [m] of the waist over the suit."""
    clothing = on.needed(Clothing).thickness
    front, back = on.body.landmarks["navel"], on.body.landmarks["waist back"]
    breadth = on.body.person.measures["waistbreadth"] + 2.0 * clothing
    depth = float(back[2] - front[2]) + 2.0 * clothing
    return float(back[0]), 0.5 * float(front[2] + back[2]), breadth, depth


def worn_lead(table: Lead, on: Bearers) -> tuple[Part, str | None]:
    """Lead as a part, and a sentence when it could not be put where it was asked for."""
    name = table.name or note("lead, {place}", place=known(PLACES.get(table.place or "", table.place or "")))
    solid, doubt = _pouch(table.mass, table.at) if table.at is not None else _placed(table, on)
    # the shapes are lead's; another alloy displaces what its own density says
    return Part(name, "lead", replace(solid, volume=table.mass / table.density)), doubt


def _pouch(mass: float, at: tuple[float, float, float]) -> tuple[Solid, None]:
    """Lead put anywhere by hand: a pouch of shot, which lies where it is put."""
    return solid_at(placement(at), shot_pouch(mass)), None


def _placed(table: Lead, on: Bearers) -> tuple[Solid, str | None]:
    place, mass = table.place, table.mass
    if place == "belt":
        return _belt(mass, on.waist), None
    if place == "ankles":
        return _ankles(mass, on.body), None
    if place == "tail":
        return solid_at(
            inside(on.seat, placement(on.plate.bottom + np.array([0.03, 0.0, 0.02]))), tail_weight(mass)
        ), None
    if place == "plate channel":
        floor = on.plate.channel_depth - 0.002
        where = inside(on.seat, placement([0.0, 0.0, floor]))
        deep = on.plate.channel_depth
        shallow = note(
            'Lead "plate channel": the channel of this plate is {deep} deep, which holds no lead; it was put there '
            "all the same.",
            deep=amount(1e3 * deep, "mm", 0),
        )
        return solid_at(where, channel_weight(mass, slope=65.0)), None if deep >= LEAST_CHANNEL else shallow
    if on.cylinders is None:
        where = inside(on.seat, placement([0.0, 0.0, on.plate.channel_depth + on.plate.thickness + 0.01]))
        none = note(
            'Lead "{place}" needs cylinders, and none are worn: it was put on the back of the plate.',
            place=str(place),
        )
        return solid_at(where, tail_weight(mass)), none
    return _by_cylinders(mass, place == "upper band", on, on.cylinders)


@memoized
def _belt(mass: float, waist: tuple[float, float, float, float]) -> Solid:
    """Blocks in pairs, so that the belt balances; ``waist`` as in Bearers."""
    height, middle, breadth, depth = waist
    pairs = max(1, int(np.ceil(mass / (2.0 * BLOCK))))
    blocks = [mass / (2 * pairs)] * (2 * pairs)
    return solid_at(placement([height, 0.0, middle]), weight_belt(blocks, breadth=breadth, depth=depth, belt=False))


@memoized_on_body
def _ankles(mass: float, body: PosedBody) -> Solid:
    girth = body.person.skeleton.measures["anklecircumference"] + 0.05
    ankle = body.person.skeleton.joints["ankle"]
    sides = []
    for name, side in (("left", 1.0), ("right", -1.0)):
        made = ankle_weight(0.5 * mass, girth=girth, mirror=side < 0.0)
        at = [ankle[0] + ABOVE_ANKLE, side * ankle[1], ankle[2]]
        sides.append(solid_at(on_segment(body, f"{name} shank", at), made))
    return combined(sides)


def _by_cylinders(
    mass: float, at_upper_band: bool, on: Bearers, cylinders: BackCylinders
) -> tuple[Solid, str | None]:
    """In the gap of a twin set midway between the bands, or at the upper band; beside a single, on its band."""
    made, first = cylinders.made, cylinders.each[0]
    upper = made.shoulder_x - BAND_BELOW_SHOULDER
    along = upper - 0.06 if at_upper_band else upper - 0.5 * BOLT_SPACING
    if len(cylinders.each) == 1:
        where = inside(first, placement([along, 0.0, 0.5 * made.outer_diameter + 0.02]))
        return solid_at(where, tail_weight(mass)), None
    middle = Placement(first.rotation, np.mean([w.origin for w in cylinders.each], axis=0))
    spacing = float(np.linalg.norm(cylinders.each[0].origin - cylinders.each[1].origin))
    where = inside(middle, placement([along, 0.0, 0.0]))
    try:
        bar = gap_weight(
            mass, outer_diameter=made.outer_diameter, spacing=spacing, length=min(0.30, 0.05 + 0.08 * mass)
        )
    except ValueError as error:
        return solid_at(where, tail_weight(mass)), note("Lead between the cylinders: {why}", why=str(error))
    return solid_at(where, bar), None
