"""The diver at the surface as plain text."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final

from sim.answers.settle.afloat.answer import Surface
from sim.answers.settle.afloat.words import Lie, asks, heading, height, lies_of, reached, trunk, verdict
from sim.telling.words import bullets, rows, wrapped

DRY: Final = 0.02  # share under water up to which a part is said to be clear of it
UNDER: Final = 0.98  # share from which on it is not cut by the water
LIMP: Final = (
    "Motionless on flat water at the breath of the file, with the limbs where weight, water and their own relaxed "
    "flesh put them and the head tipped so that the mouth is as clear as it gets. Nobody is held up by this, and "
    "somebody who does not move need not stay as told here."
)


def surface_lines(surface: Surface | None) -> list[str]:
    """Lines of it; none where it was not asked for."""
    if surface is None:
        return []
    title = f"Surface attitude: mouth height and trunk angle ({gas_words(surface)})"
    if surface.heavy_by is not None:
        heavy = f"The diver sinks: even so the whole is {surface.heavy_by:.1f} kg too heavy to float."
        return [*rows(title, [("at the surface", heavy)]), *bullets("At the surface", surface.notes)]
    lines = rows(title, [row for lie in lies_of(surface) for row in _lie_rows(lie, surface)])
    reference = surface.reference
    said = [
        LIMP,
        f"For reference only: for lifejackets the LSA Code (2.2) asks for a mouth "
        f"{1e3 * reference.mouth_above_water:.0f} mm above the water and a body leaning back "
        f"{math.degrees(reference.trunk_leaning_back):.0f} degrees or more from the vertical. A wing is not a "
        "lifejacket.",
        *surface.notes,
    ]
    return [*lines, *(line for text in said for line in wrapped(text, "  - ", "    "))]


def gas_words(surface: Surface) -> str:
    """How much gas is in wing and suit."""
    if surface.wing_gas is None:
        wing = "no wing"
    elif surface.wing_full:
        wing = f"wing blown up to its {1e3 * surface.wing_gas:.1f} l"
    else:
        wing = f"{1e3 * surface.wing_gas:.1f} l in the wing, as the file says"
    suit = surface.suit_gas
    return wing if suit is None else f"{wing}, {1e3 * suit:.1f} l in the suit"


def _lie_rows(lie: Lie, surface: Surface) -> Iterator[tuple[str, str]]:
    lying, attitude = lie.lying, lie.attitude
    yield heading(lie), f"{verdict(lie, surface)}; {height('mouth', lying.mouth_above_water)}"
    yield "", f"{trunk(lying)}; {height('chest', lying.chest_above_water)}"
    yield from (("", said) for said in asks(lie, surface))
    if attitude is None and lie.rest is not None:
        yield "", reached(lie.rest.reached_from)
    if attitude is not None and attitude.name == "face up":
        yield "", f"{_waterline(lying.under_water)}; {lying.reserve_buoyancy:.1f} kg of buoyancy in reserve"


def _waterline(shares: Mapping[str, float]) -> str:
    """Where the water cuts the diver, part by part."""
    part = [f"{name} {100.0 * s:.0f} %" for name, s in shares.items() if DRY < s < UNDER]
    dry = [name for name, s in shares.items() if s <= DRY]
    said = f"partly under water: {', '.join(part)}" if part else "no part is cut by the water"
    return said + (f"; clear of it: {', '.join(dry)}" if dry else "")
