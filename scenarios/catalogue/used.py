"""Which numbers of a scenario stand as the catalogue has them, and where it has them from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from scenarios.by_key import quantity_at
from scenarios.catalogue.lookup import Entry, entry, sections
from scenarios.table import Table


@dataclass(frozen=True)
class Used:
    """One value. key : dotted, as --set takes it;  value : as it stands in the catalogue"""

    key: str
    entry: str
    value: Any
    source: str


def used_of_catalogue(table: Table, path: str = "") -> Iterator[Used]:
    """The values with a source, in the order of the tables; none that was given otherwise."""
    for name in type(table).model_fields:
        value = getattr(table, name)
        many = isinstance(value, tuple)
        for index, inner in enumerate(value if many else (value,)):
            if not isinstance(inner, Table):
                continue
            below = f"{path}{name}.{index}." if many else f"{path}{name}."
            known = getattr(inner, "catalogue", None)
            section = next((s for s in sections() if s == name), None)
            if known is not None and section is not None:
                yield from _of_entry(entry(section, known), inner, below)
            yield from used_of_catalogue(inner, below)


def _of_entry(chosen: Entry, table: Table, path: str) -> Iterator[Used]:
    for key, source in chosen.sources.items():
        value = _at(chosen.values, key)
        if _stands(table, key, value):
            yield Used(path + key, chosen.name, value, source)


def _stands(table: Table, key: str, value: Any) -> bool:
    """Whether the table holds what the catalogue says."""
    now: Any = table
    for step in key.split("."):
        now = getattr(now, step, None)
    if now is None:
        return False
    quantity = quantity_at(table, key)
    if quantity is None or isinstance(now, dict):
        return bool(now == value)
    if isinstance(now, tuple):
        return list(now) == [quantity.read(one) for one in value]
    return bool(now == quantity.read(value))


def _at(values: Any, key: str) -> Any:
    for step in key.split("."):
        values = values[step]
    return values
