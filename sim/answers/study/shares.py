"""Main effects: the share of an answer's variance that goes with one input alone, from any design.

For each input the rows are grouped by its levels (ten groups of as many rows for a number that is drawn), and the
variance between the groups' means is held against the whole (correlation ratio, Pearson 1905; with the correction of
Kelley 1935 for means of few rows). In a full grid this is the first-order index over the grid.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from sim.answers.study.effects import by_level
from sim.answers.study.needed import polars
from sim.answers.study.results import Results

if TYPE_CHECKING:
    from polars import DataFrame


VARIES: Final = 1e-24  # variance over the square of the mean, below which all is rounding


def shares(results: Results, levels: DataFrame | None = None) -> DataFrame:
    """Share of the variance of each output that goes with each input's column; null where nothing varies.

    levels : what ``by_level`` gave, if it was worked out already
    """
    pl = polars()
    table = by_level(results) if levels is None else levels
    exact = results.design == "grid" and all(i.levels is not None for i in results.inputs)
    rows: list[dict[str, Any]] = []
    for output in results.outputs:
        values = results.table([output.column])[output.column]
        known = values.drop_nulls().to_numpy()
        total, n = float(known.var()) if len(known) else 0.0, len(known)
        for column in (c for i in results.inputs for c in i.columns):
            mine = (pl.col("output") == output.column) & (pl.col("input") == column) & (pl.col("rows") > 0)
            groups = table.filter(mine)
            rows.append({"output": output.column, "input": column, "share": _share(groups, total, n, exact)})
    found: DataFrame = pl.DataFrame(rows, schema={"output": pl.String, "input": pl.String, "share": pl.Float64})
    return found


def _share(groups: DataFrame, total: float, n: int, exact: bool) -> float | None:
    """Of ``n`` values with variance ``total``, the part between the means of the groups."""
    k = len(groups)
    if not total > VARIES * float(np.square(groups["mean"].to_numpy()).max(initial=0.0)) or not n > k:
        return None
    weight, mean = groups["rows"].to_numpy() / n, groups["mean"].to_numpy()
    between = float(weight @ (mean - weight @ mean) ** 2) / total
    return between if exact else max(0.0, 1.0 - (1.0 - between) * (n - 1) / (n - k))
