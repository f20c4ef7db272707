"""What was understood of a file, defaults filled in: as a file that can be read again, and as a digest.

The digest (SHA-256) follows from the values, not from how they were written: "166 cm" and "1.66 m", a catalogue entry
and --set count alike, comments and order not at all. Values that differ in their first twelve digits, spreads, and
drawings and learnt files that differ in anything, have different digests.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Final

from pydantic import BeforeValidator
from pydantic.fields import FieldInfo

from scenarios.field_guide import tables_in
from scenarios.models import Scenario
from scenarios.quantities import Quantity
from scenarios.table import Table, quantity_of
from scenarios.toml_text import Unsaid, toml_text
from scenarios.units import exact_shown, exact_text

DIGITS: Final = 12  # of a number that count: spellings of one value part in the 16th
Told = Callable[[Quantity, float, float | None], Any]  # a number with its spread, SI


def understood_text(content: Table, folder: Path) -> str:
    """A file that reads, from ``folder``, to the same values as ``content`` did, with every default in it."""
    return toml_text(_tables(content, content.model_dump(mode="json"), _as_text, lambda p: _beside(p, folder)))


def digest(content: Table) -> str:
    """SHA-256 of what was understood, as 64 hexadecimal digits. Drawings and learnt files count by what they hold."""
    values = _tables(content, content.model_dump(mode="python"), _as_number, _file_mark)
    if isinstance(content, Scenario) and content.learnt is not None:
        values["known"] = digest(content.learnt)
    plain = json.dumps(_plain(values), sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(plain.encode("ascii")).hexdigest()


def _tables(table: Table, dumped: Mapping[str, Any], told: Told, file: Callable[[Path], str]) -> dict[str, Any]:
    """The table's keys with all that is not None, tables inside as tables."""
    found: dict[str, Any] = {}
    for name, field in type(table).model_fields.items():
        value, quantity = getattr(table, name), quantity_of(field)
        if value is None:
            if _can_be_left_off(field):
                found[name] = "none"
        elif isinstance(value, Table):
            found[name] = _tables(value, dumped[name], told, file)
        elif isinstance(value, tuple) and value and isinstance(value[0], Table):
            found[name] = [_tables(v, d, told, file) for v, d in zip(value, dumped[name], strict=True)]
        elif isinstance(value, Path):
            found[name] = file(value)
        elif quantity is not None:
            found[name] = _quantities(name, value, quantity, table.spreads, told)
        else:
            found[name] = dumped[name]
        if name in found and name in table.saying and name not in table.model_fields_set:
            found[name] = Unsaid(found[name])
    return {key: value for key, value in found.items() if value != {}}


def _can_be_left_off(field: FieldInfo) -> bool:
    """Whether "none" may be written, where a catalogue entry or what is usual would fill the gap."""
    return bool(tables_in(field.annotation)) and any(isinstance(m, BeforeValidator) for m in field.metadata)


def _quantities(name: str, value: Any, quantity: Quantity, spreads: Mapping[str, float], told: Told) -> Any:
    if isinstance(value, dict):
        return {key: told(quantity, one, spreads.get(f"{name}.{key}")) for key, one in value.items()}
    if isinstance(value, tuple):
        return [told(quantity, one, None) for one in value]
    return value if isinstance(value, str) else told(quantity, value, spreads.get(name))


def _as_text(quantity: Quantity, value: float, spread: float | None) -> str:
    text = exact_shown(quantity.dimension, value)
    return text if spread is None else f"{text} +- {exact_text(quantity.dimension, spread)}"


def _as_number(quantity: Quantity, value: float, spread: float | None) -> Any:
    return value if spread is None else [value, spread]


def _plain(value: Any) -> Any:
    """Values that JSON writes alike on every machine."""
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    if isinstance(value, Unsaid):
        return {"unsaid": _plain(value.value)}
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value if isinstance(value, str | bool) else str(value)
    return f"{float(value) + 0.0:.{DIGITS}g}"  # no minus before nil


def _beside(file: Path, folder: Path) -> str:
    """The file's path from the folder, where it lies in it."""
    inside = os.path.relpath(file, folder)
    return str(file.absolute()) if inside.startswith(os.pardir) else Path(inside).as_posix()


def _file_mark(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()
