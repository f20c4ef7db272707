"""A set-up as the page holds it: the raw tables of a scenario; from a file, as a case, and back to a file's text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, MutableMapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from scenarios.errors import Problem, ScenarioError
from scenarios.reading import read_tables
from scenarios.settings import setting_of, with_settings
from scenarios.toml_file import TomlFile, parse_toml, read_toml
from sim.assembly.posed_diver import KeptDivers
from sim.case import Case

NEW: Final = "new diver"
_DIVERS: Final = KeptDivers()  # of this process: a slider moved must not build its person anew
_LAST: Final[list[tuple[tuple[object, ...], Case]]] = []


@dataclass(frozen=True)
class SetUp:
    """Raw tables as a file holds them;  place : the file, to whose folder the names of drawings in it belong"""

    document: Mapping[str, Any]
    place: Path


def opened(path: Path) -> tuple[SetUp, str]:
    """The set-up of a scenario file, and its text. Raises ScenarioError for anything else, a parts file too."""
    file = read_toml(path)
    case = Case.read(path)
    case.scenario("a parts file has no person to set up: open a scenario file")
    return SetUp(file.data, path), file.text


def case_of(set_up: SetUp) -> Case:
    """The case of a set-up; that of the last set-up is kept, since several answers are asked for of one.

    Raises ScenarioError with every problem, each with its key.
    """
    key = _key(set_up)
    if _LAST and _LAST[0][0] == key:
        return _LAST[0][1]
    case = Case(read_tables(set_up.document, TomlFile(set_up.place, "", dict(set_up.document))), _DIVERS)
    _LAST[:] = [(key, case)]
    return case


def _key(set_up: SetUp) -> tuple[object, ...]:
    """What a set-up says, and when the files were last written that it names."""
    plate = set_up.document.get("plate")
    named = [set_up.document.get("known"), plate.get("file") if isinstance(plate, Mapping) else None]
    times = []
    for name in named:
        try:
            times.append((set_up.place.parent / name).stat().st_mtime_ns if isinstance(name, str) else 0)
        except (OSError, ValueError):
            times.append(-1)
    return (str(set_up.place), repr(set_up.document), *times)


def problems_of(refused: ScenarioError) -> list[dict[str, str]]:
    """What is wrong, key by key, for the fields that they belong to."""
    return [{"key": one.key, "message": one.message} for one in refused.problems]


def text_of(document: Mapping[str, Any], text: str) -> str:
    """A file's text that says what ``document`` says, with what did not change kept as it was, comments too.

    Raises ScenarioError where what came out would not say the same.
    """
    import tomlkit

    written = tomlkit.parse(text)
    _into(written, document)
    found = tomlkit.dumps(written)
    if parse_toml(found, "scenario") != _plain(document):
        raise ScenarioError([Problem("scenario", "this set-up cannot be written as a file; undo the last change")])
    return found


def settings_between(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[str, ...] | None:
    """KEY=VALUE settings that make ``after`` of a file that says ``before``; None where settings cannot."""
    found = tuple(f"{key}={_written(value)}" for key, value in _changes(before, after, ""))
    try:
        same = with_settings(before, [setting_of(text) for text in found]) == after
    except ScenarioError:
        return None
    return found if same else None


def _changes(before: Any, after: Any, path: str) -> Iterator[tuple[str, Any]]:
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        for key, value in after.items():
            if key not in before or before[key] != value:
                yield from _changes(before.get(key), value, f"{path}.{key}" if path else key)
    elif isinstance(before, list) and isinstance(after, list) and after and isinstance(after[0], Mapping):
        for number, value in enumerate(after):
            there = before[number] if number < len(before) else None
            if there != value:
                yield from _changes(there, value, f"{path}.{number}")
    elif isinstance(after, Mapping) and after:
        for key, value in after.items():
            yield from _changes(None, value, f"{path}.{key}")
    else:
        yield path, after


def _written(value: Any) -> str:
    """As it would be typed after KEY=; JSON and TOML write lists and numbers alike."""
    import json

    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def _into(table: MutableMapping[str, Any], wanted: Mapping[str, Any]) -> None:
    """Make a table of a parsed file say what is wanted, and touch nothing that says it already."""
    for key in [k for k in table if k not in wanted]:
        del table[key]
    for key, value in wanted.items():
        there = table.get(key)
        if isinstance(value, Mapping) and isinstance(there, MutableMapping):
            _into(there, value)
        elif there is None or _plain(there) != _plain(value):
            table[key] = value
            if there is not None:
                _without_comment(table, key)


def _without_comment(table: MutableMapping[str, Any], key: str) -> None:
    """What was said beside the value of before need not hold for another."""
    trivia = getattr(table[key], "trivia", None)
    if trivia is not None:
        trivia.comment_ws = trivia.comment = ""


def _plain(value: Any) -> Any:
    """Without the wrapping in which a parsed file keeps how a value was written."""
    if isinstance(value, Mapping):
        return {str(k): _plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_plain(v) for v in value]
    return getattr(value, "unwrap", lambda: value)()
