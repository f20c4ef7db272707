"""What one input does by itself: pairs of rows that differ in it alone, and the answers at each of its levels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.studies.inputs import DRAWN_LEVELS
from sim.studies.needed import polars
from sim.studies.results import Results

if TYPE_CHECKING:
    from polars import DataFrame, Expr

BINS: Final = 10  # of an input that is drawn, equally many rows in each
MANY: Final = 20  # values of a number, from which on they are binned
DRAWN: Final = len(DRAWN_LEVELS)
LOW: Final = 5.0  # percentiles
HIGH: Final = 95.0


def effects(results: Results) -> DataFrame:
    """How far each output moves when one input alone is changed: mean, 95th percentile and greatest of the size.

    grid: from the input's first level to each other one, whatever the rest; one at a time: from the scenario to each
    level; saltelli: from one draw of the input to another. Other designs have no such pairs: an empty table.
    """
    pl = polars()
    rows: list[dict[str, Any]] = []
    for output in results.outputs:
        values = results.table([output.column])[output.column].to_numpy()
        for k, one in enumerate(results.inputs):
            change = np.abs(_changes(results, values, k))
            change = change[np.isfinite(change)]
            if len(change):
                rows.append({
                    "output": output.column, "input": one.title, "pairs": len(change), "mean": float(change.mean()),
                    "p95": float(np.percentile(change, HIGH)), "greatest": float(change.max()),
                })  # fmt: skip
    table: DataFrame = pl.DataFrame(rows, schema=_EFFECT)
    return table


_EFFECT: Final = ("output", "input", "pairs", "mean", "p95", "greatest")


def _changes(results: Results, values: Floats, k: int) -> Floats:
    """Changes of an output whose values are (rows,) over all pairs of rows that differ in input ``k`` alone."""
    if results.design == "saltelli":
        runs = values.reshape(results.number, len(results.inputs) + 2)
        return np.asarray(runs[:, k + 2] - runs[:, 0])
    counts = [i.levels for i in results.inputs]
    if results.design == "one at a time":
        start = 1 + sum(n or DRAWN for n in counts[:k])
        return np.asarray(values[start : start + (counts[k] or DRAWN)] - values[0])
    if results.design == "grid" and counts[k] is not None:
        shape = [results.number, *(n or 1 for n in counts)]
        along = np.moveaxis(values.reshape(shape), k + 1, 0)
        return np.asarray((along[1:] - along[:1]).ravel())
    return np.zeros(0)


def by_level(results: Results, split: Sequence[str] = ()) -> DataFrame:
    """Each output at each level of each input, whatever the others: rows, mean, 5th, 50th and 95th percentile.

    An input that is drawn has ten levels with as many rows in each, told by the middle one's value.
    split : inputs with choices, for each combination of which this is told apart; ValueError for another input
    """
    pl = polars()
    columns = [c for i in results.inputs for c in i.columns]
    table = results.table([*columns, *(o.column for o in results.outputs)])
    groups = [("", table)]
    for column in split:
        choices = _choices(results, column)
        groups = [
            (f"{name}, {c}" if name else c, rows.filter(pl.col(column) == c))
            for name, rows in groups
            for c in choices
        ]
    parts = []
    for one in results.inputs:
        for column, labels in zip(one.columns, one.labels, strict=True):
            if column in split:
                continue
            for name, rows in groups:
                for output in results.outputs:
                    found = _levels(rows, column, labels, output.column)
                    parts.append(found.insert_column(2, pl.lit(name or None, pl.String).alias("split")))
    joined: DataFrame = pl.concat(parts)
    return joined


def _choices(results: Results, column: str) -> tuple[str, ...]:
    """Names of the choices of a column. Raises ValueError where it has none."""
    known = {c: names for i in results.inputs for c, names in zip(i.columns, i.labels, strict=True) if names}
    if column not in known:
        raise ValueError(f'"{column}" is no input with choices; those are: {", ".join(known) or "none"}')
    return known[column]


def _levels(table: DataFrame, column: str, labels: tuple[str, ...] | None, output: str) -> DataFrame:
    """One output along one column."""
    pl = polars()
    numeric = labels is None
    level = _binned(table, column) if numeric and table[column].n_unique() > MANY else table[column]
    grouped = table.with_columns(level.alias("level")).drop_nulls("level").group_by("level")
    found: DataFrame = (
        grouped.agg(*_spread(output)).sort(_in_order(labels))
        .select(
            pl.lit(output).alias("output"), pl.lit(column).alias("input"),
            (pl.lit(None, pl.String) if numeric else pl.col("level")).alias("choice"),
            (pl.col("level").cast(pl.Float64) if numeric else pl.lit(None, pl.Float64)).alias("value"),
            "rows", "mean", "p5", "p50", "p95",
        )
    )  # fmt: skip
    return found


def _in_order(labels: tuple[str, ...] | None) -> Expr:
    """Numbers rising, choices as the study names them."""
    pl = polars()
    level: Expr = pl.col("level")
    return level if labels is None else level.replace_strict(labels, range(len(labels)), return_dtype=pl.Int64)


def _binned(table: DataFrame, column: str) -> Any:
    """The middle value of the tenth of the rows that each row is in."""
    pl = polars()
    rank = (table[column].rank("ordinal") - 1) * BINS // table[column].count()
    return table.select(pl.col(column).median().over(rank)).to_series()


def _spread(column: str) -> list[Expr]:
    pl = polars()
    value = pl.col(column)
    return [
        value.count().alias("rows"), value.mean().alias("mean"), value.quantile(LOW / 100, "linear").alias("p5"),
        value.median().alias("p50"), value.quantile(HIGH / 100, "linear").alias("p95"),
    ]  # fmt: skip


def summary(results: Results) -> DataFrame:
    """Each output over all rows: unit, rows with an answer and without, mean, SD, least, percentiles, greatest."""
    pl = polars()
    parts = []
    for output in results.outputs:
        value = pl.col(output.column)
        parts.append(
            results.table([output.column]).select(
                pl.lit(output.column).alias("output"), pl.lit(output.unit).alias("unit"), *_spread(output.column)[:1],
                value.null_count().alias("without"), value.mean().alias("mean"), value.std().alias("sd"),
                value.min().alias("least"), *_spread(output.column)[2:], value.max().alias("greatest"),
            )
        )  # fmt: skip
    table: DataFrame = pl.concat(parts)
    return table


def problems(results: Results) -> DataFrame:
    """Why rows have no answers, and how many for each reason, most first."""
    pl = polars()
    table: DataFrame = (
        results.table(["problem"]).drop_nulls().group_by("problem").agg(pl.len().alias("rows"))
        .sort(["rows", "problem"], descending=[True, False])
    )  # fmt: skip
    return table
