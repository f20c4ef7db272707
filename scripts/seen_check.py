"""Does ``hangflat seen`` rank causes as well as can be, and are its probabilities true? A few minutes on one core:

    nice -n 10 .venv/bin/python scripts/seen_check.py [cases] [--write] [--chart FILE.png]

Divers of known cause are drawn from what is believed before (the file's unknowns, and the causes' model), seen with
noise, and ranked. The best possible ranking of the same observations is Bayes by brute force: a quarter of a million
divers, each with its moment worked out by the full statics, where ``seen`` takes eight thousand of each cause and
straight lines. Both are ranked again after the test that ``seen`` proposes, whose outcome is drawn from the diver's
truth, and after two more.
Besides, divers whose body, suit, gear and cause are put together in full, off the straight lines.
``--write`` stores every case in sim/answers/evidence/stored, where evidence and tests read it.
"""

from __future__ import annotations

import argparse
import json
import os
import time
from pathlib import Path

import numpy as np
from seen_check_bench import DEMOS, SEED, Bench, bench_of, truths
from seen_check_built import built
from seen_check_told import draw, of_built, summary, write

from meshes.mesh import Floats
from sim.answers.posture.drift import WATCHED
from sim.answers.seen import causes as c
from sim.answers.seen.behaviour import (
    PARTS,
    Divers,
    Part,
    Played,
    play,
    possible,
    seen_as,
    tested,
)
from sim.answers.seen.causes import CAUSES, CauseName
from sim.answers.seen.diver import SeenDiver
from sim.answers.seen.ranking import best_test, fins_fit, ranked, told_wrong
from sim.answers.seen.typed import CHECKS, DRIFTS, Doing, Fins, Outcome, Sight, TestName

CASES, ANEW = 300, 60


def anew(bench: Bench, part: Part, own: Divers, z: Floats, rng: np.random.Generator) -> dict[str, object]:
    """A diver built in full, seen and ranked; and how far the moment is from that of the straight lines."""
    truth = play(bench.diver, own, part)
    whole = built(bench, truth, z)
    sight = observed(bench.diver, whole, rng)
    found, best = ranked(bench.diver, bench.own, [sight], []), bench.bayes(sight, [])
    cause = PARTS[part][0]
    return {
        "cause": cause, "off": float(whole.moment[0, 0] - truth.moment[0, 0]), "first": found.order[0],
        "best_first": max(best, key=lambda k: best[k]), "p_true": found.of_cause(cause), "best_p_true": best[cause],
    }  # fmt: skip


def observed(diver: SeenDiver, truth: Played, rng: np.random.Generator) -> Sight:
    """The diver as an instructor reads it."""
    doing: Doing = "finning" if rng.random() < 0.5 else "still"
    view = seen_as(diver, truth, 0, doing, 0)
    said: tuple[Fins, ...] = ("up", "even", "down")
    chances = np.array([float(fins_fit(view.fins, name)[0]) for name in said])
    fins = said[int(rng.choice(3, p=chances / chances.sum()))]
    return Sight(float(view.pitch[0] + c.READ_SD * rng.standard_normal()), doing, fins)


def outcome_of_truth(
    diver: SeenDiver, truth: Played, test: TestName, sight: Sight, time: int, rng: np.random.Generator
) -> Outcome:
    """What comes of a test, read with its error."""
    came = float(tested(diver, truth, test, sight, time)[0])
    if test in CHECKS:
        return Outcome(test, as_told=(came > 0.5) ^ bool(rng.random() < told_wrong(test)))
    if test not in DRIFTS:
        return Outcome(test, attitude=came + c.READ_SD * float(rng.standard_normal()))
    read = came * float(np.exp(c.TIME_SD * rng.standard_normal()))
    if not abs(read) < WATCHED:
        return Outcome(test, way="stays")
    return Outcome(test, way="head-up" if read > 0.0 else "head-down", time=abs(read))


def case(bench: Bench, number: int, part: Part, own: Divers, rng: np.random.Generator) -> dict[str, object]:
    """One diver seen, ranked, tested, ranked again."""
    diver, cause = bench.diver, PARTS[part][0]
    truth = play(diver, own, part)
    sight = observed(diver, truth, rng)
    found = ranked(diver, bench.own, [sight], [])
    best = bench.bayes(sight, [])
    row: dict[str, object] = {
        "case": number, "demo": bench.demo, "cause": cause, "doing": sight.doing,
        "attitude[deg]": f"{np.degrees(sight.attitude):.1f}", "fins": sight.fins, "first": found.order[0],
        "p_first": f"{found.of_cause(found.order[0]):.4f}", "p_true": f"{found.of_cause(cause):.4f}",
        "best_first": max(best, key=lambda k: best[k]), "best_p_true": f"{best[cause]:.4f}",
        "all": {name: found.of_cause(name) for name in CAUSES},
    }  # fmt: skip
    proposed = best_test(diver, found, possible(diver, sight.doing), sight, 1)
    outcomes = [] if proposed is None else [outcome_of_truth(diver, truth, proposed.test, sight, 1, rng)]
    after = ranked(diver, bench.own, [sight], outcomes)
    best = bench.bayes(sight, outcomes)
    last, best_last = _gone_on(bench, truth, sight, outcomes, rng)
    return row | {
        "first_after_3": last, "best_first_after_3": best_last,
        "test": "none" if proposed is None else proposed.test, "first_after": after.order[0],
        "p_first_after": f"{after.of_cause(after.order[0]):.4f}", "p_true_after": f"{after.of_cause(cause):.4f}",
        "best_first_after": max(best, key=lambda k: best[k]), "best_p_true_after": f"{best[cause]:.4f}",
        "all_after": {name: after.of_cause(name) for name in CAUSES},
    }  # fmt: skip


def _gone_on(
    bench: Bench, truth: Played, sight: Sight, outcomes: list[Outcome], rng: np.random.Generator
) -> tuple[CauseName, CauseName]:
    """First causes, ours and the best possible, after two more of the tests that are proposed."""
    diver, outcomes = bench.diver, list(outcomes)
    for _ in range(2):
        found = ranked(diver, bench.own, [sight], outcomes)
        left = [t for t in possible(diver, sight.doing) if t not in {o.test for o in outcomes}]
        time = 1 + len(outcomes)
        proposed = best_test(diver, found, left, sight, time)
        if proposed is not None:
            outcomes.append(outcome_of_truth(diver, truth, proposed.test, sight, time, rng))
    best = bench.bayes(sight, outcomes)
    return ranked(diver, bench.own, [sight], outcomes).order[0], max(best, key=lambda k: best[k])


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    words.add_argument("cases", nargs="?", type=int, default=CASES)
    words.add_argument("--anew", type=int, default=ANEW)
    words.add_argument("--write", action="store_true")
    words.add_argument("--chart", type=Path)
    asked = words.parse_args()
    started = time.perf_counter()
    rows: list[dict[str, object]] = []
    whole: list[dict[str, object]] = []
    for demo in DEMOS:
        bench, rng = bench_of(demo), np.random.default_rng((SEED, len(demo)))
        for part, own, _ in truths(bench, asked.cases // len(DEMOS), rng):
            rows.append(case(bench, len(rows), part, own, rng))
        again = np.random.default_rng((SEED, 1, len(demo)))
        whole += [anew(bench, *one, again) for one in truths(bench, asked.anew // len(DEMOS), again)]
        print(f"{demo}: {len(rows)} cases, {time.perf_counter() - started:.0f} s", flush=True)
    print(json.dumps(summary(rows) | {"built in full": of_built(whole)}, indent=2))
    if asked.write:
        write(rows)
    if asked.chart:
        draw(rows, asked.chart)
    print(f"{time.perf_counter() - started:.0f} s")


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    main()
