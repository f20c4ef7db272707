"""Real people as rows of a table (CSV): what was measured of each, as a scenario's [diver] would have it.

The first line names the columns: sex, height, mass, whatever else of [diver] is known, and body measures by their
plain names ("waist girth"). A unit stands in the column's name in brackets, "height [cm]", or beside each value,
"166 cm". A column "name" is only told again. An empty cell was not measured.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from scenarios.checking import checked
from scenarios.diver import Diver
from scenarios.errors import InnerError, Problem, ScenarioError, shortened
from scenarios.measure_names import standard_measures

LARGEST: Final = 4_000_000  # bytes; a row of 70 measures has about 600
MOST_ROWS: Final = 5_000  # people: an hour or so
MOST_COLUMNS: Final = 120
LONGEST_CELL: Final = 80  # characters
NAME: Final = "name"
NEEDED: Final = ("sex", "height", "mass")
SEXES: Final = {"female": "female", "f": "female", "woman": "female", "male": "male", "m": "male", "man": "male"}
EXAMPLE: Final = '"sex, height [cm], mass [kg], waist girth [cm]"'
_OF_DIVER: Final = tuple(key for key in Diver.model_fields if key != "measures")


@dataclass(frozen=True)
class ListedPerson:
    """One row: its line in the file, what it calls the person, and what it says of them."""

    line: int
    name: str
    diver: Diver


@dataclass(frozen=True)
class _Column:
    """What a column holds: a key of [diver] or the name of a measure, and the unit of its bare numbers."""

    key: str
    unit: str
    measure: bool


def people_file(path: Path) -> tuple[ListedPerson, ...]:
    """Everybody in a table. Raises ScenarioError with every problem found, each at its line."""
    text = _text(path)
    rows = _rows(path, text)
    if not rows:
        raise _wrong(path, f"the file is empty; its first line names the columns, like {EXAMPLE}")
    (first, header), *body = rows
    columns = _columns(path, first, header)
    if not body:
        raise _wrong(path, "the file names columns and lists nobody; add a line for each person", first)
    if len(body) > MOST_ROWS:
        raise _wrong(path, f"the file lists {len(body)} people; {MOST_ROWS} at most are read: share it out")
    found: list[ListedPerson] = []
    problems: list[Problem] = []
    for line, cells in body:
        try:
            found.append(_person(path, line, columns, cells))
        except ScenarioError as error:
            problems += error.problems
    if problems:
        raise ScenarioError(problems)
    return tuple(found)


def _text(path: Path) -> str:
    try:
        if not path.is_file():
            raise _wrong(path, "there is no such file; give a table of people (CSV)")
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as why:
        raise _wrong(path, f"the file cannot be read: {why.strerror}") from None
    if len(content) > LARGEST:
        raise _wrong(path, f"the file is larger than {LARGEST // 1_000_000} MB, which no table of people needs")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise _wrong(path, "this is no text in UTF-8: save the table as CSV in UTF-8", line) from None


def _rows(path: Path, text: str) -> list[tuple[int, list[str]]]:
    """Every row that holds anything, with its line. A semicolon or tab in the first line parts its cells."""
    if "\0" in text:
        raise _wrong(path, "the file holds a null character: it is no text", text[: text.index("\0")].count("\n") + 1)
    start = text.split("\n", 1)[0]
    parted = max(",;\t", key=start.count)
    reader = csv.reader(io.StringIO(text), delimiter=parted, strict=True, skipinitialspace=True)
    rows = []
    try:
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped):
                rows.append((reader.line_num, stripped))
    except csv.Error as error:
        raise _wrong(path, f"this is no sound table: {error}; check the quotation marks", reader.line_num) from None
    return rows


def _columns(path: Path, line: int, header: Sequence[str]) -> list[_Column]:
    """Raises ScenarioError for names that are not known, missing, or there twice."""
    if len(header) > MOST_COLUMNS:
        raise _wrong(path, f"{len(header)} columns; {MOST_COLUMNS} at most are read", line)
    found, problems = [], []
    for text in header:
        try:
            found.append(_column(text))
        except ValueError as error:
            problems.append(Problem(str(path), str(error), shortened(text), line))
    keys = [column.key for column in found]
    problems += [
        Problem(str(path), "there are two columns of this name; leave one out", key, line)
        for key in sorted({key for key in keys if keys.count(key) > 1})
    ]
    missing = [key for key in NEEDED if key not in keys]
    if missing and not problems:
        named = " and ".join(f'"{key}"' for key in missing)
        problems.append(Problem(str(path), f"no column {named}; the first line names them, like {EXAMPLE}", "", line))
    if problems:
        raise ScenarioError(problems)
    return found


def _column(text: str) -> _Column:
    name, bracket, rest = text.replace("(", "[").replace(")", "]").partition("[")
    unit, closed, beyond = rest.partition("]")
    if bracket and (not closed or beyond.strip()):
        raise ValueError('a unit stands in brackets behind the name, like "height [cm]"')
    plain = " ".join(name.lower().replace("_", " ").split())
    key = plain.replace(" ", "_")
    if key == NAME or key in _OF_DIVER:
        return _Column(key, unit.strip(), False)
    try:
        (measure,) = standard_measures({name.strip(): 0.0})
    except InnerError as error:
        listed = ", ".join((NAME, *_OF_DIVER))
        raise ValueError(f"{error}; or a key of the diver: {listed}") from None
    return _Column(measure, unit.strip(), True)


def _person(path: Path, line: int, columns: Sequence[_Column], cells: Sequence[str]) -> ListedPerson:
    """Raises ScenarioError with the line."""
    if len(cells) != len(columns) and any(cells[len(columns) :]):
        message = f"{len(cells)} cells for {len(columns)} columns; check what parts them, and commas inside numbers"
        raise _wrong(path, message, line)
    long = next((cell for cell in cells if len(cell) > LONGEST_CELL), None)
    if long is not None:
        raise _wrong(path, f'a cell of {len(long)} characters, "{shortened(long, 30)}": {LONGEST_CELL} at most', line)
    said = {column.key: (column, cell) for column, cell in zip(columns, cells, strict=False) if cell}
    name = said.pop(NAME, (None, f"line {line}"))[1]
    table: dict[str, Any] = {"measures": dict(_told(said, measures=True)), **dict(_told(said, measures=False))}
    try:
        return ListedPerson(line, name, checked(Diver, table, name=str(path)))
    except ScenarioError as error:
        source = ", ".join(cells)
        raise ScenarioError([Problem(str(path), p.message, p.key, line, source) for p in error.problems]) from None


def _told(said: Mapping[str, tuple[_Column, str]], measures: bool) -> Iterator[tuple[str, Any]]:
    """Keys with values as a scenario file would have them."""
    for key, (column, cell) in said.items():
        if column.measure != measures:
            continue
        if key == "sex":
            yield key, SEXES.get(cell.lower(), cell)
        elif key == "trained":
            yield key, {"true": True, "yes": True, "false": False, "no": False}.get(cell.lower(), cell)
        else:
            yield key, f"{cell} {column.unit}" if column.unit and _is_number(cell) else cell


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def _wrong(path: Path, message: str, line: int | None = None) -> ScenarioError:
    return ScenarioError([Problem(str(path), message, line=line)])
