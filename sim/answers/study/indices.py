"""Sobol' indices of a saltelli study: which input moves an answer, alone and with all the others.

First order: the share of the variance that would go if the input were known; total: the share that would be left if
all others were known (Sobol' 1993, Math Modelling Comput Exp 1:407; estimators of Saltelli et al. 2010, Comput Phys
Commun 181:259, as in ``scipy.stats.sobol_indices``). Intervals are percentiles over resampled base draws; the draws
are quasi-random, so the intervals are rather too wide than too narrow.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.study.outputs import Output
from sim.answers.study.results import Results
from sim.said import note
from sim.telling.record import Told

RESAMPLES: Final = 200
INTERVAL: Final = (2.5, 97.5)  # percentiles
MOST_LOST: Final = 0.1  # of the base draws: beyond this the rest is no fair sample
FEWEST: Final = 0.05  # of the base draws: if an answer varies in fewer, a few odd rows make its variance (assumed)
ROUNDING: Final = 1e-9  # of the largest answer: a smaller difference is none


@dataclass(frozen=True, kw_only=True)
class Index:
    """Sobol' indices of one input on one output, each with its 95 % interval; none where not to be had."""

    output: Annotated[str, Told("column of the answer")]
    lost: Annotated[int, Told("base draws that could not be worked out")]
    why_not: Annotated[str, Told("why there are no indices; empty where there are")]
    input: Annotated[str, Told("the input")]
    first: Annotated[float | None, Told("share of the variance that goes with it alone", none="not to be had")] = None
    first_low: Annotated[float | None, Told("least that may be", none="not to be had")] = None
    first_high: Annotated[float | None, Told("most that may be", none="not to be had")] = None
    total: Annotated[float | None, Told("the same with all interplay", none="not to be had")] = None
    total_low: Annotated[float | None, Told("least that may be", none="not to be had")] = None
    total_high: Annotated[float | None, Told("most that may be", none="not to be had")] = None


@dataclass(frozen=True, eq=False)
class Runs:
    """Answers of one output at the base draws that have all of theirs: a, b (n,), mixed (d, n).

    lost : base draws that have not;  varying : of those that have, in how many some answer is not the usual one
    """

    a: Floats
    b: Floats
    mixed: Floats
    lost: int
    varying: int


def indices(results: Results, *, resamples: int = RESAMPLES) -> tuple[Index, ...]:
    """First and total index of every input on every output, each with its 95 % interval.

    Raises ValueError for a study of another design.
    """
    if results.design != "saltelli":
        raise ValueError(f'Sobol\' indices need a study of design "saltelli", this is "{results.design}"')
    return tuple(index for output in results.outputs for index in _of_output(results, output, resamples))


def runs_of(results: Results, column: str) -> Runs:
    """Answers of one output by base draw."""
    values = results.numbers(column).reshape(results.number, len(results.inputs) + 2)
    good = np.isfinite(values).all(axis=1)
    kept = values[good].T
    away = np.abs(kept - np.median(kept)) if kept.size else kept
    varying = (away > ROUNDING * np.abs(kept).max(initial=0.0)).any(axis=0)
    return Runs(kept[0], kept[1], kept[2:], int((~good).sum()), int(varying.sum()))


def _of_output(results: Results, output: Output, resamples: int) -> list[Index]:
    runs = runs_of(results, output.column)
    names = [i.title for i in results.inputs]
    why = _why_not(runs, results.number)
    if why:
        return [Index(output=output.column, lost=runs.lost, why_not=why, input=name) for name in names]
    rng = np.random.default_rng((results.seed, 4))
    whole = np.concatenate([np.arange(len(runs.a)), rng.integers(len(runs.a), size=runs.lost)])
    first, total = _estimated(runs, whole)
    again = [_estimated(runs, rng.integers(len(runs.a), size=results.number)) for _ in range(resamples)]
    low, high = np.percentile(np.array(again), INTERVAL, axis=0)
    return [
        Index(
            output=output.column, lost=runs.lost, why_not="", input=name, first=float(first[i]),
            first_low=float(low[0, i]), first_high=float(high[0, i]), total=float(total[i]),
            total_low=float(low[1, i]), total_high=float(high[1, i]),
        )
        for i, name in enumerate(names)
    ]  # fmt: skip


def _why_not(runs: Runs, number: int) -> str:
    """Why indices of ``number`` base draws would say nothing; "" when they do."""
    if not runs.lost <= MOST_LOST * number:
        return note("not to be told, too many of the base draws ({lost:,}) could not be worked out", lost=runs.lost)
    if not runs.varying:
        return note("nothing, it is the same in all rows")
    if runs.varying < FEWEST * number:
        return note(
            "not to be told, it varies in {varying:,} of {number:,} base draws only",
            varying=runs.varying,
            number=number,
        )
    return ""


def _estimated(runs: Runs, drawn: NDArray[np.int64]) -> tuple[Floats, Floats]:
    """First and total indices (d,) from the base draws ``drawn``."""
    both = np.stack([runs.a[drawn], runs.b[drawn]])
    middle = both.mean()
    (a, b), mixed = both - middle, runs.mixed[:, drawn] - middle
    variance = both.var()
    if not variance > 0.0:  # draws that are all the same say nothing
        return np.zeros(len(mixed)), np.zeros(len(mixed))
    return np.mean(b * (mixed - a), axis=1) / variance, 0.5 * np.mean((a - mixed) ** 2, axis=1) / variance
