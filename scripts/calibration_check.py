"""Is what ``hangflat calibrate`` infers true, on divers whose truth is known? A quarter of an hour on one core:

    nice -n 10 .venv/bin/python scripts/calibration_check.py [cases] [--write]

Simulation-based calibration (Talts et al. 2018, arXiv 1804.06788): a truth drawn from what is believed before,
measured with noise, inferred; its rank among the draws afterwards is uniform if the inference is right. Ranked are
the moment, the three unknowns that carry most of it, and the log-likelihood of the data, which an inference that
ignored the data would not pass (Modrak et al. 2023, Bayesian Analysis). Besides: bands that hold, false alarms of
"contradicted", its power to find a mass that the file leaves out, the next what-if of a calibrated diver, and, since
all that is on the straight lines of the program's own uncertainty, divers assembled anew at their truth.
``--write`` stores what came out in sim/answers/evidence/stored, where evidence and tests read it.
"""

from __future__ import annotations

import argparse
import csv
import json
import os
import sys
import time
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from scipy.stats import binom, chi2

from meshes.mesh import Floats
from scenarios.by_key import told_otherwise
from scenarios.demos import demo_path
from scenarios.models import Scenario
from scenarios.reading import read_scenario
from sim.answers.calibrate.calibrate import model_of
from sim.answers.calibrate.drawn_rigs import Drawn, drawn_from
from sim.answers.calibrate.model import Model
from sim.answers.calibrate.posterior import posterior, quantiles
from sim.answers.calibrate.surprise import PriorPredictive, contradicted, measured, prior_predictive, statistic
from sim.answers.calibrate.time_law import time_law
from sim.answers.check_bench.readings import Pool, Reading
from sim.answers.check_bench.situations import AS_TOLD, Situation
from sim.answers.check_bench.spreads import LEAD_SPREAD, MOMENT_SPREAD
from sim.assembly.learnt import with_effects
from sim.assembly.posed_diver import KeptDivers
from sim.assembly.scenario_rig import assembled_scenario
from sim.batch.flat import flat_answers
from sim.rig import Rig
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.belief import effects_at, values_at
from sim.uncertainty.sampling import of_scores
from sim.uncertainty.shares import share_of
from sim.uncertainty.uncertain_rig import uncertain_scenario
from sim.worker_pool import worker_pool

STORED = Path(__file__).parents[1] / "sim" / "answers" / "evidence" / "stored"
CASES, SEED = 1000, 20_180
DRAWS = 512  # of the unknowns in each case
KEPT = 63  # of them, thinned by resampling, among which the truth is ranked: 64 ranks
BINS = 16  # of 4 ranks
BAND = (0.05, 0.95)
RANKED = ("moment", "fit", "unknown 1", "unknown 2", "unknown 3")
# demo, how it is changed before it is measured, and the next what-if
DIVERS = (
    ("small-woman-carbon", (), ("plate=standard steel", "suit.gaiters=false")),
    ("tall-man-carbon", ("suit.gaiters=false",), ("plate=small steel", "suit.gaiters=true")),
    ("single-wetsuit", (), ("plate=small carbon",)),
)
POOL_DEPTH, POOL_PRESSURE = 4.0, 6e6  # m, Pa
MASSES = (0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0)  # kg of lead left out
HIDDEN_AT = {"hips": 0.0, "feet": -0.85}  # m headward of the hips
POWER_CASES = 400
ANEW_CASES = 120  # whose bodies, suits and gear are built anew
TIME_SD = 0.456  # s, of a mean of five times of 2 s: 0.5 s each, and 20 % of the model's own


@dataclass(frozen=True)
class Design:
    """One diver with what is measured, and the same diver in the next what-if."""

    name: str
    scenario: Scenario
    model: Model
    expected: PriorPredictive
    what_if: Drawn
    kept: tuple[tuple[int, int], ...]  # unknowns of the what-if that are the calibrated ones, and which of those
    ranked: tuple[int, ...]  # the three unknowns that carry most of the moment


def designs(only: str = "") -> tuple[Design, ...]:
    """Each diver (or those whose name begins with ``only``) measured once, twice and in all ways."""
    found = []
    for demo, settings, other in DIVERS:
        if not demo.startswith(only):
            continue
        scenario = read_scenario(demo_path(demo), settings)
        pool = Pool(scenario)
        law = time_law(pool.rig(AS_TOLD), head_up=False)
        sets = dict(_sets(scenario))
        with worker_pool(2) as executor:
            model = replace(model_of(pool, sets["all"], executor), threads=1, law=law)
            what_if, kept = _what_if(demo, other, model, executor)
        ranked = _carriers(model)
        for name, readings in sets.items():
            one = replace(model, readings=tuple(readings))
            found.append(Design(f"{demo}, {name}", scenario, one, prior_predictive(one), what_if, kept, ranked))
    return tuple(found)


def _sets(scenario: Scenario) -> Iterator[tuple[str, list[Reading]]]:
    there = Situation(depth=POOL_DEPTH, pressure=POOL_PRESSURE)
    worn = sum(lead.mass for lead in scenario.lead)
    floats = Reading("neutral float", "float", there, sd=LEAD_SPREAD, worn=worn, per_lead=1.1)
    balance = Reading("balancing lead", "balance", there, sd=MOMENT_SPREAD)
    straight = replace(balance, name="legs straight", situation=replace(there, worn="legs straight"))
    strapped = replace(balance, name="strapped", situation=replace(there, worn="lower legs strapped"))
    freeze = Reading(
        "freeze test", "freeze", AS_TOLD, drift="head-down", time=2.0, time_sd=float(np.hypot(0.22, 0.4))
    )
    dry = scenario.suit is not None and scenario.suit.kind == "dry" and not scenario.suit.gaiters
    yield "one", [balance]
    yield "two", [floats, balance]
    yield "all", [floats, balance, *([strapped] if dry else []), straight, freeze]


def _what_if(
    demo: str, settings: Sequence[str], model: Model, executor: ProcessPoolExecutor
) -> tuple[Drawn, tuple[tuple[int, int], ...]]:
    """The diver in other gear, and its unknowns that go along with the calibrated diver and suit, by name."""
    scenario = read_scenario(demo_path(demo), settings)
    unknown = uncertain_scenario(scenario, assembled_scenario(scenario, "").rig, executor)
    names = [v.name for v in model.drawn[AS_TOLD].unknown.variates]
    kept = [
        (i, names.index(v.name))
        for i, v in enumerate(unknown.variates)
        if v.owner in ("diver", "suit") and v.name in names
    ]
    return drawn_from(unknown), tuple(kept)


def _carriers(model: Model) -> tuple[int, ...]:
    g = np.random.default_rng(SEED).standard_normal((2048, model.unknowns))
    moment = model.moment(g)
    shares = [share_of("", "", g[:, i], moment).share for i in range(model.unknowns)]
    return tuple(int(i) for i in np.argsort(shares)[::-1][:3])


def case(design: Design, seed: int) -> dict[str, float]:
    """One truth: its ranks among the draws, whether bands hold it, and whether it is taken for a contradiction."""
    rng = np.random.default_rng((SEED, seed))
    truth = rng.standard_normal(design.model.unknowns)
    readings = measured(design.model.readings, design.model.predicted(truth[None])[0], design.model.law, rng)
    model = replace(design.model, readings=tuple(readings))
    started = time.process_time()
    found = posterior(model, DRAWS)
    moments = model.moment(found.scores)
    took = time.process_time() - started
    true_moment = float(model.moment(truth[None])[0])
    true_fit = float(model.log_likelihood(model.predicted(truth[None]))[0])
    at = np.searchsorted(np.cumsum(found.weight), (rng.random() + np.arange(KEPT)) / KEPT).clip(max=DRAWS - 1)
    kept = found.scores[at]
    low, high = quantiles(moments, found.weight, np.array(BAND))
    row = {
        "moment": float((moments[at] < true_moment).sum()), "fit": float((found.log_likelihood[at] < true_fit).sum()),
        "held": float(low <= true_moment <= high), "alarm": float(contradicted(readings, design.expected)),
        "counts": found.counts, "seconds": took, "width": float(high - low),
        "next_held": _next_held(design, found.mean, found.covariance, truth, rng),
    }  # fmt: skip
    for number, i in enumerate(design.ranked):
        row[f"unknown {number + 1}"] = float((kept[:, i] < truth[i]).sum())
    return row


def _next_held(design: Design, mean: Floats, covariance: Floats, truth: Floats, rng: np.random.Generator) -> float:
    """The what-if's true moment lies in the band that the written belief gives; another rig's unknowns are new."""
    there, here = (list(at) for at in zip(*design.kept, strict=True))
    shapes = [v.shape for v in design.what_if.unknown.variates]
    scores = rng.standard_normal((DRAWS + 1, len(shapes)))
    factor = np.linalg.cholesky(covariance[np.ix_(here, here)])
    scores[:, there] = mean[here] + rng.standard_normal((DRAWS + 1, len(here))) @ factor.T
    scores[-1, there] = truth[here]
    rigs = design.what_if.rigs(of_scores(scores, shapes))
    moments = flat_answers(rigs, threads=1).pitch_moment
    low, high = np.quantile(moments[:-1], BAND)
    return float(low <= moments[-1] <= high)


def anew(design: Design, seed: int) -> dict[str, float]:
    """As ``case``, for a truth whose bodies, suits and gear are built anew in every situation."""
    rng = np.random.default_rng((SEED, 1, seed))
    truth = rng.standard_normal(design.model.unknowns)
    variates = design.model.drawn[AS_TOLD].unknown.variates
    z = of_scores(truth[None], design.model.shapes)[0]
    told, effects = design.scenario, effects_at(variates, z)
    for key, value in values_at(variates, z).items():
        told = told_otherwise(told, key, value)
    people = KeptDivers()

    def rig(situation: Situation) -> Rig:
        there = situation.of(told)
        return with_effects(assembled_scenario(there, "", (), people.of(there)).rig, effects)

    predicted = np.array([r.by(rig(r.situation)) for r in design.model.readings])
    readings = measured(design.model.readings, predicted, design.model.law, rng)
    true = flat_answer(soft_rig(rig(AS_TOLD))).pitch_moment
    model = replace(design.model, readings=tuple(readings))
    found = posterior(model, DRAWS)
    moments = model.moment(found.scores)
    low, high = quantiles(moments, found.weight, np.array(BAND))
    below = float(found.weight[moments < true].sum())
    return {
        "below": below, "held": float(low <= true <= high), "alarm": float(contradicted(readings, design.expected)),
        "line_error": true - float(design.model.moment(truth[None])[0]),
    }  # fmt: skip


def power(design: Design) -> list[dict[str, object]]:
    """Share of divers in whom a lead that the file leaves out is told as a contradiction."""
    rng = np.random.default_rng(SEED)
    truths = rng.standard_normal((POWER_CASES, design.model.unknowns))
    rows: list[dict[str, object]] = []
    for place, x in HIDDEN_AT.items():
        for mass in MASSES:
            volume, at = mass / 11_340.0, np.array([x, 0.0, 0.0])
            added = np.concatenate([[mass], mass * at, [volume], volume * at])
            hiding = [replace(r, added=added) for r in design.model.readings]
            predicted = design.model.predicted(truths, hiding)
            told = np.array([
                [statistic(r) for r in measured(design.model.readings, p, design.model.law, rng)] for p in predicted
            ])  # fmt: skip
            found = float((design.expected.distance(told) > design.expected.limit).mean())
            rows.append({"design": design.name, "place": place, "kg": mass, "found": round(found, 4)})
    return rows


_worker: tuple[Design, ...] = ()


def _begin(found: tuple[Design, ...]) -> None:
    global _worker
    _worker = found


def _case(number: int) -> dict[str, float]:
    return case(_worker[number % len(_worker)], number)


def _anew(number: int) -> dict[str, float]:
    return anew(_worker[number % len(_worker)], number)


def uniform(ranks: Floats) -> float:
    """Probability of ranks (n,) from 0 to KEPT at least as uneven, if they were uniform (chi-square)."""
    seen = np.histogram(ranks, bins=BINS, range=(0, KEPT + 1))[0]
    expected = len(ranks) / BINS
    return float(chi2.sf(((seen - expected) ** 2 / expected).sum(), BINS - 1))


def summary(rows: list[dict[str, float]], built: list[dict[str, float]]) -> dict[str, object]:
    """What the cases say."""
    n = len(rows)

    def mean(name: str, of: list[dict[str, float]] = rows) -> float:
        return round(float(np.mean([r[name] for r in of])), 4)

    counts = np.array([r["counts"] for r in rows])
    return {
        "cases": n,
        "chance of ranks as uneven": {k: round(uniform(np.array([r[k] for r in rows])), 4) for k in RANKED},
        "90 % bands that hold": mean("held"),
        "what 99 of 100 such checks would find": [float(q) / n for q in binom.ppf([0.005, 0.995], n, 0.9)],
        "next what-if in its 90 % band": mean("next_held"),
        "taken for contradictions": mean("alarm"),
        "share of draws that count, median and least": [round(float(np.median(counts)), 3), round(counts.min(), 3)],
        "CPU s a case": mean("seconds"),
        "built anew": {
            "cases": len(built), "90 % bands that hold": mean("held", built),
            "taken for contradictions": mean("alarm", built),
            "error of the straight lines [N m], RMS": round(
                float(np.sqrt(np.mean([r["line_error"] ** 2 for r in built]))), 2
            ),
        },
    }  # fmt: skip


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    words.add_argument("cases", nargs="?", type=int, default=CASES)
    words.add_argument("--anew", type=int, default=ANEW_CASES)
    words.add_argument("--write", action="store_true")
    words.add_argument("--workers", type=int, default=1)
    asked = words.parse_args()
    started = time.perf_counter()
    found = designs()
    print(f"{len(found)} designs ready after {time.perf_counter() - started:.0f} s", flush=True)
    with ProcessPoolExecutor(asked.workers, initializer=_begin, initargs=(found,)) as pool:
        rows = _told(pool.map(_case, range(asked.cases), chunksize=10), "cases", started)
        built = _told(pool.map(_anew, range(asked.anew)), "built anew", started)
    print(json.dumps(summary(rows, built), indent=2))
    for design, told in zip(found, _by_design(found, rows), strict=True):
        carriers = [design.model.drawn[AS_TOLD].unknown.variates[i].name for i in design.ranked]
        print(f"{design.name:<26}{told}  ranked: {', '.join(carriers)}")
    powers = [p for design in found for p in power(design)]
    for p in powers:
        print(f"{p['design']:<26}{p['place']:<8}{p['kg']:>5} kg  {p['found']:.2f}")
    if asked.write:
        _write(rows, built, powers, found)
    print(f"{time.perf_counter() - started:.0f} s")


def _told(results: Iterable[dict[str, float]], what: str, started: float) -> list[dict[str, float]]:
    rows = []
    for row in results:
        rows.append(row)
        if len(rows) % 100 == 0:
            print(f"{len(rows)} {what}, {time.perf_counter() - started:.0f} s", file=sys.stderr, flush=True)
    return rows


def _by_design(found: tuple[Design, ...], rows: list[dict[str, float]]) -> Iterator[str]:
    for k, design in enumerate(found):
        own = rows[k :: len(found)]
        before = np.diff(np.quantile(design.expected.moment, BAND))[0]
        held, following, after = (np.mean([r[key] for r in own]) for key in ("held", "next_held", "width"))
        yield f"held {held:.2f}, next {following:.2f}, band {before:.1f} -> {after:.1f} N m"


def _write(
    rows: list[dict[str, float]], built: list[dict[str, float]], powers: list[dict[str, object]],
    found: tuple[Design, ...],
) -> None:  # fmt: skip
    STORED.mkdir(exist_ok=True)
    names = [d.name for d in found]
    columns = [*RANKED, "held", "next_held", "alarm"]
    cases = [[i, names[i % len(names)], *(int(r[k]) for k in columns)] for i, r in enumerate(rows)]
    _table("calibration_cases.csv", ["case", "design", *columns], cases)
    again = [
        [i, names[i % len(names)], f"{r['below']:.4f}", int(r["held"]), int(r["alarm"]), f"{r['line_error']:.3f}"]
        for i, r in enumerate(built)
    ]
    _table("calibration_anew.csv", ["case", "design", "below", "held", "alarm", "line_error[N m]"], again)
    _table("calibration_power.csv", ["design", "place", "kg", "found"], [list(p.values()) for p in powers])


def _table(name: str, head: list[str], rows: list[list[object]]) -> None:
    with (STORED / name).open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(head)
        table.writerows(rows)


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    main()
