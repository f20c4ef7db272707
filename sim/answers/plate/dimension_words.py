"""What the dimensions of a plate are called by whoever is told of them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from sim.answers.plate import dimensions
from sim.said import brief, word
from sim.telling.language import number, quantity, say, say_count, told, unit_name

NAMES: Final[Mapping[str, str]] = MappingProxyType({
    dimensions.LENGTH: word("length"),
    dimensions.WIDTH: word("width"),
    dimensions.FLAT_WIDTH: word("width of the flat sheet"),
    dimensions.SHOULDER_DOWN: word("shoulder slots, from the top edge"),
    dimensions.SHOULDER_ACROSS: word("shoulder slots, from the middle line"),
    dimensions.WAIST_DOWN: word("waist slots, from the top edge"),
    dimensions.WAIST_ACROSS: word("waist slots, from the middle line"),
    dimensions.BOLTS_DOWN: word("bolt row, from the top edge"),
    dimensions.CROTCH_DOWN: word("crotch slot, from the top edge"),
    dimensions.DEPTH: word("channel depth"),
    dimensions.ANGLE: word("channel's bends"),
    dimensions.THICKNESS: word("thickness"),
})  # fmt: skip
# where there is little room: down is from the top edge, out from the middle line
SHORT: Final[Mapping[str, str]] = MappingProxyType({
    dimensions.SHOULDER_DOWN: word("shoulder slots down"),
    dimensions.SHOULDER_ACROSS: word("shoulder slots out"),
    dimensions.WAIST_DOWN: word("waist slots down"),
    dimensions.WAIST_ACROSS: word("waist slots out"),
    dimensions.BOLTS_DOWN: word("bolt row down"),
    dimensions.CROTCH_DOWN: word("crotch slot down"),
})  # fmt: skip


def dimension_name(name: str) -> str:
    """A dimension, "waist slots, from the top edge"."""
    if (bend := _bend(name)) is None:
        return told(NAMES.get(name, name))
    return (
        say("bend {number}, angle", number=bend)
        if name.endswith("angle")
        else say("bend {number}, from the middle line", number=bend)
    )


def short_dimension(name: str) -> str:
    """A dimension for the first column of a table, "waist slots down"."""
    if name in SHORT:
        return told(SHORT[name])
    bend = _bend(name)
    if bend is not None and not name.endswith("angle"):
        return say("bend {number} out", number=bend)
    return dimension_name(name)


def sized(value: float, unit: str, digits: int) -> str:
    """A size in a dimension's unit, which may be degrees."""
    if unit == "degrees":
        return say("{angle} deg", angle=number(value, digits))
    return quantity(value, unit, digits)


def sized_whole(value: float, unit: str) -> str:
    """The same for how much more of a dimension is looked at: 1 cm, 5 degrees."""
    return say_count("{n} degree", "{n} degrees", round(value)) if unit == "degrees" else told(brief(value, unit))


def short_unit(unit: str) -> str:
    """A unit for the head of a column."""
    return say("deg") if unit == "degrees" else unit_name(unit)


def _bend(name: str) -> str | None:
    """The number of a bend, of which a dimension is."""
    return name.removeprefix("bend ").partition(",")[0] if name.startswith("bend ") else None
