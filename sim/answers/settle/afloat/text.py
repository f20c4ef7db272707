"""The object of ``settle --surface`` as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sim.answers.settle.afloat.words import asks, heading, height, reached, told_lies, trunk, verdict
from sim.telling.words import bullets, rows, wrapped

Object = Mapping[str, Any]
DRY: Final = 0.02  # share under water up to which a part is said to be clear of it
UNDER: Final = 0.98  # share from which on it is not cut by the water
LIMP: Final = (
    "Motionless on flat water at the breath of the file, with the limbs where weight, water and their own relaxed "
    "flesh put them and the head tipped so that the mouth is as clear as it gets. Nobody is held up by this, and "
    "somebody who does not move need not stay as told here."
)


def surface_lines(surface: Object | None) -> list[str]:
    """Lines of a ``surface`` object; none where it was not asked for."""
    if surface is None:
        return []
    title = f"Surface attitude: mouth height and trunk angle ({gas_words(surface)})"
    if surface["outcome"] == "sinks":
        heavy = f"The diver sinks: even so the whole is {surface['heavy_by_kg']:.1f} kg too heavy to float."
        return [*rows(title, [("at the surface", heavy)]), *bullets("At the surface", surface["notes"])]
    lines = rows(title, [row for lie in told_lies(surface) for row in _lie_rows(lie, surface)])
    reference = surface["reference"]
    said = [
        LIMP,
        f"For reference only: for lifejackets the LSA Code (2.2) asks for a mouth "
        f"{reference['mouth_above_water_mm']:.0f} mm above the water and a body leaning back "
        f"{reference['trunk_leaning_back_deg']:.0f} degrees or more from the vertical. A wing is not a lifejacket.",
        *surface["notes"],
    ]
    return [*lines, *(line for text in said for line in wrapped(text, "  - ", "    "))]


def gas_words(surface: Object) -> str:
    """How much gas is in wing and suit."""
    if surface["wing_gas_l"] is None:
        wing = "no wing"
    elif surface["wing_full"]:
        wing = f"wing blown up to its {surface['wing_gas_l']:.1f} l"
    else:
        wing = f"{surface['wing_gas_l']:.1f} l in the wing, as the file says"
    suit = surface["suit_gas_l"]
    return wing if suit is None else f"{wing}, {suit:.1f} l in the suit"


def _lie_rows(lie: Object, surface: Object) -> Iterator[tuple[str, str]]:
    mouth, chest = lie["mouth_above_water_mm"], lie["chest_above_water_mm"]
    yield heading(lie), f"{verdict(lie, surface)}; {height('mouth', mouth)}"
    yield "", f"{trunk(lie)}; {height('chest', chest)}"
    yield from (("", said) for said in asks(lie, surface))
    if "name" not in lie:
        yield "", reached(lie["reached_from"])
    if lie.get("name") == "face up":
        yield "", f"{_waterline(lie['under_water'])}; {lie['reserve_buoyancy_kg']:.1f} kg of buoyancy in reserve"


def _waterline(shares: Mapping[str, float]) -> str:
    """Where the water cuts the diver, part by part."""
    part = [f"{name} {100.0 * s:.0f} %" for name, s in shares.items() if DRY < s < UNDER]
    dry = [name for name, s in shares.items() if s <= DRY]
    said = f"partly under water: {', '.join(part)}" if part else "no part is cut by the water"
    return said + (f"; clear of it: {', '.join(dry)}" if dry else "")
