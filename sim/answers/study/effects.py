"""What one input does by itself: pairs of rows that differ in it alone, and the answers at each of its levels."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.study.drawn_levels import DRAWN_LEVELS
from sim.answers.study.results import Results
from sim.telling.record import Told

BINS: Final = 10  # of an input that is drawn, equally many rows in each
MANY: Final = 20  # values of a number, from which on they are binned
DRAWN: Final = len(DRAWN_LEVELS)
LOW: Final = 5.0  # percentiles
HIGH: Final = 95.0


@dataclass(frozen=True)
class Effect:
    """How far an output moves when one input alone is changed, in the output's unit."""

    output: Annotated[str, Told("column of the answer")]
    input: Annotated[str, Told("what was changed")]
    pairs: Annotated[int, Told("pairs of rows that differ in it alone")]
    mean: Annotated[float, Told("size of the change, on average")]
    p95: Annotated[float, Told("its 95th percentile")]
    greatest: Annotated[float, Told("the greatest")]


@dataclass(frozen=True)
class Spread:
    """How values are spread."""

    rows: Annotated[int, Told("rows that have the answer")]
    mean: Annotated[float | None, Told("mean", none="no such row")]
    p5: Annotated[float | None, Told("5th percentile", none="no such row")]
    p50: Annotated[float | None, Told("50th percentile", none="no such row")]
    p95: Annotated[float | None, Told("95th percentile", none="no such row")]


@dataclass(frozen=True)
class Level:
    """An output at one level of one input, whatever the others, in the output's unit."""

    output: Annotated[str, Told("column of the answer")]
    input: Annotated[str, Told("column of the input")]
    split: Annotated[str | None, Told("choices of other inputs that are told apart", none="all together")]
    choice: Annotated[str | None, Told("the level, of an input with choices", none="the input is a number")]
    value: Annotated[float | None, Told("the level, of a number", none="the input is a choice")]
    spread: Annotated[Spread, Told("of the answer there", beside=True)]


@dataclass(frozen=True)
class Summary:
    """One output over all rows, in its unit."""

    output: Annotated[str, Told("column of the answer")]
    unit: Annotated[str, Told("its unit")]
    without: Annotated[int, Told("rows without it")]
    spread: Annotated[Spread, Told("over all rows", beside=True)]
    sd: Annotated[float | None, Told("standard deviation", none="fewer than two rows")]
    least: Annotated[float | None, Told("the least", none="no row has it")]
    greatest: Annotated[float | None, Told("the greatest", none="no row has it")]


@dataclass(frozen=True)
class Lost:
    """Why rows have no answers."""

    problem: Annotated[str, Told("why")]
    rows: Annotated[int, Told("how many, for this reason")]


def effects(results: Results) -> tuple[Effect, ...]:
    """How far each output moves when one input alone is changed: mean, 95th percentile and greatest of the size.

    grid: from the input's first level to each other one, whatever the rest; one at a time: from the scenario to each
    level; saltelli: from one draw of the input to another. Other designs have no such pairs: nothing.
    """
    found = []
    for output in results.outputs:
        values = results.numbers(output.column)
        for k, one in enumerate(results.inputs):
            change = np.abs(_changes(results, values, k))
            change = change[np.isfinite(change)]
            if len(change):
                ends = float(np.percentile(change, HIGH)), float(change.max())
                found.append(Effect(output.column, one.title, len(change), float(change.mean()), *ends))
    return tuple(found)


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


def by_level(results: Results, split: Sequence[str] = ()) -> tuple[Level, ...]:
    """Each output at each level of each input, whatever the others: rows, mean, 5th, 50th and 95th percentile.

    An input that is drawn has ten levels with as many rows in each, told by the middle one's value.
    split : inputs with choices, for each combination of which this is told apart; ValueError for another input
    """
    groups: list[tuple[str, NDArray[np.bool_]]] = [("", np.ones(results.rows, dtype=bool))]
    for column in split:
        codes, names = results.numbers(column), _choices(results, column)
        groups = [
            (f"{name}, {label}" if name else label, rows & (codes == code))
            for name, rows in groups
            for code, label in enumerate(names)
        ]
    found: list[Level] = []
    for one in results.inputs:
        for column, labels in one.by_column:
            if column in split:
                continue
            for name, rows in groups:
                at = _levels(results.numbers(column)[rows], labels)
                for output in results.outputs:
                    values = results.numbers(output.column)[rows]
                    for choice, value, these in at:
                        spread = spread_of(values[these])
                        found.append(Level(output.column, column, name or None, choice, value, spread))
    return tuple(found)


def _choices(results: Results, column: str) -> tuple[str, ...]:
    """Names of the choices of a column. Raises ValueError where it has none."""
    known = {c: names for one in results.inputs for c, names in one.by_column if names}
    if column not in known:
        raise ValueError(f'"{column}" is no input with choices; those are: {", ".join(known) or "none"}')
    return known[column]


def _levels(
    values: Floats, labels: tuple[str, ...] | None
) -> list[tuple[str | None, float | None, NDArray[np.intp]]]:
    """Choice or value of each level in order, with the rows that are at it."""
    there = ~np.isnan(values)
    if labels is None and len(np.unique(values[there])) + (not there.all()) > MANY:
        values = _binned(values)
    at = [(level, np.flatnonzero(values == level)) for level in np.unique(values[there & ~np.isnan(values)])]
    if labels is None:
        return [(None, float(level), rows) for level, rows in at]
    return [(labels[int(level)], None, rows) for level, rows in at]


def _binned(values: Floats) -> Floats:
    """The middle value of the tenth of the rows that each row is in; equal values are taken in the rows' order."""
    level = np.full(len(values), np.nan)
    rising = np.argsort(values, kind="stable")[: np.count_nonzero(~np.isnan(values))]
    for tenth in np.array_split(rising, BINS):
        level[tenth] = np.median(values[tenth])
    return level


def spread_of(values: Floats) -> Spread:
    """Rows, mean and percentiles of those that are numbers."""
    known = values[~np.isnan(values)]
    if not len(known):
        return Spread(0, None, None, None, None)
    return Spread(len(known), float(known.mean()), *map(float, np.percentile(known, [LOW, 50.0, HIGH])))


def summary(results: Results) -> tuple[Summary, ...]:
    """Each output over all rows: unit, rows with an answer and without, mean, percentiles, SD, least, greatest."""
    found = []
    for output in results.outputs:
        values = results.known(output.column)
        ends = (float(values.min()), float(values.max())) if len(values) else (None, None)
        sd = float(values.std(ddof=1)) if len(values) > 1 else None
        found.append(Summary(output.column, output.unit, results.rows - len(values), spread_of(values), sd, *ends))
    return tuple(found)


def problems(results: Results) -> tuple[Lost, ...]:
    """Why rows have no answers, and how many for each reason, most first."""
    counted = Counter(results.problems)
    return tuple(Lost(why, rows) for why, rows in sorted(counted.items(), key=lambda c: (-c[1], c[0])))
