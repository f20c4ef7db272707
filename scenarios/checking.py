"""From a table of raw values to a checked model, or to a list of problems that each point at their line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any, TypeVar

from pydantic import ValidationError

from scenarios.catalogue import Section, sections
from scenarios.errors import InnerError, Problem, ScenarioError, shortened
from scenarios.fault_words import in_words, near_key
from scenarios.field_guide import is_kind_name, tables_at
from scenarios.settings import Setting, setting_behind
from scenarios.table import Table
from scenarios.toml_lines import key_lines, line_of

TableT = TypeVar("TableT", bound=Table)
Path = tuple[str | int, ...]

NONE_KEPT: Mapping[str, Any] = MappingProxyType({})
MOST_WORDED = 50  # problems put into words; ten are shown


def checked(
    model: type[TableT],
    data: Mapping[str, Any],
    *,
    name: str,
    text: str = "",
    settings: Sequence[Setting] = (),
    folder: str | None = None,
    kept: Mapping[str, Any] = NONE_KEPT,
) -> TableT:
    """The model of a table of raw values, which stand in ``text`` or come from ``settings``.

    name : of the file, for messages;  folder : where files named in it are looked for
    kept : tables inside it that were checked before and are as they were; what they have to do with others is checked
    Raises ScenarioError with every problem found.
    """
    try:
        return model.model_validate({**data, **kept}, context={"folder": folder})
    except ValidationError as error:
        if kept:  # the problem is to be found in the raw tables
            return checked(model, data, name=name, text=text, settings=settings, folder=folder)
        lines = key_lines(text) if text else {}
        source = text.split("\n")
        details = _gathered(model, data, _without_echoes(model, error.errors(include_url=False)))
        problems = [_problem(model, data, detail, lines, source, name, settings) for detail in details[:MOST_WORDED]]
    problems.sort(key=lambda p: (p.line is None, p.line or 0))
    raise ScenarioError(problems, len(details))


def _without_echoes(model: type[Table], details: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """The faults without what only echoes another.

    These are "this is missing" where a misspelt key is surely the one that is missing, and "too few" of a list
    whose entry is itself refused.
    """
    unknown = [d for d in details[:MOST_WORDED] if d["type"] == "extra_forbidden"]
    meant = {(*d["loc"][:-1], near) for d in unknown if (near := near_key(model, tuple(d["loc"])))}
    refused = [tuple(d["loc"]) for d in details if d["type"] != "too_short"]

    def echo(detail: Mapping[str, Any]) -> bool:
        loc = tuple(detail["loc"])
        if detail["type"] == "too_short":
            return any(other[: len(loc)] == loc for other in refused)
        return detail["type"] == "missing" and loc in meant

    return [d for d in details if not echo(d)]


def _gathered(
    model: type[Table], data: Mapping[str, Any], details: Sequence[Mapping[str, Any]]
) -> list[Mapping[str, Any]]:
    """The faults, with all that a table lacks as one where a catalogue entry would have given it."""
    lacking: dict[Path, list[str]] = {}
    for detail in details[:MOST_WORDED]:
        above = tuple(detail["loc"][:-1])
        if detail["type"] == "missing" and _section(model, data, above):
            lacking.setdefault(above, []).append(str(detail["loc"][-1]))
    kept = [d for d in details if not (d["type"] == "missing" and tuple(d["loc"][:-1]) in lacking)]
    return kept + [
        {"type": "no_entry", "loc": above, "keys": keys, "section": _section(model, data, above)}
        for above, keys in lacking.items()
    ]


def _section(model: type[Table], data: Mapping[str, Any], loc: Path) -> Section | None:
    """The catalogue's section for a table that names no entry."""
    if not any("catalogue" in t.model_fields for t in tables_at(model, loc)):
        return None
    if isinstance(table := _value_at(data, _path_in(data, loc)), dict) and "catalogue" in table:
        return None
    return next((s for step in reversed(loc) for s in sections() if s == step), None)


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
    message = in_words(model, detail)
    setting = setting_behind(settings, path, lambda p: p in lines)
    if setting is not None:
        return Problem(f"--set {shortened(setting.text)}", message, key)
    line = line_of(lines, path)
    return Problem(name, message, key, line, None if line is None else source[line - 1])


def _path_in(data: Mapping[str, Any], loc: Sequence[str | int]) -> Path:
    """The error's place as keys of the file: names of a union's members and the like are dropped."""
    path: list[str | int] = []
    node: Any = data
    for step in loc:
        if _has(node, step):
            node = node[step]
        elif is_kind_name(step):
            continue
        else:
            node = None  # missing, or given by the catalogue
        path.append(step)
    return tuple(path)


def _has(node: Any, step: str | int) -> bool:
    if isinstance(node, dict):
        return step in node
    return isinstance(node, list) and isinstance(step, int) and 0 <= step < len(node)


def _value_at(data: Any, path: Path) -> Any:
    for step in path:
        if not _has(data, step):
            return None
        data = data[step]
    return data
