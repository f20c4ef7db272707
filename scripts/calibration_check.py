"""Is what ``hangflat calibrate`` infers true, on divers whose truth is known? A quarter of an hour on one core:

    nice -n 10 .venv/bin/python scripts/calibration_check.py [cases] [--write]

Simulation-based calibration (Talts et al. 2018, arXiv 1804.06788): a truth drawn from what is believed before,
measured with noise, inferred; its rank among the draws afterwards is uniform if the inference is right. Ranked are
the moment, the three unknowns that carry most of it, and the log-likelihood of the data, which an inference that
ignored the data would not pass (Modrak et al. 2023, Bayesian Analysis). Besides: bands that hold, false alarms of
"contradicted", its power to find a mass that the file leaves out, and the next what-if of a calibrated diver.
``--write`` stores what came out beside this script, where evidence and tests read it.
"""

from __future__ import annotations

import argparse
import csv
import json
import os
import sys
import time
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np
from scipy.stats import binom, chi2

from meshes.mesh import Floats
from scenarios.demos import demo_path
from scenarios.known import Owner
from scenarios.models import Scenario
from scenarios.reading import read_scenario
from sim.assembly.scenario_rig import assembled_scenario
from sim.batch.flat import flat_answers
from sim.bench_check.readings import Pool, Reading
from sim.bench_check.situations import AS_TOLD, Situation
from sim.bench_check.spreads import LEAD_SPREAD, MOMENT_SPREAD
from sim.calibration.calibrate import model_of
from sim.calibration.drawn_rigs import Drawn, drawn_from
from sim.calibration.model import Model
from sim.calibration.posterior import posterior, quantiles
from sim.calibration.surprise import PriorPredictive, contradicted, measured, prior_predictive, statistic
from sim.calibration.time_law import time_law
from sim.uncertainty.sampling import of_scores
from sim.uncertainty.shares import share_of
from sim.uncertainty.uncertain_rig import uncertain_scenario
from sim.worker_pool import worker_pool

STORE = Path(__file__).with_name("calibration_check.json")
RANKS = Path(__file__).with_name("calibration_ranks.csv")
CASES, SEED = 1000, 20_180
DRAWS = 512  # of the unknowns in each case
KEPT = 63  # of them, thinned by resampling, among which the truth is ranked: 64 ranks
BINS = 16  # of 4 ranks
BAND = (0.05, 0.95)
RANKED = ("moment", "fit", "unknown 1", "unknown 2", "unknown 3")
DIVERS = {"small-woman-carbon": "plate=standard steel", "single-wetsuit": "plate=small carbon"}
POOL_DEPTH, POOL_PRESSURE = 4.0, 6e6  # m, Pa
MASSES = (0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0)  # kg of lead left out
HIDDEN_AT = {"hips": 0.0, "feet": -0.85}  # m headward of the hips
POWER_CASES = 400
TIME_SD = 0.456  # s, of a mean of five times of 2 s: 0.5 s each, and 20 % of the model's own


@dataclass(frozen=True)
class Design:
    """One diver with what is measured, and the same diver in the next what-if."""

    name: str
    model: Model
    expected: PriorPredictive
    what_if: Drawn
    kept: Floats  # (d,) 1 where the what-if's unknown is the calibrated one
    ranked: tuple[int, ...]  # the three unknowns that carry most of the moment


def designs() -> tuple[Design, ...]:
    """Each diver measured once, twice and in all ways."""
    found = []
    for demo, other in DIVERS.items():
        scenario = read_scenario(demo_path(demo))
        pool = Pool(scenario, {}, {})
        law = time_law(pool.rig(AS_TOLD), head_up=False)
        sets = dict(_sets(scenario))
        with worker_pool(2) as executor:
            model = replace(model_of(pool, sets["all"], executor), threads=1, law=law)
            settings = [other, *(["suit.gaiters=false"] if "suit" in other or demo != "single-wetsuit" else [])]
            what_if, kept = _what_if(demo, settings, model, executor)
        ranked = _carriers(model)
        for name, readings in sets.items():
            one = replace(model, readings=tuple(readings))
            found.append(Design(f"{demo}, {name}", one, prior_predictive(one), what_if, kept, ranked))
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


def _what_if(demo: str, settings: list[str], model: Model, executor: ProcessPoolExecutor) -> tuple[Drawn, Floats]:
    """The diver in other gear; unknowns by name, those that go along with the calibrated diver and suit kept."""
    scenario = read_scenario(demo_path(demo), settings)
    unknown = uncertain_scenario(scenario, assembled_scenario(scenario, "").rig, executor)
    names = [v.name for v in model.drawn[AS_TOLD].unknown.variates]
    assert [v.name for v in unknown.variates] == names, "the what-if has other unknowns"
    kept: tuple[Owner, ...] = ("diver", "suit")
    return drawn_from(unknown), np.array([float(v.owner in kept) for v in unknown.variates])


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
    kept = design.kept
    among = covariance * np.outer(kept, kept) + np.diag(1.0 - kept)
    draws = kept * mean + rng.standard_normal((DRAWS, len(mean))) @ np.linalg.cholesky(among).T
    there = np.where(kept > 0.0, truth, rng.standard_normal(len(truth)))
    rigs = design.what_if.rigs(of_scores(np.concatenate([draws, there[None]]), design.model.shapes))
    moments = flat_answers(rigs, threads=1).pitch_moment
    low, high = np.quantile(moments[:-1], BAND)
    return float(low <= moments[-1] <= high)


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


@cache
def _designs() -> tuple[Design, ...]:
    return designs()


_worker: tuple[Design, ...] = ()


def _begin(found: tuple[Design, ...]) -> None:
    global _worker
    _worker = found


def _case(number: int) -> dict[str, float]:
    return case(_worker[number % len(_worker)], number)


def uniform(ranks: Floats) -> float:
    """Probability of ranks (n,) from 0 to KEPT at least as uneven, if they were uniform (chi-square)."""
    seen = np.histogram(ranks, bins=BINS, range=(0, KEPT + 1))[0]
    expected = len(ranks) / BINS
    return float(chi2.sf(((seen - expected) ** 2 / expected).sum(), BINS - 1))


def summary(rows: list[dict[str, float]], powers: list[dict[str, object]]) -> dict[str, object]:
    """What the cases say, as it is stored."""
    n = len(rows)

    def column(name: str) -> Floats:
        return np.array([r[name] for r in rows])

    return {
        "cases": n,
        "uniform_p": {
            k: round(uniform(column(k)), 4) for k in rows[0] if k in ("moment", "fit") or k[:7] == "unknown"
        },
        "held_of_90": round(float(column("held").mean()), 4),
        "allowed_of_90": [float(q) / n for q in binom.ppf([0.005, 0.995], n, 0.9)],
        "next_held_of_90": round(float(column("next_held").mean()), 4),
        "alarms": round(float(column("alarm").mean()), 4),
        "draws_that_count": round(float(np.median(column("counts"))), 3),
        "fewest_that_count": round(float(column("counts").min()), 3),
        "cpu_seconds_a_case": round(float(column("seconds").mean()), 3),
        "power": powers,
    }


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    words.add_argument("cases", nargs="?", type=int, default=CASES)
    words.add_argument("--write", action="store_true")
    words.add_argument("--workers", type=int, default=1)
    asked = words.parse_args()
    started = time.perf_counter()
    found = _designs()
    print(f"{len(found)} designs ready after {time.perf_counter() - started:.0f} s", flush=True)
    rows: list[dict[str, float]] = []
    with ProcessPoolExecutor(asked.workers, initializer=_begin, initargs=(found,)) as pool:
        for row in pool.map(_case, range(asked.cases), chunksize=5):
            rows.append(row)
            if len(rows) % 50 == 0:
                print(f"{len(rows)} cases, {time.perf_counter() - started:.0f} s", file=sys.stderr, flush=True)
    powers = [p for design in found for p in power(design)]
    told = summary(rows, powers)
    told["by_design"] = _by_design(found, rows)
    told["ranked"] = {d.name: [d.model.drawn[AS_TOLD].unknown.variates[i].name for i in d.ranked] for d in found}
    print(json.dumps({k: v for k, v in told.items() if k != "power"}, indent=2))
    for p in powers:
        print(f"{p['design']:<32}{p['place']:<8}{p['kg']:>5} kg  {p['found']:.2f}")
    if asked.write:
        _write(told, rows, found)


def _by_design(found: tuple[Design, ...], rows: list[dict[str, float]]) -> Mapping[str, object]:
    told = {}
    for k, design in enumerate(found):
        own = rows[k :: len(found)]
        before = np.diff(np.quantile(design.expected.moment, BAND))[0]
        told[design.name] = {
            "cases": len(own), "held": round(float(np.mean([r["held"] for r in own])), 3),
            "next_held": round(float(np.mean([r["next_held"] for r in own])), 3),
            "alarms": round(float(np.mean([r["alarm"] for r in own])), 3),
            "band_before_nm": round(float(before), 1),
            "band_after_nm": round(float(np.mean([r["width"] for r in own])), 1),
        }  # fmt: skip
    return told


def _write(told: Mapping[str, object], rows: list[dict[str, float]], found: tuple[Design, ...]) -> None:
    STORE.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    ranks = [*RANKED, "held", "next_held", "alarm"]
    with RANKS.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["case", "design", *ranks])
        for number, row in enumerate(rows):
            table.writerow([number, found[number % len(found)].name, *(int(row[k]) for k in ranks)])


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    main()
