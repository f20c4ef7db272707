"""One value of a read table by its dotted key, such as "lead.0.mass": read, and put otherwise. All values SI.

What a user may say goes through ``sim.case.Case.vary``, which checks it and blames the setting. ``told_otherwise`` is
for what the program itself puts into scenarios that are checked already: an unknown a spread away, which may lie
beyond what a file may say; what was learnt; the pool in which a diver was measured, also on each of those variants.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from scenarios.quantities import Quantity
from scenarios.table import Table, quantity_of

AnyTable = TypeVar("AnyTable", bound=Table)


def told_otherwise(table: AnyTable, key: str, value: object) -> AnyTable:
    """The table with ``value`` under a dotted key, unchecked: SI, as it is read. In a list the number after the last
    appends one."""
    first, _, rest = key.partition(".")
    now = getattr(table, first)
    if not rest:
        return table.model_copy(update={first: value})
    if isinstance(now, tuple):
        index, _, inner = rest.partition(".")
        i = int(index)
        member = told_otherwise(now[i], inner, value) if inner else value
        return table.model_copy(update={first: (*now[:i], member, *now[i + 1 :])})
    if isinstance(now, dict):
        return table.model_copy(update={first: {**now, rest: value}})
    return table.model_copy(update={first: told_otherwise(now, rest, value)})


def with_values(table: AnyTable, values: Mapping[str, object]) -> AnyTable:
    """The same with several values by their dotted keys, in that order."""
    for key, value in values.items():
        table = told_otherwise(table, key, value)
    return table


def told_value(table: Table, key: str) -> float:
    """The number (SI) under a dotted key. Raises TypeError where there is none."""
    now: object = table
    for step in key.split("."):
        if isinstance(now, tuple):
            now = now[int(step)]
        elif isinstance(now, dict):
            now = now[step]
        else:
            now = getattr(now, step)
    if not isinstance(now, int | float):
        raise TypeError(f"'{key}' holds no number")
    return float(now)


def stated_value(table: Table, key: str) -> float | None:
    """The number (SI) under a dotted key, None where the file leaves it to be estimated or has no such place."""
    try:
        return told_value(table, key)
    except (TypeError, KeyError, IndexError, AttributeError, ValueError):
        return None


def numbers_in(table: Table, path: str = "") -> dict[str, float]:
    """All quantities that are told as numbers, by dotted key."""
    found: dict[str, float] = {}
    for name, field in type(table).model_fields.items():
        value, is_quantity = getattr(table, name), quantity_of(field) is not None
        if is_quantity and isinstance(value, dict):
            found |= {f"{path}{name}.{k}": float(v) for k, v in value.items()}
        elif is_quantity and isinstance(value, int | float):
            found[f"{path}{name}"] = float(value)
        elif isinstance(value, Table):
            found |= numbers_in(value, f"{path}{name}.")
        elif isinstance(value, tuple):
            for index, member in enumerate(value):
                if isinstance(member, Table):
                    found |= numbers_in(member, f"{path}{name}.{index}.")
    return found


def quantity_at(table: Table, key: str) -> Quantity | None:
    """The quantity that a dotted key holds, whether it is told or not."""
    first, _, rest = key.partition(".")
    field = type(table).model_fields.get(first)
    if field is None:
        return None
    now = getattr(table, first)
    if not rest or isinstance(now, dict):
        return quantity_of(field)
    if isinstance(now, tuple):
        index, _, rest = rest.partition(".")
        now = now[int(index)] if index.isdecimal() and int(index) < len(now) else None
    return quantity_at(now, rest) if isinstance(now, Table) else None
