"""Divers of known cause for ``seen_check.py``, and the best ranking that there can be of what is seen of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from meshes.mesh import Floats
from scenarios.demos import demo_path
from sim.answers.calibrate.drawn_rigs import drawn_from
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
    play,
    play_all,
    seen_as,
    tested,
)
from sim.answers.seen.causes import CAUSES, CauseName
from sim.answers.seen.diver import SeenDiver, seen_diver
from sim.answers.seen.ranking import LEAST, fins_fit, fit_of
from sim.answers.seen.typed import Outcome, Sight
from sim.batch.flat import flat_answers
from sim.case import Case

DEMOS = ("tall-man-steel", "small-woman-steel", "loose-legs")
SEED = 27_182
TIMES = 4  # that a diver is seen: once, and after three tests
BRUTE, AT_ONCE = 1 << 15, 1 << 12  # divers of each part, and rigs worked out at once


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
