"""Where a plate's sheet has another thickness, and what is fixed to it, as told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from meshes.plate.back_plate import Plate
from meshes.plate.edges import Edges
from meshes.plate.zones import shape_of
from meshes.solid import Solid
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


def zone_words(zone: ZoneTold) -> str:
    """As "6.0 mm thick from 40 to 90 mm below the top edge, 0 to 25 mm from the middle line"."""
    top, bottom, inner, outer = (f"{1e3 * v:.4g}" for v in (zone.top, zone.bottom, zone.inner, zone.outer))
    return (
        f"{1e3 * zone.thickness:.1f} mm thick from {top} to {bottom} mm below the top edge, {inner} to {outer} mm "
        "from the middle line"
    )


def balance_words(balance: Balance) -> str:
    """As "1.000 kg; in water 0.900 kg; CM 290.0 mm below the top edge, ..."."""
    weight = balance.weight_in_water
    heavy = f"in water {weight:.3f} kg" if weight >= 0.0 else f"it floats with {-weight:.3f} kg"
    return f"{balance.mass:.3f} kg, {heavy}; CM {', '.join(_place(balance))}"


def _place(balance: Balance) -> Iterator[str]:
    yield f"{1e3 * balance.cm_down:.1f} mm below the top edge"
    aside = balance.cm_across
    side = "left" if aside > 0.0 else "right"
    beside = f"{1e3 * abs(aside):.1f} mm to the {side} of the middle line"
    yield "on the middle line" if abs(aside) < 5e-5 else beside
    where = "behind" if balance.cm_behind >= 0.0 else "before"
    yield f"{1e3 * abs(balance.cm_behind):.1f} mm {where} what lies on the back"
