"""Is every believable person built, and does every answer follow every measure without a jump? Prints three tables:

    .venv/bin/python scripts/every_person.py [people drawn] [people walked] [sets contradicting] [seed]

People are drawn from the measures model, half of them women, and their measures read off a tape in whole millimetres
and in whole centimetres; each must be built, and sound. Every measure of some of them is then walked over its 5 to
95 % range, the others held, and height, mass and age with everything else estimated: wherever a margin of fit does
not go straight, the step is halved again and again, and what does not shrink with it is a jump. Last, measures at
random that contradict one another: built or refused by name, never anything else. Exit code 1 on a fault. Half an
hour on one core for 20 000, 2 and 20 000.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np

from meshes.body.grid import Grid
from meshes.body.side import trunk_heights
from meshes.solid import volume_integrals
from scenarios.demos import demo_path
from sim.answers.fit.dressed_person import Dress, dress_of, dressed_person
from sim.answers.fit.hung import hung_at
from sim.answers.fit.hung_rig import HungRig, hung_rig
from sim.answers.fit.plate_on_person import margins
from sim.case import Case
from sim.person.measures import CIVILIAN, Sex, estimated_measures
from sim.person.person import FINENESS, Person, person_of
from sim.person.population import SIZES, Drawn, drawn_names, drawn_people

SEXES: tuple[Sex, ...] = ("female", "male")
TAPES = {"millimetres": 0.001, "centimetres": 0.01}
FACTOR = (0.85, 1.15)  # measures are rounded one by one, stature and mass with them
WITHIN = 1.645  # SD, 5 to 95 %
STEPS = 8  # of a walk
HALVINGS = 12  # of a step where need be: 3 micrometres of most measures are left of it
NOTHING = 5e-5  # m or rad that nobody sees
TRIED = {"reach": 0.003}  # m, within which a margin is found by trying positions (``sim.answers.fit.arm_reach``)
SET_SIZES = (1, 2, 2, 3, 3, 5, 8, 15, 30, 67)
SET_SPREADS = (2.0, 4.0, 6.0, 8.0)  # SD up to which measures are drawn, evenly


def soundness(person: Person) -> str:
    """ "sound", or what is wrong with a body."""
    if not (np.diff(trunk_heights(person.skeleton, Grid(FINENESS)), axis=0) > 0.0).all():
        return "rows of the trunk in disorder"
    if not min(volume_integrals(m).volume for m in person.meshes.values()) > 0.0:
        return "a segment inside out"
    return "sound" if FACTOR[0] < person.volume_factor < FACTOR[1] else "volume scaled by more than 15 %"


def off_tape(who: Drawn, step: float) -> Drawn:
    """Somebody measured in whole steps [m]; mass in steps of 0.1 kg."""
    measures = {name: step * round(value / step) for name, value in who.measures.items()}
    return Drawn(who.sex, step * round(who.height / step), round(who.mass, 1), measures)


def built(people: list[Drawn], step: float) -> Counter[str]:
    """How people measured in whole steps [m] end: sound, or in which words."""
    ends: Counter[str] = Counter()
    for who in people:
        read = off_tape(who, step)
        try:
            ends[soundness(person_of(read.sex, read.height, read.mass, measures=read.measures))] += 1
        except ValueError as error:
            ends[f"refused: {error}"] += 1
    return ends


@dataclass(frozen=True)
class Jump:
    """A move of a margin [m or rad] across the least step of a measure [m, kg, yr]."""

    walked: str
    margin: str
    at: float
    step: float
    move: float


Answers = Callable[[float], dict[str, float]]


def walked(name: str, answers: Answers, low: float, high: float) -> Iterator[Jump]:
    """Jumps of any answer between two values of what is walked.

    Wherever the middle of a step lies off the straight line between its ends by more than nobody sees, the step is
    halved: what is smooth is then four times as straight, what has a corner twice, and only a jump stays.
    """
    known: dict[float, dict[str, float]] = {}

    def at(value: float) -> dict[str, float]:
        if value not in known:
            known[value] = answers(value)
        return known[value]

    todo = [(a, b, HALVINGS) for a, b in pairwise(np.linspace(low, high, STEPS + 1).tolist())]
    while todo:
        a, b, left = todo.pop()
        half = 0.5 * (a + b)
        first, middle, last = at(a), at(half), at(b)
        off = {n: abs(first[n] - 2.0 * middle[n] + last[n]) for n in middle}
        rough = [n for n in off if not off[n] <= TRIED.get(n, NOTHING)]
        if rough and left:
            todo += [(a, half, left - 1), (half, b, left - 1)]
        elif rough:
            yield from (Jump(name, n, a, b - a, off[n]) for n in rough)


@cache
def fit() -> tuple[HungRig, Dress]:
    """The rig and the dress of a demo with every demand."""
    worn = Case.read(demo_path("tall-man-steel")).assembled.worn
    return hung_rig("steel", worn), dress_of(worn)


def margins_of(person: Person) -> dict[str, float]:
    """Every margin [m, rad] of the demo's rig at the natural waist of a person."""
    rig, dress = fit()
    found = margins(hung_at(rig, dressed_person(person, dress), [0.0]))
    return {name: float(values[0]) for name, values in found.items()}


def walks(who: Drawn) -> Iterator[tuple[str, list[Jump]]]:
    """Every measure of somebody walked over its 5 to 95 % range, the others held, with the jumps that were found."""
    spread = estimated_measures(who.sex, who.height, who.mass)
    for name in drawn_names():

        def answers(value: float, name: str = name) -> dict[str, float]:
            return margins_of(person_of(who.sex, who.height, who.mass, measures=who.measures | {name: value}))

        middle, reach = spread.values()[name], WITHIN * spread.standard_deviation(name)
        yield name, list(walked(name, answers, middle - reach, middle + reach))


def walks_of_size(sex: Sex) -> Iterator[tuple[str, list[Jump]]]:
    """Height, mass and age walked, all measures estimated."""
    size = SIZES[sex]
    reach, factor = WITHIN * size.stature_sd, float(np.exp(WITHIN * size.log_mass_sd))
    ways: dict[str, tuple[Callable[[float], Person], float, float]] = {
        "height": (lambda h: person_of(sex, h, size.mass), size.stature - reach, size.stature + reach),
        "mass": (lambda m: person_of(sex, size.stature, m), size.mass / factor, size.mass * factor),
        "age": (lambda a: person_of(sex, size.stature, size.mass, age=a), 18.0, 59.0),
    }
    for name, (person, low, high) in ways.items():
        yield name, list(walked(name, lambda value, person=person: margins_of(person(value)), low, high))


def contradicting(number: int, seed: int) -> Counter[str]:
    """How sets of measures drawn without regard for one another end."""
    rng = np.random.default_rng(seed)
    ends: Counter[str] = Counter()
    for i in range(number):
        sex = SEXES[i % 2]
        height = rng.uniform(1.42, 2.05)
        mass = rng.uniform(16.0, 42.0) * height**2
        names = rng.choice(drawn_names(), rng.choice(SET_SIZES), replace=False).tolist()
        expected = estimated_measures(sex, height, mass, widened=CIVILIAN)
        spread = rng.choice(SET_SPREADS)
        off = rng.uniform(-spread, spread, len(names)) * [expected.standard_deviation(n) for n in names]
        given = {n: expected.values()[n] + d for n, d in zip(names, off.tolist(), strict=True)}
        ends[end_of_set(sex, height, mass, given)] += 1
        shown(f"sets of measures {i + 1}")
    return ends


def end_of_set(sex: Sex, height: float, mass: float, given: dict[str, float]) -> str:
    """How one set of measures [m] ends."""
    try:
        person = person_of(sex, height, mass, measures=given)
    except ValueError as error:
        named = any(f"'{name}'" in str(error) for name in given) and "believable" in str(error)
        return "refused by name" if named else f"refused: {error}"
    except Exception as error:  # whatever it is, it is what is looked for
        return f"crashed: {type(error).__name__} {error} with {given}"
    doubted = any("hardly belong" in note for note in person.notes)
    state = soundness(person)
    if state == "sound":
        return "built, with a doubt" if doubted else "built"
    return f"{state}, with a doubt" if doubted else f"{state}, without a word: {height} m, {mass} kg, {given}"


def shown(words: str) -> None:
    """One line on a terminal that says how far it is."""
    if sys.stderr.isatty():
        print(f"\r{words:<70}", end="", file=sys.stderr, flush=True)


def main(words: list[str]) -> int:
    people, walkers, sets, seed = (int(w) for w in (*words, *("20000", "2", "20000", "1")[len(words) :]))
    faults = 0
    for tape, step in TAPES.items():
        ends: Counter[str] = Counter()
        for sex in SEXES:
            drawn = drawn_people(sex, people // 2, seed)
            for first in range(0, len(drawn), 100):
                ends += built(list(drawn[first : first + 100]), step)
                shown(f"{tape}, {sex}: {first + 100} people")
        faults += _printed(f"{people} people read off in whole {tape}", ends, {"sound"})
    jumps, number = [], 0
    for sex in SEXES:
        for who in drawn_people(sex, max(walkers, 1), seed)[:walkers]:
            for name, found in walks(who):
                jumps, number = jumps + found, number + 1
                shown(f"walks, {sex}: {name}")
        for name, found in walks_of_size(sex):
            jumps, number = jumps + found, number + 1
            shown(f"walks, {sex}: {name}")
    print(f"\n{number} walks of single measures: {len(jumps)} jumps")
    for jump in sorted(jumps, key=lambda j: -j.move):
        print(f"  {jump.move:.2e} of {jump.margin} across {jump.step:.1e} of {jump.walked} at {jump.at:.6f}")
    fine = {"built", "built, with a doubt", "refused by name", "volume scaled by more than 15 %, with a doubt"}
    faults += _printed(f"{sets} sets of contradicting measures", contradicting(sets, seed), fine)
    return int(faults + len(jumps) > 0)


def _printed(title: str, ends: Counter[str], fine: set[str]) -> int:
    """Print a table of ends; how many were faults."""
    print(f"\n{title}")
    for end, count in ends.most_common(40):
        print(f"  {count:>7}  {end}")
    return sum(count for end, count in ends.items() if end not in fine)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
