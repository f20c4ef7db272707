"""The keys of a scenario file with what each means, read off the models themselves so that they cannot disagree."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

Schema = Mapping[str, Any]


@dataclass(frozen=True)
class ScenarioKey:
    """One key.

    key : dotted, as ``--set`` takes it; a list's entries are numbered from 0, shown as N
    meaning : one phrase, with the kind of quantity and the believed range
    choices : the values allowed, where they are a short list;  example : as it would be written, "" if none
    needed : whether its table must have it;  shape : of the value, "text", "switch", "number", "list" or "table"
    """

    key: str
    meaning: str
    choices: tuple[str, ...]
    example: str
    needed: bool
    shape: str


def scenario_keys() -> tuple[ScenarioKey, ...]:
    """All keys of a scenario, in the order of the models, each key once (the kinds of one table are joined)."""
    from scenarios.models import Scenario

    schema = Scenario.model_json_schema()
    found: dict[str, ScenarioKey] = {}
    for key in _keys_of(schema, schema["$defs"], ""):
        before = found.get(key.key, key)
        found[key.key] = replace(before, choices=tuple(dict.fromkeys(before.choices + key.choices)))
    return tuple(found.values())


def _keys_of(table: Schema, defs: Mapping[str, Schema], path: str) -> Iterator[ScenarioKey]:
    for name, schema in table.get("properties", {}).items():
        yield ScenarioKey(
            path + name,
            schema.get("description", ""),
            tuple(_choices(schema)),
            str(next(iter(schema.get("examples", ())), "")),
            name in table.get("required", ()),
            _shape(schema),
        )
        for inner_path, inner_table in _tables(schema, defs, f"{path}{name}"):
            yield from _keys_of(inner_table, defs, f"{inner_path}.")


def _tables(schema: Schema, defs: Mapping[str, Schema], path: str) -> Iterator[tuple[str, Schema]]:
    """The tables that may stand at a key, with their path."""
    if "$ref" in schema:
        table = defs[schema["$ref"].rsplit("/", 1)[-1]]
        if table.get("type") == "object":
            yield path, table
    for option in (*schema.get("anyOf", ()), *schema.get("oneOf", ())):
        yield from _tables(option, defs, path)
    if isinstance(items := schema.get("items"), Mapping):
        yield from _tables(items, defs, f"{path}.N")


_SHAPES: Final = {"boolean": "switch", "integer": "number", "number": "number", "array": "list", "object": "table"}


def _shape(schema: Schema) -> str:
    """What kind of value stands there; a table where there may be a table or its catalogue name."""
    kinds = [s.get("type") or ("object" if "$ref" in s else "") for s in (schema, *schema.get("anyOf", ()))]
    if "oneOf" in schema or any("oneOf" in s for s in schema.get("anyOf", ())):
        return "table"
    return next((_SHAPES[k] for k in kinds if k in _SHAPES), "text")


def _choices(schema: Schema) -> Iterator[str]:
    if "const" in schema:
        yield str(schema["const"])
    yield from (str(v) for v in schema.get("enum", ()) if v is not None)
    for option in schema.get("anyOf", ()):
        yield from _choices(option)


def matching(keys: tuple[ScenarioKey, ...], word: str) -> tuple[ScenarioKey, ...]:
    """Keys whose name begins with ``word`` ("plate") or that hold it among their words."""
    pattern = re.compile(rf"\b{re.escape(word.lower())}")
    return tuple(k for k in keys if k.key.startswith(word) or pattern.search(f"{k.key} {k.meaning}".lower()))
