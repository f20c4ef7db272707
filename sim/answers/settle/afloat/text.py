"""The diver at the surface as plain text."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final

from sim.answers.settle.afloat.answer import Surface
from sim.answers.settle.afloat.words import (
    Lie,
    asks,
    chest_height,
    heading,
    lies_of,
    mouth_height,
    reached,
    trunk,
    verdict,
)
from sim.said import word
from sim.telling.language import number, quantity, say, set_apart, told
from sim.telling.words import bullets, rows, wrapped

DRY: Final = 0.02  # share under water up to which a part is said to be clear of it
UNDER: Final = 0.98  # share from which on it is not cut by the water
LIMP: Final = word(
    "Motionless on flat water at the breath of the file, with the limbs where weight, water "
    "and their own relaxed flesh put them and the head tipped so that the mouth is as clear "
    "as it gets. Nobody is held up by this, and somebody who does not move need not stay as "
    "told here."
)


def surface_lines(surface: Surface | None) -> list[str]:
    """Lines of it; none where it was not asked for."""
    if surface is None:
        return []
    title = say("Surface attitude: mouth height and trunk angle ({gas_words})", gas_words=gas_words(surface))
    if surface.heavy_by is not None:
        heavy = say(
            "The diver sinks: even so the whole is {heavy_by} too heavy to float.",
            heavy_by=quantity(surface.heavy_by, "kg", 1),
        )
        return [
            *rows(title, [(say("at the surface"), heavy)]),
            *bullets(say("At the surface"), map(told, surface.notes)),
        ]
    lines = rows(title, [row for lie in lies_of(surface) for row in _lie_rows(lie, surface)])
    reference = surface.reference
    said = [
        told(LIMP),
        say(
            "For reference only: for lifejackets the LSA Code (2.2) asks for a mouth "
            "{mouth_above_water} above the water and a body leaning back {trunk_leaning_back:.0f} "
            "degrees or more from the vertical. A wing is not a lifejacket.",
            mouth_above_water=quantity(1e3 * reference.mouth_above_water, "mm", 0),
            trunk_leaning_back=math.degrees(reference.trunk_leaning_back),
        ),
        *(told(text) for text in surface.notes),
    ]
    return [*lines, *(line for text in said for line in wrapped(text, "  - ", "    "))]


def gas_words(surface: Surface) -> str:
    """How much gas is in wing and suit."""
    if surface.wing_gas is None:
        wing = say("no wing")
    elif surface.wing_full:
        wing = say("wing blown up to its {wing_gas}", wing_gas=quantity(1e3 * surface.wing_gas, "l", 1))
    else:
        wing = say("{wing_gas} in the wing, as the file says", wing_gas=quantity(1e3 * surface.wing_gas, "l", 1))
    suit = surface.suit_gas
    return wing if suit is None else say("{wing}, {suit} in the suit", wing=wing, suit=quantity(1e3 * suit, "l", 1))


def _lie_rows(lie: Lie, surface: Surface) -> Iterator[tuple[str, str]]:
    lying, attitude = lie.lying, lie.attitude
    yield heading(lie), set_apart((verdict(lie, surface), mouth_height(lying)))
    yield "", set_apart((trunk(lying), chest_height(lying)))
    yield from (("", said) for said in asks(lie, surface))
    if attitude is None and lie.rest is not None:
        yield "", reached(lie.rest.reached_from)
    if attitude is not None and attitude.name == "face up":
        yield (
            "",
            say(
                "{waterline}; {reserve_buoyancy} of buoyancy in reserve",
                waterline=_waterline(lying.under_water),
                reserve_buoyancy=quantity(lying.reserve_buoyancy, "kg", 1),
            ),
        )


def _waterline(shares: Mapping[str, float]) -> str:
    """Where the water cuts the diver, part by part."""
    part = [f"{told(name)} {number(100.0 * s, 0)} %" for name, s in shares.items() if DRY < s < UNDER]
    dry = [told(name) for name, s in shares.items() if s <= DRY]
    said = say("partly under water: {names}", names=", ".join(part)) if part else say("no part is cut by the water")
    return say("{said}; clear of it: {names}", said=said, names=", ".join(dry)) if dry else said
