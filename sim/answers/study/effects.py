"""What one input does by itself: pairs of rows that differ in it alone, and the answers at each of its levels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.study.inputs import DRAWN_LEVELS
from sim.answers.study.needed import polars
from sim.answers.study.results import Results

if TYPE_CHECKING:
    from polars import DataFrame

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
    pairs = pl.DataFrame({"level": level, "value": table[output]}).drop_nulls("level")
    groups = {key[0]: rows["value"] for key, rows in pairs.partition_by("level", as_dict=True).items()}
    rows = [
        {
            "output": output, "input": column, "choice": None if numeric else key,
            "value": float(key) if numeric else None, **_spread(groups[key].drop_nulls().to_numpy()),
        }
        for key in sorted(groups, key=None if labels is None else labels.index)
    ]  # fmt: skip
    found: DataFrame = pl.DataFrame(rows, schema=_LEVEL)
    return found


_LEVEL: Final[dict[str, Any]] = {
    "output": str, "input": str, "choice": str, "value": float,
    "rows": int, "mean": float, "p5": float, "p50": float, "p95": float,
}  # fmt: skip


def _binned(table: DataFrame, column: str) -> Any:
    """The middle value of the tenth of the rows that each row is in; equal values are taken in the rows' order."""
    values = table[column].to_numpy()
    level = np.full(len(values), np.nan)
    rising = np.argsort(values, kind="stable")[: np.count_nonzero(~np.isnan(values))]
    for tenth in np.array_split(rising, BINS):
        level[tenth] = np.median(values[tenth])
    return polars().Series(level).fill_nan(None)


def _spread(values: Floats) -> dict[str, float | int | None]:
    """Rows, mean and percentiles; summed by numpy, since a sum over threads is not the same each time."""
    if not len(values):
        return {"rows": 0, "mean": None, "p5": None, "p50": None, "p95": None}
    low, middle, high = np.percentile(values, [LOW, 50.0, HIGH])
    return {"rows": len(values), "mean": float(values.mean()), "p5": low, "p50": middle, "p95": high}


def summary(results: Results) -> DataFrame:
    """Each output over all rows: unit, rows with an answer and without, mean, percentiles, SD, least, greatest."""
    pl = polars()
    rows = []
    for output in results.outputs:
        values = results.table([output.column])[output.column].drop_nulls().to_numpy()
        ends = (float(values.min()), float(values.max())) if len(values) else (None, None)
        rows.append({
            "output": output.column, "unit": output.unit, "without": results.rows - len(values), **_spread(values),
            "sd": float(values.std(ddof=1)) if len(values) > 1 else None, "least": ends[0], "greatest": ends[1],
        })  # fmt: skip
    table: DataFrame = pl.DataFrame(rows, infer_schema_length=None)
    return table


def problems(results: Results) -> DataFrame:
    """Why rows have no answers, and how many for each reason, most first."""
    pl = polars()
    table: DataFrame = (
        results.table(["problem"]).drop_nulls().group_by("problem").agg(pl.len().alias("rows"))
        .sort(["rows", "problem"], descending=[True, False])
    )  # fmt: skip
    return table
