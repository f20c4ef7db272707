"""From a table of raw values to a checked model, or to a list of problems that each point at their line."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar, get_args

from pydantic import ValidationError

from scenarios.errors import InnerError, Problem, ScenarioError
from scenarios.field_guide import examples_of, kinds_of, tables_at, tables_in
from scenarios.quantities import found, shortened
from scenarios.settings import Setting, setting_behind
from scenarios.table import Table
from scenarios.toml_lines import key_lines, line_of

TableT = TypeVar("TableT", bound=Table)
Path = tuple[str | int, ...]

MOST_WORDED = 50  # problems put into words; ten are shown

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


def checked(
    model: type[TableT],
    data: Mapping[str, Any],
    *,
    name: str,
    text: str = "",
    settings: Sequence[Setting] = (),
    folder: str | None = None,
) -> TableT:
    """The model of a table of raw values, which stand in ``text`` or come from ``settings``.

    name : of the file, for messages;  folder : where files named in it are looked for
    Raises ScenarioError with every problem found.
    """
    try:
        return model.model_validate(data, context={"folder": folder})
    except ValidationError as error:
        lines = key_lines(text) if text else {}
        source = text.split("\n")
        details = _without_echoes(model, error.errors(include_url=False))
        problems = [_problem(model, data, detail, lines, source, name, settings) for detail in details[:MOST_WORDED]]
    problems.sort(key=lambda p: (p.line is None, p.line or 0))
    raise ScenarioError(problems, len(details))


def _without_echoes(model: type[Table], details: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """The faults without "this is missing" where a misspelt key is surely the one that is missing."""
    unknown = [d for d in details[:MOST_WORDED] if d["type"] == "extra_forbidden"]
    meant = {(*d["loc"][:-1], near) for d in unknown if (near := _near_key(model, tuple(d["loc"])))}
    return [d for d in details if not (d["type"] == "missing" and tuple(d["loc"]) in meant)]


def _problem(
    model: type[Table],
    data: Mapping[str, Any],
    detail: Mapping[str, Any],
    lines: Mapping[Path, int],
    source: Sequence[str],
    name: str,
    settings: Sequence[Setting],
) -> Problem:
    path = _path_in(data, detail["loc"])
    cause = detail.get("ctx", {}).get("error")
    if isinstance(cause, InnerError) and isinstance(_value_at(data, path), dict):
        path = (*path, *cause.below)
    key = shortened(".".join(str(step) for step in path), 100)
    message = _message(model, detail, path)
    setting = setting_behind(settings, path, lambda p: p in lines)
    if setting is not None:
        return Problem(f"--set {shortened(setting.text)}", message, key)
    line = line_of(lines, path)
    return Problem(name, message, key, line, None if line is None else source[line - 1])


def _path_in(data: Mapping[str, Any], loc: Sequence[str | int]) -> Path:
    """The error's place as keys of the file: names of union members and the like are dropped."""
    path: list[str | int] = []
    node: Any = data
    for number, step in enumerate(loc):
        last = number == len(loc) - 1
        present = _has(node, step)
        if present or last or not isinstance(step, str) or node is _NOWHERE:
            path.append(step)
            node = node[step] if present else _NOWHERE
        elif not isinstance(node, dict) or _belongs(step):
            if not _belongs(step):
                path.append(step)  # a table written as a bare name: what lies inside came from the catalogue
        else:
            path.append(step)
            node = _NOWHERE
    return tuple(path)


_NOWHERE = object()


def _has(node: Any, step: str | int) -> bool:
    if isinstance(node, dict):
        return step in node
    return isinstance(node, list) and isinstance(step, int) and 0 <= step < len(node)


def _belongs(step: str | int) -> bool:
    """Whether a step names a member of a union and not a key."""
    return step in {"dry", "wet", "item", "stage", "[key]"}


def _value_at(data: Any, path: Path) -> Any:
    for step in path:
        if not _has(data, step):
            return None
        data = data[step]
    return data


def _message(model: type[Table], detail: Mapping[str, Any], path: Path) -> str:
    kind, loc = detail["type"], tuple(detail["loc"])
    if kind in _SPECIAL:
        return _SPECIAL[kind](model, detail, loc)
    if kind in _EXPECTED:
        return f"expected {_EXPECTED[kind]}, found {found(detail['input'])}"
    if kind == "value_error":
        return str(detail["ctx"]["error"])
    return str(detail["msg"])


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
    near = _near_key(model, loc)
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
    return tables_at(model, tuple(step for step in loc if not _belongs(step)))


def _known_keys(model: type[Table], loc: Path) -> list[str]:
    return list(dict.fromkeys(k for table in tables_at(model, loc[:-1]) for k in table.model_fields if k != "kind"))


def _near_key(model: type[Table], loc: Path) -> str | None:
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
    "missing": _missing,
    "extra_forbidden": _unknown,
    "literal_error": _not_a_choice,
    "string_too_long": _too_long,
    "string_too_short": _too_short,
    "too_short": _too_short,
    "too_long": _too_many,
}
