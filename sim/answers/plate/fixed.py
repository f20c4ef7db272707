"""Where a plate's sheet has another thickness, and what is fixed to it, as told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from meshes.plate.back_plate import Plate
from meshes.plate.edges import NOTHING, Edges
from meshes.plate.zones import shape_of
from meshes.solid import Solid
from sim.said import Amount, Sentence, amount, note
from sim.telling.language import quantity, say, told
from sim.telling.record import Told


@dataclass(frozen=True, kw_only=True)
class ZoneTold:
    """A place of another thickness, on both sides of the middle line."""

    thickness: Annotated[float, Told("of the sheet there", "m")]
    top: Annotated[float, Told("where it begins, from the top edge", "m", key="from_top_edge_m")]
    bottom: Annotated[float, Told("where it ends, from the top edge", "m", key="to_from_top_edge_m")]
    inner: Annotated[float, Told("where it begins, from the middle line", "m", key="from_middle_line_m")]
    outer: Annotated[float, Told("where it ends, from the middle line", "m", key="to_from_middle_line_m")]
    area: Annotated[float, Told("of the sheet in it, both sides together, in m^2")]


@dataclass(frozen=True, kw_only=True)
class Balance:
    """Mass, weight in water and centre of mass of a thing in the plate's frame."""

    mass: Annotated[float, Told("of it", "kg")]
    volume: Annotated[float, Told("water that it displaces", "l")]
    weight_in_water: Annotated[float, Told("in the water of the answer", "kg", plus="sinks")]
    cm_down: Annotated[float, Told("of its centre of mass, from the top edge", "m", key="cm_from_top_edge_m")]
    cm_across: Annotated[
        float,
        Told("of its centre of mass, from the middle line", "m", plus="to the diver's left",
             key="cm_from_middle_line_m"),
    ]  # fmt: skip
    cm_behind: Annotated[
        float,
        Told("of its centre of mass, from what of the plate lies against the back", "m", plus="away from it",
             key="cm_from_back_m"),
    ]  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Fixed:
    """A thing fixed to the plate and no part of its sheet."""

    name: Annotated[str, Told("of it")]
    balance: Annotated[Balance, Told("of it")]


def told_zones(plate: Plate, edges: Edges) -> tuple[ZoneTold, ...]:
    """All zones of a plate; ``edges`` of its flat sheet."""
    return tuple(
        ZoneTold(
            thickness=zone.thickness,
            top=zone.top,
            bottom=min(zone.bottom, edges.length),
            inner=zone.inner,
            outer=min(zone.outer, edges.width / 2),
            area=float(shape_of(zone, plate.pattern.outline, edges).area),
        )
        for zone in plate.zones
    )


def told_fixed(plate: Plate, water: float) -> tuple[Fixed, ...]:
    """What is fixed to a plate, in water of a density [kg/m^3]."""
    return tuple(Fixed(name=one.name, balance=balance_of(plate, one.solid, water)) for one in plate.additions)


def balance_of(plate: Plate, solid: Solid, water: float) -> Balance:
    """Of a solid in the plate's frame, in water of a density [kg/m^3]."""
    low, high = plate.outline.min(axis=0), plate.outline.max(axis=0)
    return Balance(
        mass=solid.mass,
        volume=solid.volume,
        weight_in_water=solid.mass - water * solid.volume,
        cm_down=float(high[0] - solid.cm[0]),
        cm_across=float(solid.cm[1] - np.mean([low[1], high[1]])),
        cm_behind=float(solid.cm[2]),
    )


def zone_note(zone: ZoneTold) -> Sentence:
    """As "6.0 mm thick from 40 to 90 mm below the top edge, 0 to 25 mm from the middle line"."""
    return note(
        "{thickness} thick from {top} to {bottom} below the top edge, {inner} to {outer} from the middle line",
        thickness=amount(1e3 * zone.thickness, "mm", 1),
        top=_shortest(zone.top, bare=True),
        bottom=_shortest(zone.bottom),
        inner=_shortest(zone.inner, bare=True),
        outer=_shortest(zone.outer),
    )


def zone_words(zone: ZoneTold) -> str:
    """The same as the reader has it."""
    return told(zone_note(zone))


def _shortest(length: float, bare: bool = False) -> Amount:
    """A length [m] to four figures, with no more of them than it needs."""
    digits = len(f"{1e3 * length:.4g}".partition(".")[2])
    return amount(1e3 * length, "mm", digits, bare=bare)


def balance_words(balance: Balance) -> str:
    """As "1.000 kg, in water 0.900 kg; CM 290.0 mm below the top edge, ..."."""
    mass, weight = quantity(balance.mass, "kg", 3), quantity(abs(balance.weight_in_water), "kg", 3)
    place = ", ".join(_place(balance))
    if balance.weight_in_water >= 0.0:
        return say("{mass}, in water {weight}; CM {place}", mass=mass, weight=weight, place=place)
    return say("{mass}, it floats with {weight}; CM {place}", mass=mass, weight=weight, place=place)


def _place(balance: Balance) -> Iterator[str]:
    yield say("{mm} below the top edge", mm=millimetres(balance.cm_down))
    yield across_words(balance.cm_across)
    behind = millimetres(abs(balance.cm_behind))
    if balance.cm_behind >= 0.0:
        yield say("{mm} behind what lies on the back", mm=behind)
    else:
        yield say("{mm} before what lies on the back", mm=behind)


def across_words(across: float) -> str:
    """Where a thing is to the left or right [m], plus to the diver's left."""
    if abs(across) < NOTHING:
        return say("on the middle line")
    if across > 0.0:
        return say("{mm} to the left of the middle line", mm=millimetres(across))
    return say("{mm} to the right of the middle line", mm=millimetres(-across))


def millimetres(length: float, digits: int = 1) -> str:
    """A length [m] as told."""
    return quantity(1e3 * length, "mm", digits)
