"""What the program takes each value of a set-up to be, and where it has it from: shown beside the fields."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from functools import cache
from typing import Any, Final

from scenarios.catalogue.used import used_of_catalogue
from scenarios.measure_names import measures
from scenarios.models import Scenario
from scenarios.toml_file import parse_toml
from scenarios.understood import understood_text
from scenarios.unit_table import Unit, units
from scenarios.units import UnitError, parse
from sim.case import Case
from sim.page.form import Slider, form
from sim.page.worked_out import worked_out_of
from sim.telling.language import reader, told

# which keys what was estimated belongs to; what has no key of its own is told under the answers alone
ESTIMATED: Final[Mapping[str, tuple[str, ...]]] = {
    "body density": ("diver.body_fat", "diver.body_density"),
    "suit gas": ("suit.gas",),
    "softness and room of the suit": ("suit.slack", "suit.softness", "suit.free_room"),
}
_LONG: Final = re.compile(r"-?\d+\.\d{5,}(?:e-?\d+)?")  # a number converted from another unit

Facts = dict[str, dict[str, Any]]


def facts(case: Case) -> Facts:
    """By dotted key: ``value`` as it was taken, with its unit; ``on`` : its number in the units of the slider;
    ``source`` : of the catalogue, or how it was worked out;  ``estimated`` : true where it was not given."""
    content = case.content
    if not isinstance(content, Scenario):
        return {}
    understood = parse_toml(understood_text(content, case.path.parent), "scenario")
    found: Facts = {_field_of(key): {"value": value} for key, value in _flat(understood, "")}
    for used in used_of_catalogue(content):
        found.setdefault(used.key, {"value": str(used.value)})["source"] = f"{told(used.entry)}: {told(used.source)}"
    for one in worked_out_of(case):
        fact = found.setdefault(one.key, {"value": one.value})
        fact |= {"worked": one.value, "source": told(one.source)} | ({"estimated": True} if one.estimated else {})
    for name in case.assembled.estimated:
        for key in ESTIMATED.get(name, ()):
            found.setdefault(key, {"value": ""})["estimated"] = True
    for key, fact in found.items():
        _placed(key, fact)
    return found


def _placed(key: str, fact: dict[str, Any]) -> None:
    """Where a value stands on its field's slider; and its text as the reader would write it."""
    fact["value"] = _LONG.sub(lambda number: f"{float(number[0]):.5g}", fact["value"])
    slider = _sliders().get(re.sub(r"\.\d+\.", ".N.", key))
    if slider is None:
        return
    text = fact["value"]
    places = _on(slider, text) or _on(slider, fact.get("worked", ""))
    if places:
        fact["on"] = places
    other = slider.other
    if other is not None and reader().units == "imperial" and other.unit in _on(slider, text):
        fact["value"] = f"{places[other.unit]:.4g} {other.unit}"


def _on(slider: Slider, text: str) -> dict[str, float]:
    """A text's number in each unit of a slider; empty where it is none ("vented")."""
    places = {}
    for name in (slider.unit, *([slider.other.unit] if slider.other else ())):
        unit = _unit(name)
        with suppress(UnitError):
            places[name] = (parse(unit.dimension, text) - unit.offset) / unit.factor
    return places


@cache
def _unit(name: str) -> Unit:
    return next(one for one in units() if one.name == name)


@cache
def _sliders() -> Mapping[str, Slider]:
    """By key, a list's entries numbered N."""
    return {
        f"{group.table}.N.{one.key}" if group.table else one.key: one.slider
        for group in form()
        for one in (*group.fields, *group.more)
        if one.slider is not None
    }


def _field_of(key: str) -> str:
    """The key of the field that shows a value: measures stand there by their plain names."""
    above, _, name = key.rpartition(".")
    return f"{above}.{_measures()[name]}" if above == "diver.measures" and name in _measures() else key


@cache
def _measures() -> Mapping[str, str]:
    return {one.measure: one.name for one in measures()}


def _flat(value: Any, path: str) -> Iterator[tuple[str, str]]:
    """Every value that is no table, by dotted key."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _flat(inner, f"{path}.{key}" if path else str(key))
    elif isinstance(value, list) and value and isinstance(value[0], Mapping):
        for number, inner in enumerate(value):
            yield from _flat(inner, f"{path}.{number}")
    else:
        yield path, str(value).lower() if isinstance(value, bool) else str(value)
