"""One fault of a file in words: what was found, what is allowed, what to write. Input: pydantic's error details."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from typing import Any, get_args

from scenarios.catalogue import entries
from scenarios.errors import shortened
from scenarios.field_guide import examples_of, is_kind_name, kinds_of, tables_at, tables_in
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.quantities import found
from scenarios.table import Table

Path = tuple[str | int, ...]

_EXPECTED = {
    "string_type": "text in quotes",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false",
    "bool_parsing": "true or false",
    "float_type": "a number",
    "tuple_type": "a list",
    "list_type": "a list",
    "dict_type": "a table of its own",
    "model_type": "a table of its own",
    "model_attributes_type": "a table of its own",
    "path_type": "a file's path as text in quotes",
}


def in_words(model: type[Table], detail: Mapping[str, Any]) -> str:
    """The message for one of pydantic's errors (or for a "no_entry" of ``checking``), without file, line and key."""
    kind, loc = detail["type"], tuple(detail["loc"])
    if kind in _SPECIAL:
        return _SPECIAL[kind](model, detail, loc)
    if kind in _EXPECTED:
        return f"expected {_EXPECTED[kind]}, found {found(detail['input'])}"
    if kind == "value_error":
        return str(detail["ctx"]["error"])
    return str(detail["msg"])


def _no_entry(model: type[Table], detail: Mapping[str, Any], loc: Path) -> str:
    keys = detail["keys"]
    known = list(entries(detail["section"]))
    if len(keys) == 1:
        return f'{keys[0]} is missing; name an entry of the catalogue, like catalogue = "{known[0]}", or add it'
    missing = ", ".join(keys)
    return f'{missing} are missing; name an entry of the catalogue, like catalogue = "{known[0]}", or add them'


def _missing(model: type[Table], detail: Mapping[str, Any], loc: Path) -> str:
    key = str(loc[-1])
    for table in tables_at(model, loc[:-1]):
        if key in table.model_fields:
            field = table.model_fields[key]
            inner = tables_in(field.annotation)
            wanted = _as_table(key, field.annotation) if inner else f"{key} = {examples_of(field)}"
            return f"this is missing; add {wanted}"
    return "this is missing"


def _as_table(key: str, annotation: Any) -> str:
    many = "tuple" in str(annotation)
    return f"a table [[{key}]]" if many else f"a table [{key}]"


def _unknown(model: type[Table], detail: Mapping[str, Any], loc: Path) -> str:
    key = str(loc[-1])
    if len(loc) > 1 and key in model.model_fields and tables_in(model.model_fields[key].annotation):
        above = _as_table(key, model.model_fields[key].annotation)
        return f"'{key}' is no part of this table; write it above the first line in [brackets], or as {above}"
    if model is PartsFile and (key == "catalogue" or (len(loc) == 1 and key in Scenario.model_fields)):
        instead = "write a part's mass, cm, volume and cb, or a scenario file"
        if key == "catalogue":
            return f"a parts file holds numbers only and uses no catalogue; {instead}"
        return f"a parts file holds numbers only and '{key}' belongs to a scenario file; {instead}"
    near = near_key(model, loc)
    if near:
        return f"unknown key; did you mean '{near}'?"
    if kind := next((k for t in _relatives(model, loc[:-1]) if key in t.model_fields for k in kinds_of(t)), None):
        return f"unknown key here; '{key}' belongs to one of kind \"{kind}\""
    elsewhere = _tables_with(model, key)
    if elsewhere:
        return f"unknown key here; '{key}' belongs to {' or '.join(elsewhere)}"
    return f"unknown key; known here: {', '.join(_known_keys(model, loc))}"


def _relatives(model: type[Table], loc: Path) -> tuple[type[Table], ...]:
    """All kinds of table that may stand at a place: for a wetsuit the drysuit too."""
    return tables_at(model, tuple(step for step in loc if not is_kind_name(step)))


def _known_keys(model: type[Table], loc: Path) -> list[str]:
    return list(dict.fromkeys(k for table in tables_at(model, loc[:-1]) for k in table.model_fields if k != "kind"))


def near_key(model: type[Table], loc: Path) -> str | None:
    """The known key nearest to the unknown one that ``loc`` ends in, if any is near."""
    key = str(loc[-1])[:60].lower().replace(" ", "_").replace("-", "_")
    near = difflib.get_close_matches(key, _known_keys(model, loc), n=1)
    return near[0] if near else None


def _tables_with(model: type[Table], key: str) -> list[str]:
    """Top-level tables that have a key of that name."""
    found_in = []
    for name, field in model.model_fields.items():
        if any(key in t.model_fields for t in tables_in(field.annotation)):
            found_in.append(f"[{name}]" if "tuple" not in str(field.annotation) else f"[[{name}]]")
    return found_in


def _not_a_choice(model: type[Table], detail: Mapping[str, Any], loc: Path) -> str:
    words = _literal_words(model, loc)
    value = detail["input"]
    allowed = ", ".join(f'"{w}"' for w in words) or detail["ctx"]["expected"]
    if not isinstance(value, str):
        return f"expected one of {allowed}, found {found(value)}"
    near = difflib.get_close_matches(value.lower(), words, n=1)
    near = near or [w for w in words if value.lower() in w.split()]  # "steel" for "stainless steel"
    meant = f'; did you mean "{near[0]}"?' if near else ""
    return f'"{shortened(value)}" is not known here; allowed: {allowed}{meant}'


def _literal_words(model: type[Table], loc: Path) -> list[str]:
    words: list[str] = []
    for table in tables_at(model, loc[:-1]):
        if isinstance(loc[-1], str) and loc[-1] in table.model_fields:
            annotation = table.model_fields[loc[-1]].annotation
            for member in (annotation, *get_args(annotation)):
                words += [a for a in get_args(member) if isinstance(a, str)]
                words += [a for a in (member,) if isinstance(a, str)]
    return list(dict.fromkeys(words))


def _too_long(model: type[Table], detail: Mapping[str, Any], loc: Path) -> str:
    return f"this text has {len(str(detail['input']))} letters; at most {detail['ctx']['max_length']} are shown"


def _too_short(model: type[Table], detail: Mapping[str, Any], loc: Path) -> str:
    if isinstance(detail["input"], str):
        return "this text is empty; write a name"
    return f"at least {detail['ctx']['min_length']} must be given, found {detail['ctx']['actual_length']}"


def _too_many(model: type[Table], detail: Mapping[str, Any], loc: Path) -> str:
    return f"more than {detail['ctx']['max_length']} entries; that many cannot be worked out"


_SPECIAL: dict[str, Callable[[type[Table], Mapping[str, Any], Path], str]] = {
    "no_entry": _no_entry,
    "missing": _missing,
    "extra_forbidden": _unknown,
    "literal_error": _not_a_choice,
    "string_too_long": _too_long,
    "string_too_short": _too_short,
    "too_short": _too_short,
    "too_long": _too_many,
}
