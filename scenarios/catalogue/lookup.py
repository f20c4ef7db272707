"""The catalogue of generic gear: entries by name, each number with where it comes from.

A file ``catalogue/SECTION.toml`` holds one table per entry. A value is text (``material = "steel"``), a nested
table, or ``{ value = "3 mm", source = "common practice" }``; ``summary`` describes the entry.
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Literal, get_args

from scenarios.errors import InnerError, shortened

Section = Literal[
    "plate", "harness", "cylinders", "regulators", "rebreather", "wing", "suit", "undergarment", "boots", "fins",
    "gear",
]  # fmt: skip

# Keys that say the same thing in two ways: one given by the user takes the place of the entry's other.
_ALTERNATIVES = (("water_capacity", "free_gas"), ("pair_mass", "each_mass"), ("volume", "density"), ("place", "at"))
_ARRANGEMENTS = ("single", "twin")


@dataclass(frozen=True)
class Entry:
    """One catalogue entry: keys as in a scenario's table, and the source of each number by dotted key."""

    section: Section
    name: str
    summary: str
    values: Mapping[str, Any]
    sources: Mapping[str, str]


@cache
def entries(section: Section) -> Mapping[str, Entry]:
    """All entries of one section, by name."""
    text = files("scenarios.catalogue").joinpath(f"{section}.toml").read_text(encoding="utf-8")
    return MappingProxyType({name: _entry(section, name, raw) for name, raw in tomllib.loads(text).items()})


def sections() -> tuple[Section, ...]:
    """The sections there are."""
    return get_args(Section)


def entry(section: Section, name: str) -> Entry:
    """The entry of that name. Raises ValueError with the nearest names.

    For cylinders a leading "single" or "twin" chooses the arrangement: "twin steel 12 l 232 bar".
    """
    known = entries(section)
    wanted = " ".join(name.lower().split())
    if wanted in known:
        return known[wanted]
    first, _, rest = wanted.partition(" ")
    if section == "cylinders" and first in _ARRANGEMENTS and rest in known:
        base = known[rest]
        return Entry(section, wanted, f"{first}: {base.summary}", {**base.values, "arrangement": first}, base.sources)
    near = difflib.get_close_matches(wanted, _all_names(section), n=1)
    meant = f'did you mean "{near[0]}"? ' if near else ""
    listed = ", ".join(f'"{n}"' for n in known)
    raise ValueError(f'"{shortened(name)}" is not in the catalogue of {section}; {meant}known: {listed}')


def from_catalogue(section: Section) -> Callable[[Any], Any]:
    """Reader of a table that may be an entry's name, or name one in ``catalogue`` and override its keys beside it."""

    def read(value: Any) -> Any:
        if isinstance(value, str):
            value = {"catalogue": value}
        if not isinstance(value, dict) or not isinstance(value.get("catalogue"), str):
            return value
        try:
            chosen = entry(section, value["catalogue"])
        except ValueError as error:
            raise InnerError(str(error), "catalogue") from None
        return _overridden(chosen.values, value)

    return read


def optional_from_catalogue(section: Section) -> Callable[[Any], Any]:
    """As :func:`from_catalogue`, for gear that may be left out: "none" is not worn."""
    read = from_catalogue(section)
    return lambda value: None if isinstance(value, str) and value.strip().lower() == "none" else read(value)


def _overridden(base: Mapping[str, Any], own: Mapping[str, Any]) -> dict[str, Any]:
    """The entry's keys with the user's over them; a table inside is merged, not replaced."""
    crowded_out = {k for group in _ALTERNATIVES if any(k in own for k in group) for k in group}
    merged = {k: v for k, v in base.items() if k not in crowded_out}
    for key, value in own.items():
        inner = merged.get(key)
        if isinstance(inner, str) and isinstance(value, dict) and "catalogue" not in value:
            inner = {"catalogue": inner}  # the entry names another entry, the user changes some of its keys
        merged[key] = {**inner, **value} if isinstance(inner, dict) and isinstance(value, dict) else value
    return merged


def _all_names(section: Section) -> list[str]:
    names = list(entries(section))
    return [*names, *(f"{a} {n}" for a in _ARRANGEMENTS for n in names)] if section == "cylinders" else names


def _entry(section: Section, name: str, raw: Mapping[str, Any]) -> Entry:
    sources: dict[str, str] = {}
    values = {k: _plain(v, k, sources) for k, v in raw.items() if k != "summary"}
    return Entry(section, name, raw["summary"], MappingProxyType(values), MappingProxyType(sources))


def _plain(value: Any, key: str, sources: dict[str, str]) -> Any:
    """The value without its source, which is noted under the dotted key."""
    if not isinstance(value, dict):
        return value
    if set(value) == {"value", "source"}:
        sources[key] = value["source"]
        return value["value"]
    return {k: _plain(v, f"{key}.{k}", sources) for k, v in value.items()}
