"""Tables written as a TOML file that reads back to the same tables."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")


@dataclass(frozen=True)
class Unsaid:
    """A value taken for a key that was not written, and whose being written would say something: put as a comment."""

    value: Any


def toml_text(tables: Mapping[str, Any]) -> str:
    """A file of texts, numbers, true and false, lists and tables."""
    return "\n".join(_lines(tables, ())).strip("\n") + "\n"


def quoted(text: str) -> str:
    """As TOML text: JSON's escapes are TOML's too, but JSON lets a delete character stand."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _lines(table: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    """Values first, then tables inside, then lists of tables."""
    for key, value in table.items():
        if isinstance(value, Unsaid):
            yield f"# {_key(key)} = {_value(value.value)}  # left out, so taken to be this"
        elif not (isinstance(value, Mapping) or _is_tables(value)):
            yield f"{_key(key)} = {_value(value)}"
    for key, value in table.items():
        below = (*path, key)
        if isinstance(value, Mapping):
            yield from ("", f"[{_dotted(below)}]", *_lines(value, below))
        elif _is_tables(value):
            for one in value:
                yield from ("", f"[[{_dotted(below)}]]", *_lines(one, below))


def _is_tables(value: Any) -> bool:
    return isinstance(value, list | tuple) and bool(value) and isinstance(value[0], Mapping)


def _dotted(path: tuple[str, ...]) -> str:
    return ".".join(_key(step) for step in path)


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else quoted(key)


def _value(value: Any) -> str:
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return f"[{', '.join(_value(one) for one in value)}]"
    if isinstance(value, int | float):
        return repr(value)
    raise TypeError(f"{type(value).__name__} has no place in a file of this kind")
