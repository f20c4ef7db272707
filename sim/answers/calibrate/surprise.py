"""Are the measurements what the model can do at all? If not, which assumption is likeliest broken."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.calibrate.model import Model, as_gaussian, time_sd
from sim.answers.calibrate.posterior import slopes
from sim.answers.calibrate.time_law import LONGEST, TimeLaw
from sim.answers.check_bench.bench_file import Drift
from sim.answers.check_bench.readings import Reading
from sim.answers.check_bench.situations import AS_TOLD
from sim.answers.check_bench.spreads import MOMENT_SPREAD
from sim.said import amount, known, note, word
from sim.telling.record import Told

LIMIT: Final = 0.99  # of the prior predictive: one honest set of measurements in a hundred lies beyond
PRIOR_DRAWS: Final = 2048
SEED: Final = 40_961
FARTHER: Final = 4.0  # times its spread that an assumption may turn out to be broken by
LEFT_OUT: Final = 3.0  # kg, SD of a mass that the file may leave out (assumed)
SHORTEST: Final = 0.2  # s, of a time that a reading's spread would make nil
PLACES: Final = (
    (word("mass near the feet that the file leaves out"), -0.85),
    (word("mass near the hips that the file leaves out"), 0.0),
    (word("mass near the shoulders that the file leaves out"), 0.5),
)  # m headward of them


@dataclass(frozen=True, eq=False)
class PriorPredictive:
    """What would be measured, by what is believed before.

    mean : (m,) and covariance : (m, m) of the readings' statistics;  limit : the 99 % point of their squared
    distance;  moment : (n,) [N m] of each draw as told
    """

    mean: Floats
    covariance: Floats
    limit: float
    moment: Floats

    def distance(self, statistics: Floats) -> Floats:
        """Squared distances (n,) of statistics (n, m) from what is expected."""
        away = statistics - self.mean
        return np.asarray((away * np.linalg.solve(self.covariance, away.T).T).sum(axis=1))


@dataclass(frozen=True)
class Suspect:
    """An assumption that may be broken."""

    name: Annotated[str, Told("the assumption")]
    amount: Annotated[str, Told("by which it would have to be off, in words")]
    weight: Annotated[float, Told("how likely it is the one, all suspects together 1")]


def prior_predictive(model: Model, draws: int = PRIOR_DRAWS, seed: int = SEED) -> PriorPredictive:
    """By ``draws`` of the unknowns and of the readings' errors."""
    rng = np.random.default_rng(seed)
    scores = rng.standard_normal((draws, model.unknowns))
    predicted = model.predicted(scores)
    told = np.array([
        [statistic(r) for r in row] for row in (measured(model.readings, p, model.law, rng) for p in predicted)
    ]).reshape(draws, len(model.readings))  # fmt: skip
    mean, covariance = told.mean(axis=0), np.atleast_2d(np.cov(told.T)) + 1e-9 * np.eye(len(model.readings))
    found = PriorPredictive(mean, covariance, np.inf, model.moment(scores))
    return replace(found, limit=float(np.quantile(found.distance(told), LIMIT)))


def measured(readings: Sequence[Reading], predicted: Floats, law: TimeLaw, rng: np.random.Generator) -> list[Reading]:
    """The readings as somebody would have taken them who is as ``predicted`` (m,)."""
    return [_measured(r, float(p), law, rng) for r, p in zip(readings, predicted, strict=True)]


def _measured(reading: Reading, predicted: float, law: TimeLaw, rng: np.random.Generator) -> Reading:
    if reading.kind != "freeze" or reading.drift == "none":
        return replace(reading, value=predicted + reading.sd * rng.standard_normal())
    if reading.time is None:
        seen = predicted + MOMENT_SPREAD * rng.standard_normal()
        return replace(reading, drift=_way(seen))
    time = law.time(np.array([abs(predicted)]))
    seen_time = float((time + time_sd(reading, time) * rng.standard_normal())[0])
    return replace(reading, drift=_way(predicted), time=min(max(seen_time, SHORTEST), LONGEST))


def _way(moment: float) -> Drift:
    return "head-up" if moment > 0.0 else "head-down"


def statistic(reading: Reading) -> float:
    """A reading as one number whose spread is much the same wherever it lies."""
    if reading.kind != "freeze" or reading.drift == "none":
        return reading.value
    way = 1.0 if reading.drift == "head-up" else -1.0
    return way if reading.time is None else way / reading.time


def contradicted(readings: Sequence[Reading], expected: PriorPredictive) -> bool:
    """The readings lie beyond what the model can do, by chance in one of a hundred."""
    if not readings:
        return False
    return bool(expected.distance(np.array([[statistic(r) for r in readings]]))[0] > expected.limit)


def suspects(model: Model) -> tuple[Suspect, ...]:
    """Assumptions by how well each, broken alone, would explain the readings; likeliest first.

    Straight lines about what is told: with readings y, slopes J and errors R, each suspect adds a direction a to the
    covariance J J' + R, and is weighed by the density of y under it.
    """
    told = [as_gaussian(r, model.law) for r in model.readings]
    value, sd = (np.array([t[i] for t in told]) for i in (0, 1))
    here, slope = slopes(model, np.zeros(model.unknowns))
    left = value - here
    covariance = slope @ slope.T + np.diag(sd**2)
    found = []
    for name, direction, size, unit in _directions(model, slope, sd):
        wider = covariance + size**2 * np.outer(direction, direction)
        _, log_det = np.linalg.slogdet(wider)
        solved = np.linalg.solve(wider, left)
        off = size**2 * float(direction @ solved)
        found.append(
            (
                -0.5 * (log_det + float(left @ solved)),
                name,
                note("{amount} {unit}", amount=amount(off, "", 1, sign=True, bare=True), unit=known(unit)),
            )
        )
    found.sort(key=lambda f: -f[0])
    best = found[0][0]
    total = sum(np.exp(f[0] - best) for f in found)
    return tuple(Suspect(name, amount, float(np.exp(log - best) / total)) for log, name, amount in found)


def _directions(model: Model, slope: Floats, sd: Floats) -> Iterator[tuple[str, Floats, float, str]]:
    """Name, direction (m,) for one of its unit, SD in its unit, and the unit of each suspect."""
    variates = model.drawn[AS_TOLD].unknown.variates
    for variate, direction in zip(variates, slope.T, strict=True):
        yield variate.name, direction, FARTHER, word("of its usual spreads")
    nothing = np.zeros((1, model.unknowns))
    here = model.predicted(nothing)[0]
    held = model.drawn[AS_TOLD].unknown.like.held
    for words, x in PLACES:
        # a kilogram of steel or lead, more or less
        one = np.concatenate([[1.0], [x, 0.0, held[2]], [1.1e-4], 1.1e-4 * np.array([x, 0.0, held[2]])])
        with_it = [replace(r, added=one if r.added is None else r.added + one) for r in model.readings]
        yield words, model.predicted(nothing, with_it)[0] - here, LEFT_OUT, "kg"
    for i, reading in enumerate(model.readings):
        yield (
            note("the reading of the {name}", name=known(reading.name)),
            np.eye(len(sd))[i] * sd[i],
            FARTHER,
            word("of its spreads"),
        )
