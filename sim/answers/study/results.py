"""What a study's folder holds: its numbers by column, and what its record says of it."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from meshes.mesh import Floats
from sim.answers.study.block_file import is_whole
from sim.answers.study.folder import FolderError, blocks, missing_rows, read_record
from sim.answers.study.needed import polars
from sim.answers.study.outputs import Output
from sim.answers.study.record import StudiedInput
from sim.telling.made_by import MadeByStudy

if TYPE_CHECKING:
    from polars import DataFrame


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
    outputs: tuple[Output, ...]
    units: Mapping[str, str]
    made_by: MadeByStudy

    @cached_property
    def table(self) -> DataFrame:
        """All rows in order: row, inputs, outputs, problem; what is missing is null."""
        table: DataFrame = polars().read_parquet(self.folder / "rows" / "*.parquet").sort("row")
        return table

    def numbers(self, column: str) -> Floats:
        """Values (rows,) of an input or output; of a choice its number among the labels. NaN for none."""
        pl, values = polars(), self.table[column]
        if values.dtype == pl.String:
            values = values.cast(pl.Enum(self._labels(column))).to_physical()
        return np.asarray(values.cast(pl.Float64).to_numpy())

    def known(self, column: str) -> Floats:
        """Values of an output in those rows that have it."""
        values = self.numbers(column)
        return values[~np.isnan(values)]

    @property
    def problems(self) -> list[str]:
        """Why rows have no answers, of those that have none."""
        return list(self.table["problem"].drop_nulls().to_list())

    def _labels(self, column: str) -> Sequence[str]:
        return next(names for one in self.inputs for c, names in one.by_column if c == column and names)


def results(folder: str | os.PathLike[str]) -> Results:
    """The finished study in a folder. Raises FolderError where there is none, or where rows are missing."""
    place = Path(folder)
    record = read_record(place)
    damaged = [block for block in blocks(place) if not is_whole(block)]
    if damaged:
        raise FolderError(f"{damaged[0]} is damaged; run the study again: it works out those rows alone")
    rows = record.block.rows
    missing = sum(stop - start for start, stop in missing_rows(place, rows))
    if missing:
        raise FolderError(
            f"{place} lacks {missing:,} of {rows:,} rows; run the study again to work them out, it goes on "
            "where it stopped"
        )
    return Results(
        folder=place,
        title=record.block.title,
        design=record.block.design,
        number=record.number,
        rows=rows,
        seed=record.block.seed,
        inputs=record.inputs,
        outputs=record.outputs,
        units=record.block.units,
        made_by=record.made_by,
    )
