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
import csv
import json
import os
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid
from scenarios.demos import demo_path
from scenarios.known import Effect
from scenarios.loose_gear import Lead
from scenarios.models import Scenario
from scenarios.told import told_otherwise, told_value
from sim.answers.calibrate.drawn_rigs import drawn_from
from sim.answers.posture.drift import WATCHED
from sim.answers.seen import causes as c
from sim.answers.seen.answer import SAMPLES
from sim.answers.seen.answer import SEED as OWN_SEED
from sim.answers.seen.behaviour import (
    OWN,
    PARTS,
    Divers,
    Part,
    Played,
    drawn_divers,
    misstated,
    play,
    play_all,
    possible,
    seen_as,
    tested,
)
from sim.answers.seen.causes import CAUSES, CauseName
from sim.answers.seen.diver import SeenDiver, seen_diver
from sim.answers.seen.ranking import LEAST, best_test, fins_fit, fit_of, ranked, told_wrong
from sim.answers.seen.typed import CHECKS, DRIFTS, Doing, Fins, Outcome, Sight, TestName
from sim.assembly.learnt import with_effects
from sim.assembly.scenario_rig import assembled_scenario
from sim.batch.flat import flat_answers
from sim.case import Case
from sim.rig import Part as Item
from sim.rig import Rig, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.belief import effects_at, values_at

STORED = Path(__file__).parents[1] / "sim" / "answers" / "evidence" / "stored"
DEMOS = ("tall-man-steel", "small-woman-steel", "loose-legs")
CASES, ANEW, SEED = 300, 60, 27_182
TIMES = 4  # that a diver is seen: once, and after three tests
BRUTE, AT_ONCE = 1 << 15, 1 << 12  # divers of each part, and rigs worked out at once
COLUMNS = (
    "case", "demo", "cause", "doing", "attitude[deg]", "fins",
    "first", "p_first", "p_true", "best_first", "best_p_true",
    "test", "first_after", "p_first_after", "p_true_after", "best_first_after", "best_p_true_after",
    "first_after_3", "best_first_after_3",
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class Bench:
    """One demo's diver, and as many divers for brute force, with everything that may be seen of them."""

    demo: str
    case: Case
    diver: SeenDiver
    divers: Divers

    @cached_property
    def played(self) -> Mapping[Part, Played]:
        """Of brute force."""
        return play_all(self.diver, self.divers)

    @cached_property
    def own(self) -> Mapping[Part, Played]:
        """As ``seen`` draws them."""
        return play_all(self.diver, drawn_divers(self.diver, SAMPLES[0], TIMES, OWN_SEED))

    def bayes(self, sight: Sight, outcomes: list[Outcome]) -> dict[CauseName, float]:
        """Probabilities of the causes, all divers counted, by the model as ``causes`` states it."""
        found = dict.fromkeys(CAUSES, 0.0)
        for part, (cause, share) in PARTS.items():
            view = seen_as(self.diver, self.played[part], 0, sight.doing, 0)
            fit = np.exp(-0.5 * ((view.pitch - sight.attitude) / c.READ_SD) ** 2)
            fit = LEAST * 1e-3 + fit * fins_fit(view.fins, str(sight.fins))
            for number, outcome in enumerate(outcomes):
                came = tested(self.diver, self.played[part], outcome.test, sight, 1 + number)
                fit = fit * (LEAST + (1.0 - LEAST) * fit_of(outcome, came))
            found[cause] += share * float((fit * self.played[part].able).mean())
        whole = sum(found.values())
        return {cause: p / whole for cause, p in found.items()}


def bench_of(demo: str) -> Bench:
    """A demo, its drawn rigs worked out in full."""
    told = Case.read(demo_path(demo))
    diver = seen_diver(told, [Sight(0.0, "still")])
    return Bench(demo, told, diver, exact_divers(diver, BRUTE, SEED))


def exact_divers(diver: SeenDiver, samples: int, seed: int) -> Divers:
    """As ``drawn_divers``, by chance alone, and each moment by the statics of its own rig."""
    z, even = unknowns(diver, samples, seed)
    ready = drawn_from(diver.unknown)
    parts = [
        flat_answers(ready.rigs(part), threads=1).pitch_moment for part in np.array_split(z, -(-samples // AT_ONCE))
    ]
    return Divers(np.concatenate(parts)[:, None], z @ diver.moments.height, even[:, :OWN], even[:, OWN:])


def unknowns(diver: SeenDiver, samples: int, seed: int) -> tuple[Floats, Floats]:
    """Unknowns (samples, d), and numbers between 0 and 1 (samples, OWN + TIMES) of each diver, by chance alone."""
    d = len(diver.unknown.variates)
    even = np.random.default_rng(seed).random((samples, d + OWN + TIMES))
    return diver.unknowns(even[:, :d]), even[:, d:]


def truths(bench: Bench, count: int, rng: np.random.Generator) -> Iterator[tuple[Part, Divers, Floats]]:
    """Divers of known cause from what is believed before: of those drawn, the ones in whom the cause can be; with
    their unknowns (d,) in units of each spread."""
    names, shares = list(PARTS), np.array([share for _, share in PARTS.values()])
    seed = int(rng.integers(1 << 30))
    drawn, z = exact_divers(bench.diver, 64 * count, seed), unknowns(bench.diver, 64 * count, seed)[0]
    at, given = 0, 0
    while given < count:
        part = names[int(rng.choice(len(names), p=shares / shares.sum()))]
        one = Divers(*(values[at : at + 1] for values in (drawn.moment, drawn.raised, drawn.own, drawn.when)))
        at += 1
        if play(bench.diver, one, part).able[0]:
            given += 1
            yield part, one, z[at - 1]


def built(bench: Bench, truth: Played, z: Floats) -> Played:
    """The same diver, body, suit, gear and cause put together in full: its moment off every straight line.

    z : (d,) the unknowns in units of each spread.
    """
    diver, d, variates = bench.diver, truth.divers, bench.diver.unknown.variates
    told, effects = bench.case.scenario(""), effects_at(variates, z)
    for key, value in values_at(variates, z).items():
        told = told_otherwise(told, key, value)
    if truth.part == "rig high":
        higher = float(truth.raised[0] - d.raised[0])
        told = told_otherwise(told, "harness.drop", told_value(told, "harness.drop") - higher)
    if truth.part == "lead or gas":
        told, moved = with_other_lead_and_gas(diver, d, told)
        effects = (*effects, *moved)
    rig = with_effects(assembled_scenario(told, "", (), bench.case.people.of(told)).rig, effects)
    if truth.part in ("feet", "shoulders"):
        rig = with_gas(rig, bench, truth)
    moment = np.array([[flat_answer(soft_rig(rig)).pitch_moment]])
    return replace(truth, moment=moment, kept={})


def with_other_lead_and_gas(diver: SeenDiver, d: Divers, told: Scenario) -> tuple[Scenario, tuple[Effect, ...]]:
    """A scenario whose lead and cylinders are not as told, and how far its lead sits elsewhere."""
    lead, moved, pressure = (float(v[0]) for v in misstated(diver, d))
    if told.cylinders is not None:
        now = told.cylinders.model_copy(update={"pressure": told.cylinders.fill + pressure})
        told = told.model_copy(update={"cylinders": now})
    if not told.lead:
        belt = Lead.model_validate({"mass": f"{max(lead, 0.05):.9f} kg", "place": "belt"})
        return told.model_copy(update={"lead": (belt,)}), ()
    share = 1.0 + lead / diver.levers.lead
    names = "; ".join(one.name or f"lead, {one.place}" for one in told.lead)
    other = tuple(one.model_copy(update={"mass": max(share * one.mass, 1e-3)}) for one in told.lead)
    elsewhere = moved / max(share, 1e-3)
    return told.model_copy(update={"lead": other}), (Effect(what="moved", of=names, amount=elsewhere),)


def with_gas(rig: Rig, bench: Bench, truth: Played) -> Rig:
    """A rig with a lump of gas at the feet or at the shoulders."""
    body = bench.case.wearer
    assert body is not None  # of a scenario
    joint = "ankle" if truth.part == "feet" else "shoulder"
    at = np.mean([body.body.joints[f"{side} {joint}"] for side in ("left", "right")], axis=0)
    shut = c.PAST_GAITERS if bench.diver.gaiters[0] and truth.part == "feet" else 1.0
    gas = shut * float(truth.gas[0])
    density = 0.0 if rig.suit is None else rig.suit.gas_density
    lump = Item("gas", "other", Solid(gas * density, at, np.zeros((3, 3)), gas, at))
    return rig_of([*rig.parts, lump], rig.water, suit=rig.suit, wing=rig.wing)


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


def summary(rows: list[dict[str, object]]) -> dict[str, object]:
    def rate(first: str, where: list[dict[str, object]] = rows) -> float:
        return round(100.0 * float(np.mean([r[first] == r["cause"] for r in where])), 1) if where else float("nan")

    keys = ("first", "best_first", "first_after", "best_first_after", "first_after_3", "best_first_after_3")
    told: dict[str, object] = {"true cause first, %": {key: rate(key) for key in keys}}
    for name in CAUSES:
        mine = [r for r in rows if r["cause"] == name]
        told[f"{name} ({len(mine)})"] = {key: rate(key, mine) for key in keys}
    told["by demo"] = {
        demo: {key: rate(key, [r for r in rows if r["demo"] == demo]) for key in keys} for demo in DEMOS
    }
    told["tests"] = {t: sum(r["test"] == t for r in rows) for t in sorted({str(r["test"]) for r in rows})}
    for key in ("all", "all_after"):
        told[f"reliability, {key}"] = [
            f"{low:.1f}..{low + 0.1:.1f}: said {said:.2f}, true {true:.2f} of {n}"
            for low, said, true, n in reliability(rows, key)
        ]
    return told


def of_built(whole: list[dict[str, object]]) -> dict[str, object]:
    """What came of divers whose moment is that of no straight line."""
    if not whole:
        return {}
    off = np.array([float(str(r["off"])) for r in whole])
    told: dict[str, object] = {
        "divers": len(whole),
        "moment off the lines, RMS [N m]": round(float(np.sqrt((off**2).mean())), 2),
    }
    for key in ("first", "best_first"):
        told[f"true cause {key}, %"] = round(100.0 * float(np.mean([r[key] == r["cause"] for r in whole])), 1)
    for key in ("p_true", "best_p_true"):
        told[f"{key}, mean"] = round(float(np.mean([float(str(r[key])) for r in whole])), 3)
    return told


def reliability(rows: list[dict[str, object]], key: str) -> list[tuple[float, float, float, int]]:
    """Lower edge, mean probability said, share that was true, and how many, in tenths; every cause of every case."""
    pairs = [(p, r["cause"] == name) for r in rows for name, p in r[key].items()]  # type: ignore[attr-defined]
    said, true = np.array([p for p, _ in pairs]), np.array([t for _, t in pairs])
    tenth = np.minimum((10.0 * said).astype(int), 9)
    return [
        (0.1 * k, float(said[tenth == k].mean()), float(true[tenth == k].mean()), int((tenth == k).sum()))
        for k in range(10)
        if (tenth == k).any()
    ]


def write(rows: list[dict[str, object]]) -> None:
    names = [f"{when}{name}" for when in ("p ", "after ") for name in CAUSES]
    with (STORED / "seen_cases.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow([*COLUMNS, *names])
        for r in rows:
            every = [f"{r[key][name]:.4f}" for key in ("all", "all_after") for name in CAUSES]  # type: ignore[index]
            table.writerow([*(r[k] for k in COLUMNS), *every])


def draw(rows: list[dict[str, object]], path: Path) -> None:
    """Reliability: what was said against how often it was true."""
    from sim.drawing.chart_sheet import finished, sheet
    from sim.drawing.palette import HEAD_UP, INK

    figure, panels = sheet(
        2,
        2,
        (4.2, 4.2),
        "Are the probabilities of seen true?",
        f"{len(rows)} simulated divers of known cause, six probabilities each, in tenths",
        "Bars: 90 % by chance alone.",
    )
    for axes, key, title in zip(panels, ("all", "all_after"), ("one sight", "after the test proposed"), strict=True):
        axes.plot([0, 1], [0, 1], color=INK, linewidth=1.0)
        for _, said, true, n in reliability(rows, key):
            half = 1.645 * np.sqrt(max(said * (1.0 - said), 1e-4) / n)
            axes.plot([said, said], [said - half, said + half], color=INK, linewidth=2.5, alpha=0.35)
            axes.plot(said, true, "o", color=HEAD_UP, markersize=4.0 + np.sqrt(n) / 8.0)
        axes.set_xlim(-0.03, 1.03)
        axes.set_ylim(-0.03, 1.03)
        axes.set_title(title, fontsize=11)
        axes.set_xlabel("probability said")
        axes.set_ylabel("share that was true")
    finished(figure, path)


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    main()
