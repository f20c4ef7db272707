"""Read a file, whichever of the two kinds it is, into a checked model."""

from __future__ import annotations

import difflib
import os
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from scenarios.checking import NONE_KEPT, checked
from scenarios.errors import Problem, ScenarioError, shortened
from scenarios.models import SCENARIO_FORMAT, Scenario
from scenarios.notes import parts_notes, scenario_notes, settings_notes
from scenarios.parts_file import PARTS_FORMAT, PartsFile
from scenarios.settings import Setting, setting_of, with_settings
from scenarios.table import Table
from scenarios.toml_file import TomlFile, read_toml
from scenarios.toml_lines import key_lines

FORMATS = (SCENARIO_FORMAT, PARTS_FORMAT)


@dataclass(frozen=True)
class Loaded:
    """A file that could be read, with the what-ifs put on it since.

    content : the checked model;  notes : what is odd about it, as sentences
    file : as it stands on the disk;  settings : the what-ifs, in the order they were put on
    document : the raw tables with the settings applied, from which variants can be made
    """

    content: Scenario | PartsFile
    notes: tuple[str, ...]
    file: TomlFile
    settings: tuple[Setting, ...]
    document: Mapping[str, Any]

    @property
    def name(self) -> str:
        """The path as given."""
        return self.file.name


def read_file(path: str | os.PathLike[str], settings: Sequence[str] = ()) -> Loaded:
    """Read a scenario or parts file, with ``--set`` what-ifs. Raises ScenarioError with every problem found."""
    return read_loaded(read_toml(path), tuple(setting_of(text) for text in settings))


def read_loaded(file: TomlFile, settings: Sequence[Setting]) -> Loaded:
    """As :func:`read_file`, for a file that is sound TOML. Raises ScenarioError."""
    return _loaded(file, with_settings(file.data, settings), tuple(settings))


def read_tables(tables: Mapping[str, Any], file: TomlFile) -> Loaded:
    """As :func:`read_file`, for raw tables that stand inside another file. Raises ScenarioError."""
    return _loaded(TomlFile(file.path, "", dict(tables)), tables, ())


def varied(loaded: Loaded, settings: Sequence[Setting]) -> Loaded:
    """The same file with further what-ifs, nothing read anew. Raises ScenarioError with every problem found."""
    document = with_settings(loaded.document, settings)
    kept = {key: table for key, table in _tables_of(loaded.content) if document.get(key) == loaded.document.get(key)}
    return _loaded(loaded.file, document, (*loaded.settings, *settings), kept)


def with_tables_of(loaded: Loaded, other: Loaded, keys: Collection[str]) -> Loaded:
    """The same file with the tables ``keys`` as the other has them, or without where it has none.

    A drawing that they name is looked for where the other file looks. Raises ScenarioError for what cannot be.
    """
    document = {k: v for k, v in loaded.document.items() if k not in keys}
    document |= {k: v for k, v in other.document.items() if k in keys}
    kept = {k: table for k, table in _tables_of(loaded.content) if k not in keys}
    kept |= {k: table for k, table in _tables_of(other.content) if k in keys}
    return _loaded(loaded.file, document, loaded.settings, kept)


def _tables_of(content: Table) -> Iterator[tuple[str, Any]]:
    """The tables and lists of tables that were given, with their keys."""
    for key in content.model_fields_set:
        value = getattr(content, key)
        if isinstance(value, Table) or (isinstance(value, tuple) and value and isinstance(value[0], Table)):
            yield key, value


def _loaded(
    file: TomlFile, document: Mapping[str, Any], settings: tuple[Setting, ...], kept: Mapping[str, Any] = NONE_KEPT
) -> Loaded:
    model, folder = _model_of(file, document), str(file.path.parent)
    kept = {key: table for key, table in kept.items() if key in model.model_fields}
    content = checked(model, document, name=file.name, text=file.text, settings=settings, folder=folder, kept=kept)
    notes = scenario_notes(content) if isinstance(content, Scenario) else parts_notes(content)
    return Loaded(content, (*settings_notes(file.data, settings), *notes), file, settings, document)


def read_scenario(path: str | os.PathLike[str], settings: Sequence[str] = ()) -> Scenario:
    """As :func:`read_file`, for callers that need a person. Raises ScenarioError for a parts file too."""
    content = read_file(path, settings).content
    if isinstance(content, PartsFile):
        raise ScenarioError(
            [Problem(str(path), "this is a parts file; a scenario file with a [diver] is needed here")]
        )
    return content


def scenario_of(document: Mapping[str, Any], name: str = "scenario") -> Scenario:
    """A scenario from raw tables, as in a file (quantities are texts with unit). Raises ScenarioError."""
    return checked(Scenario, document, name=name)


def _model_of(file: TomlFile, document: Mapping[str, Any]) -> type[Scenario] | type[PartsFile]:
    """Which kind of file this is, by its ``format``; without one it is a scenario."""
    given = document.get("format")
    if given == PARTS_FORMAT:
        return PartsFile
    if given == SCENARIO_FORMAT or (given is None and "part" not in document):
        return Scenario
    line = key_lines(file.text).get(("format",) if given is not None else ("part",))
    source = file.text.split("\n")[line - 1] if line else None
    if given is None:
        message = f'this looks like a parts file; add format = "{PARTS_FORMAT}" as its first line'
        raise ScenarioError([Problem(file.name, message, line=line, source=source)])
    known = " or ".join(f'"{f}"' for f in FORMATS)
    near = difflib.get_close_matches(str(given), FORMATS, n=1)
    meant = f'; did you mean "{near[0]}"?' if near else ""
    raise ScenarioError(
        [
            Problem(
                file.name,
                f'"{shortened(str(given))}" is no format known here; known: {known}{meant}',
                "format",
                line,
                source,
            )
        ]
    )
