"""Main effects: the share of an answer's variance that goes with one input alone, from any design.

For each input the rows are grouped by its levels (ten groups of as many rows for a number that is drawn), and the
variance between the groups' means is held against the whole (correlation ratio, Pearson 1905; with the correction of
Kelley 1935 for means of few rows). In a full grid this is the first-order index over the grid.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from sim.answers.study.effects import Level, by_level
from sim.answers.study.results import Results
from sim.telling.record import Told

VARIES: Final = 1e-24  # variance over the square of the mean, below which all is rounding


@dataclass(frozen=True)
class Share:
    """How much of an output's variance goes with one column of an input."""

    output: Annotated[str, Told("column of the answer")]
    input: Annotated[str, Told("column of the input")]
    share: Annotated[float | None, Told("of the variance, 0 to 1", none="nothing varies, or too few rows")]


def shares(results: Results, levels: Sequence[Level] | None = None) -> tuple[Share, ...]:
    """Share of the variance of each output that goes with each input's column; none where nothing varies.

    levels : what ``by_level`` gave, if it was worked out already
    """
    table = by_level(results) if levels is None else levels
    exact = results.design == "grid" and all(i.levels is not None for i in results.inputs)
    found = []
    for output in results.outputs:
        known = results.known(output.column)
        total, n = float(known.var()) if len(known) else 0.0, len(known)
        mine = [level for level in table if level.output == output.column and level.spread.rows > 0]
        for column in (c for i in results.inputs for c in i.columns):
            groups = [level for level in mine if level.input == column]
            found.append(Share(output.column, column, _share(groups, total, n, exact)))
    return tuple(found)


def _share(groups: Sequence[Level], total: float, n: int, exact: bool) -> float | None:
    """Of ``n`` values with variance ``total``, the part between the means of the groups."""
    k = len(groups)
    mean = np.array([level.spread.mean for level in groups], dtype=float)
    if not total > VARIES * float(np.square(mean).max(initial=0.0)) or not n > k:
        return None
    weight = np.array([level.spread.rows for level in groups]) / n
    between = float(weight @ (mean - weight @ mean) ** 2) / total
    return between if exact else max(0.0, 1.0 - (1.0 - between) * (n - 1) / (n - k))
