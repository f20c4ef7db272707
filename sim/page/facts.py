"""What the program takes each value of a set-up to be, and where it has it from: shown beside the fields."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from functools import cache
from typing import Any, Final

from scenarios.catalogue.used import used_of_catalogue
from scenarios.models import Scenario
from scenarios.toml_file import parse_toml
from scenarios.understood import understood_text
from scenarios.unit_table import units
from scenarios.units import UnitError, parse
from sim.case import Case
from sim.page.form import form

# which keys what was estimated belongs to; what has no key of its own is told under the answers alone
ESTIMATED: Final[Mapping[str, tuple[str, ...]]] = {
    "body density": ("diver.body_fat", "diver.body_density"),
    "lung gas": ("diver.lung_gas",),
    "suit gas": ("suit.gas",),
    "softness and room of the suit": ("suit.slack", "suit.softness", "suit.free_room"),
}


def facts(case: Case) -> dict[str, dict[str, Any]]:
    """By dotted key: ``value`` as it was taken, written with its unit; ``on`` : its number in units of the slider;
    ``source`` of the catalogue where it is from there; ``estimated`` where it was not given."""
    content = case.content
    if not isinstance(content, Scenario):
        return {}
    understood = parse_toml(understood_text(content, case.path.parent), "scenario")
    told: dict[str, dict[str, Any]] = {key: {"value": value} for key, value in _flat(understood, "")}
    for used in used_of_catalogue(content):
        told.setdefault(used.key, {"value": str(used.value)})["source"] = f"{used.entry}: {used.source}"
    for name in case.assembled.estimated:
        for key in ESTIMATED.get(name, ()):
            told.setdefault(key, {"value": ""})["estimated"] = True
    for key, one in told.items():
        if places := _on_slider(key, one["value"]):
            one["on"] = places
    return told


def _on_slider(key: str, text: str) -> dict[str, float]:
    """Where a value stands on its field's slider, by unit; empty where it has none, or is no number ("vented")."""
    places = {}
    for name in _slider_units().get(re.sub(r"\.\d+\.", ".N.", key), ()):
        unit = next(one for one in units() if one.name == name)
        with suppress(UnitError):
            places[name] = (parse(unit.dimension, text) - unit.offset) / unit.factor
    return places


@cache
def _slider_units() -> Mapping[str, tuple[str, ...]]:
    """By key, a list's entries numbered N: the units of its slider."""
    found = {}
    for group in form():
        for field in (*group.fields, *group.more):
            if (slider := field.slider) is not None:
                key = f"{group.table}.N.{field.key}" if group.table else field.key
                found[key] = (slider.unit, *([slider.other.unit] if slider.other else ()))
    return found


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
