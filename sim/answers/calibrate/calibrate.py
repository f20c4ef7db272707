"""From a scenario and what was measured to what is learnt, contradicted, or not to be had from this."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from scenarios.suit import DrySuit
from sim.answers.calibrate.drawn_rigs import Drawn, drawn_from
from sim.answers.calibrate.model import Model
from sim.answers.calibrate.posterior import SEED, Posterior, posterior, quantiles
from sim.answers.calibrate.surprise import PriorPredictive, Suspect, contradicted, prior_predictive, suspects
from sim.answers.calibrate.time_law import BY_HAND, TimeLaw, time_law
from sim.answers.check_bench.bench_file import POOL_DEPTH, BenchFile, Worn
from sim.answers.check_bench.readings import Pool, Reading, readings_of
from sim.answers.check_bench.situations import AS_TOLD, Situation
from sim.answers.check_bench.spreads import LEAD_SPREAD, MOMENT_SPREAD
from sim.case import NO_DIVER, Case
from sim.rig import Rig
from sim.said import known, note, word
from sim.telling.record import Told
from sim.uncertainty.progress import Progress, part_of, unheard
from sim.uncertainty.rig_numbers import numbers_of
from sim.uncertainty.shares import HIGH, LOW, share_of
from sim.uncertainty.uncertain_rig import uncertain_situations
from sim.uncertainty.variants import Situation as SituationOf
from sim.uncertainty.variants import UnvariedError
from sim.uncertainty.variates import UncertainRig
from sim.worker_pool import worker_pool

NEXT_PRESSURE: Final = 5e6  # Pa, at which a float would be measured next
VARIANTS: Final = 0.75  # of the time goes into the variants of the scenario
ROUGH_TIME: Final = 0.45  # of a moment, that a freeze test's time leaves open: 20 % of a time twice, and its reading


@dataclass(frozen=True)
class Next:
    """A measurement not yet made."""

    name: Annotated[str, Told("what would be measured", key="measurement")]
    share: Annotated[float, Told("of the moment's variance, that it would take away, 0 to 1", key="variance_taken")]


@dataclass(frozen=True, eq=False)
class Calibration:
    """What the measurements say.

    unknown : the rig as told with what may be otherwise;  before, after : moment (n,) [N m] of draws, ``after`` with
    the weights of ``found``; both None where the measurements contradict the model
    """

    scenario: Scenario
    path: str
    bench: BenchFile
    model: Model
    unknown: UncertainRig
    expected: PriorPredictive
    before: Floats
    found: Posterior | None
    after: Floats | None
    suspects: tuple[Suspect, ...]
    next: tuple[Next, ...]
    notes: tuple[str, ...]

    @property
    def day(self) -> datetime.date | None:
        """When it was measured."""
        return self.bench.bench.measured_on

    def band(self) -> tuple[Floats, Floats | None]:
        """5th, 50th and 95th percentile of the moment [N m] before and after."""
        shares = np.array([LOW, 0.5, HIGH])
        before = np.quantile(self.before, shares)
        if self.after is None or self.found is None:
            return before, None
        return before, quantiles(self.after, self.found.weight, shares)


def calibrated(
    case: Case,
    bench: BenchFile,
    *,
    workers: int = 1,
    done: Progress = unheard,
) -> Calibration:
    """Fit the unknowns of a scenario to a file of measurements.

    Raises ScenarioError for files that cannot be used, with line and key.
    """
    scenario = case.scenario(NO_DIVER)
    notes = tuple(_notes(case.path, bench, scenario))
    pool = Pool(scenario.as_told(), case.people)
    readings = readings_of(bench, pool)
    if not readings:
        raise bench.fault("nothing here was measured in the water: give a [[float]], a [[balance]] or a [freeze]")
    with worker_pool(workers) as executor:
        try:
            model = model_of(pool, readings, executor, part_of(done, 0.0, VARIANTS))
        except UnvariedError as error:
            raise ScenarioError([Problem(str(case.path), str(error), error.key)]) from error
    answer = inferred(model, pool, part_of(done, VARIANTS, 1.0))
    unknown = model.drawn[AS_TOLD].unknown
    return Calibration(scenario, str(case.path), bench, model, unknown, *answer, notes)


def _notes(path: Path, bench: BenchFile, scenario: Scenario) -> list[str]:
    found: list[str] = []
    if path.resolve() != bench.scenario.resolve():
        found.append(
            note(
                'The measurements name "{named}"; they were held against "{path}", as asked for.',
                named=str(bench.bench.scenario),
                path=str(path),
            )
        )
    if scenario.learnt is not None:
        found.append(
            note(
                'What "{known}" holds was left aside: the fit starts from the scenario as it is told.',
                known=str(scenario.known),
            )
        )
    if bench.bench.item:
        found.append(
            note('What was weighed or balanced at home is no part of the fit: "hangflat check-bench" holds it.')
        )
    return found


def model_of(
    pool: Pool, readings: Sequence[Reading], executor: Executor | None = None, done: Progress = unheard
) -> Model:
    """The readings with the rig in each of their situations, and in those that could be measured next."""
    worn = [Situation(worn=w) for w in _ways(pool.scenario)]
    there: dict[SituationOf, Rig] = {s.of: pool.rig(s) for s in worn}
    with ThreadPoolExecutor(1) as beside:  # the variants are worked out in other processes meanwhile
        waiting = beside.submit(uncertain_situations, pool.scenario, there, executor, done)
        wanted = [*worn, *(r.situation for r in readings), *(r.situation for r in candidates(pool))]
        rigs = {situation: pool.rig(situation) for situation in wanted}
        law = _law(pool, readings)
        lines = dict(zip(worn, waiting.result(), strict=True))
    drawn: dict[Situation, Drawn] = {}
    for situation, rig in rigs.items():
        along = lines[Situation(worn=situation.worn)]
        # how the numbers change with the unknowns hangs on the posture and the straps, hardly on depth and pressure
        drawn[situation] = drawn_from(replace(along, like=replace(rig, parts=()), base=numbers_of(rig)))
    return Model(drawn, tuple(readings), law)


def _law(pool: Pool, readings: Sequence[Reading]) -> TimeLaw:
    """By motions where a turn was timed."""
    for reading in readings:
        if reading.kind == "freeze" and reading.time is not None:
            return time_law(pool.rig(reading.situation), reading.drift == "head-up")
    return BY_HAND


def _ways(scenario: Scenario) -> list[Worn]:
    strapped: list[Worn] = [word("lower legs strapped")]
    if not isinstance(scenario.suit, DrySuit) or scenario.suit.gaiters:
        strapped = []
    return [word("as worn"), *strapped, word("legs straight")]


def candidates(pool: Pool) -> list[Reading]:
    """Measurements that could be made: with what they would say as their value, at the usual spreads."""
    pressure = None if pool.scenario.cylinders is None else NEXT_PRESSURE
    float_there = Situation(depth=POOL_DEPTH, pressure=pressure)
    found = [Reading(word("neutral float"), "float", float_there, sd=LEAD_SPREAD)]
    found += [
        Reading(note("balancing lead, {worn}", worn=known(w)), "balance", Situation(worn=w), sd=MOMENT_SPREAD)
        for w in _ways(pool.scenario)
    ]
    found.append(Reading(word("freeze test"), "freeze", AS_TOLD))
    return found


def inferred(
    model: Model, pool: Pool, done: Progress = unheard
) -> tuple[PriorPredictive, Floats, Posterior | None, Floats | None, tuple[Suspect, ...], tuple[Next, ...]]:
    """Prior predictive, moment before, posterior, moment after, suspects, and what to measure next."""
    expected = prior_predictive(model)
    done(0.5)
    if contradicted(model.readings, expected):
        return expected, expected.moment, None, None, suspects(model), ()
    found = posterior(model)
    done(0.8)
    return expected, expected.moment, found, model.moment(found.scores), (), next_measurements(model, pool, found)


def next_measurements(model: Model, pool: Pool, found: Posterior) -> tuple[Next, ...]:
    """Measurements not made yet, by how much of the moment's variance each is expected to take; largest first."""
    rng = np.random.default_rng(SEED)
    scores = found.resampled(len(found.weight), SEED)
    moment = model.moment(scores)
    told = []
    for reading in candidates(pool):
        if any(_alike(reading, made) for made in model.readings):
            continue
        predicted = model.predicted(scores, [reading])[:, 0]
        sd = reading.sd if reading.kind != "freeze" else np.hypot(ROUGH_TIME * predicted, MOMENT_SPREAD)
        seen = predicted + sd * rng.standard_normal(len(predicted))
        told.append(Next(reading.name, share_of(reading.name, "", seen, moment).share))
    return tuple(sorted(told, key=lambda n: -n.share))


def _alike(reading: Reading, made: Reading) -> bool:
    return reading.kind == made.kind and reading.situation.worn == made.situation.worn
