"""What a study's folder holds, as a polars table, and what its record says of it."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sim.answers.study.block_file import is_whole
from sim.answers.study.folder import FolderError, blocks, missing_rows, read_record
from sim.answers.study.needed import polars
from sim.telling.made_by import MadeByStudy, recorded

if TYPE_CHECKING:
    from polars import DataFrame


@dataclass(frozen=True)
class StudiedInput:
    """An independent input.

    levels : how many it has in a grid, None where it is drawn
    columns : those it gives;  labels : of each column that is a choice, else None
    """

    title: str
    levels: int | None
    columns: tuple[str, ...]
    labels: tuple[tuple[str, ...] | None, ...]


@dataclass(frozen=True)
class StudiedOutput:
    """An answer: its name, column, unit and meaning."""

    name: str
    column: str
    unit: str
    meaning: str


@dataclass(frozen=True)
class Results:
    """A finished study.

    design : grid, latin hypercube, sobol, saltelli or one at a time;  number : of draws;  rows : of the table
    units : of every column, "" for none;  made_by : version and files, as the study's record has them
    """

    folder: Path
    title: str
    design: str
    number: int
    rows: int
    seed: int
    inputs: tuple[StudiedInput, ...]
    outputs: tuple[StudiedOutput, ...]
    units: Mapping[str, str]
    made_by: MadeByStudy

    def table(self, columns: Sequence[str] | None = None) -> DataFrame:
        """All rows in order, or some of their columns: row, inputs, outputs, problem; what is missing is null."""
        pl = polars()
        lazy = pl.scan_parquet(self.folder / "rows" / "*.parquet").sort("row")
        chosen: DataFrame = (lazy if columns is None else lazy.select(columns)).collect()
        return chosen


def results(folder: str | os.PathLike[str]) -> Results:
    """The finished study in a folder. Raises FolderError where there is none, or where rows are missing."""
    place = Path(folder)
    record = read_record(place)
    damaged = [block for block in blocks(place) if not is_whole(block)]
    if damaged:
        raise FolderError(f"{damaged[0]} is damaged; run the study again: it works out those rows alone")
    missing = sum(stop - start for start, stop in missing_rows(place, record["rows"]))
    if missing:
        raise FolderError(
            f"{place} lacks {missing:,} of {record['rows']:,} rows; run the study again to work them out, it goes on "
            "where it stopped"
        )
    return Results(
        folder=place,
        title=record["title"],
        design=record["design"],
        number=record["number"],
        rows=record["rows"],
        seed=record["seed"],
        inputs=tuple(_input(i) for i in record["inputs"]),
        outputs=tuple(StudiedOutput(**o) for o in record["outputs"]),
        units=record["units"],
        made_by=recorded(record.get("made_by", {})),
    )


def _input(told: Mapping[str, Any]) -> StudiedInput:
    labels = tuple(None if names is None else tuple(names) for names in told["labels"])
    return StudiedInput(told["title"], told["levels"], tuple(told["columns"]), labels)
