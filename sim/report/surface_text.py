"""The object of ``settle --surface`` as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sim.report.words import bullets, degrees, rows, wrapped

Object = Mapping[str, Any]
DRY: Final = 0.02  # share under water up to which a part is said to be clear of it
SIDE: Final = 0.1  # sine of the tilt, about 6 degrees, from which on a side is said to be higher
UNDER: Final = 0.98  # share from which on it is not cut by the water


def surface_lines(surface: Object | None) -> list[str]:
    """Lines of a ``surface`` object; none where it was not asked for."""
    if surface is None:
        return []
    heading = f"Surface attitude: mouth height and trunk angle ({_gas_words(surface)})"
    if surface["outcome"] == "sinks":
        heavy = f"The diver sinks: even so the whole is {surface['heavy_by_kg']:.1f} kg too heavy to float."
        return [*rows(heading, [("at the surface", heavy)]), *bullets("At the surface", surface["notes"])]
    lines = rows(heading, [row for rest in surface["rests"] for row in _rest_rows(rest)])
    reference = surface["reference"]
    said = [
        "Motionless and limp in the pose and at the breath of the file, on flat water; nobody is held up by this. "
        'Another pose: --set pose="upright".',
        f"For reference only: for lifejackets the LSA Code (2.2) asks for a mouth "
        f"{reference['mouth_above_water_mm']:.0f} mm above the water and a body leaning back "
        f"{reference['trunk_leaning_back_deg']:.0f} degrees or more from the vertical. A wing is not a lifejacket.",
        *surface["notes"],
    ]
    return [*lines, *(line for text in said for line in wrapped(text, "  - ", "    "))]


def _gas_words(surface: Object) -> str:
    if surface["wing_gas_l"] is None:
        wing = "no wing"
    elif surface["wing_full"]:
        wing = f"wing blown up to its {surface['wing_gas_l']:.1f} l"
    else:
        wing = f"{surface['wing_gas_l']:.1f} l in the wing, as the file says"
    suit = surface["suit_gas_l"]
    return wing if suit is None else f"{wing}, {suit:.1f} l in the suit"


def _rest_rows(rest: Object) -> Iterator[tuple[str, str]]:
    face = {"up": "face up", "down": "face down", "forward": "upright", "to the side": "on the side"}[rest["face"]]
    name = face if rest["stable"] else f"{face} (would not stay)"
    yield name, f"trunk {degrees(rest['trunk_from_vertical_deg'])} from the vertical{_lean(rest)}, {_mouth(rest)}"
    yield "", f"{_waterline(rest['under_water'])}; {rest['reserve_buoyancy_kg']:.1f} kg of buoyancy in reserve"
    yield "", f"reached from {' and '.join(rest['reached_from'])}"


def _lean(rest: Object) -> str:
    """Which way the trunk leans, and which side is higher; nothing where it stands nearly upright."""
    if rest["trunk_from_vertical_deg"] < 1.0:
        return ""
    lean = {"up": ", leaning back", "down": ", leaning forward"}.get(rest["face"], "")
    side = rest["up"][1]
    return lean + ("" if abs(side) < SIDE else f", {'left' if side > 0.0 else 'right'} side higher")


def _mouth(rest: Object) -> str:
    height = rest["mouth_above_water_mm"]
    return f"mouth {abs(height):.0f} mm {'above the water' if height >= 0.0 else 'UNDER water'}"


def _waterline(shares: Mapping[str, float]) -> str:
    """Where the water cuts the diver, part by part."""
    part = [f"{name} {100.0 * s:.0f} %" for name, s in shares.items() if DRY < s < UNDER]
    dry = [name for name, s in shares.items() if s <= DRY]
    said = f"partly under water: {', '.join(part)}" if part else "no part is cut by the water"
    return said + (f"; clear of it: {', '.join(dry)}" if dry else "")
