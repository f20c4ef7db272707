"""Whom plates suit: some people in full, shared between processes, and a fast guess at the rest."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.people_file import ListedPerson
from sim.answers.fit.demands.demand import Demand, Flags
from sim.answers.fit.demands.every import asked_of
from sim.answers.fit.dressed_person import Dress, dress_of
from sim.answers.fit.fitted_people import SEXES
from sim.answers.fit.hung_rig import HungRig, hung_rig
from sim.answers.fit.people_run import MOST_WORKERS, WORTH_A_WORKER, cores
from sim.answers.plate.laid import LaidPlate, worn_plate
from sim.answers.plate.suits.guess import FURTHEST, guessed
from sim.answers.plate.suits.known import BANDS, BATCH, PASSES, Batch, KnownPerson, Who, known_batches, known_person
from sim.answers.plate.suits.shares import Names, Share, shares_of
from sim.answers.plate.suits.ways import outcomes
from sim.person.measures import Sex
from sim.person.population import ManyDrawn, many_drawn
from sim.said import note
from sim.worker_pool import worker_pool

IN_FULL: Final = 250  # people of each sex that are worked out in full, from whom the rest are guessed
TRIED: Final = 2  # people whose time tells how long all will take
SURVEY: Final = note(
    "people drawn from the measures of US soldiers of 17 to 58 years (ANSUR II, 2012), who are fitter, younger and "
    "more alike than many divers"
)
Watched = Callable[[Iterable[Batch], int, float, int], Iterable[Batch]]


@dataclass(frozen=True, eq=False)
class Checked:
    """The guess against people worked out in full, each guessed from others alone.

    passing : share of them of whom it tells rightly whether the plate passes as banded
    right : and of whom it tells rightly how it ends
    off : RMS error of each demand's margin by its name [m] or [rad]
    """

    passing: float
    right: float
    off: Mapping[str, float]


@dataclass(frozen=True, eq=False)
class SuitedPeople:
    """n people and every plate.

    sex, height [m], mass [kg] : (n,);  outcomes : (n,) for each plate: PASSES, BANDS, or the reason why not
    in_full : (n,) who were worked out in full;  shares : by sex and outcome for each plate
    checked : for each plate, None where nobody was guessed;  unbuilt : bodies that cannot be
    names : of real people, in the order of the file
    """

    plates: tuple[str, ...]
    demands: tuple[Demand, ...]
    source: str
    sex: Names
    height: Floats
    mass: Floats
    outcomes: tuple[Names, ...]
    in_full: Flags
    shares: tuple[Mapping[Sex, Mapping[str, Share]], ...]
    checked: tuple[Checked, ...] | None
    unbuilt: int
    names: tuple[str, ...] = ()

    @cached_property
    def build(self) -> Floats:
        """Mass over height squared (n,) [kg/m^2]."""
        return np.asarray(self.mass / self.height**2)

    @property
    def how(self) -> str:
        """How they were worked out, as sentences."""
        full = int(self.in_full.sum())
        if self.checked is None:
            return note("All {full} were worked out in full.", full=full)
        passing, right = (100.0 * min(v) for v in zip(*((c.passing, c.right) for c in self.checked), strict=True))
        return note(
            "{full} of {all} were worked out in full, from whom the others are guessed. Each of those guessed from "
            "the rest of them alone, at least {passing:.0f} % are told rightly whether a plate passes and "
            "{right:.0f} % how it ends; what is told wrongly puts the shares right. In brackets: 90 % bands.",
            full=full,
            all=len(self.sex),
            passing=float(passing),
            right=float(right),
        )


def drawn_suited(plates: Sequence[LaidPlate], number: int, watched: Watched | None = None) -> SuitedPeople:
    """So many women and so many men drawn from the survey, each with every plate."""
    many = [many_drawn(sex, number) for sex in SEXES]
    few = min(number, IN_FULL)
    rigs, dress = rigs_of(plates)
    # women and men by turns, so that every part of them holds as many of both
    at = [(of_sex, i) for i in range(few) for of_sex in many]
    full = in_full(rigs, dress, [of_sex.person(i) for of_sex, i in at], watched)
    demands = asked_of(rigs[0])
    known = [one for one in full if one is not None]
    ends = [np.array([one.plates[i].outcome for one in known], dtype="<U40") for i in range(len(rigs))]
    theirs = ours = [np.zeros(0, dtype="<U40")] * len(rigs)
    checked = None
    rest = [of_sex.part(slice(few, None)) for of_sex in many]
    if number > few:
        targets = np.array([targets_of(one) for one in known])
        built = [_features(of_sex.part(slice(i, i + 1))) for (of_sex, i), one in zip(at, full, strict=True) if one]
        guess, again = guessed(np.concatenate(built), targets, np.concatenate([_features(part) for part in rest]))
        theirs, ours = ([ends_told(demands, g[:, i]) for i in range(len(rigs))] for g in (guess, again))
        checked = tuple(
            Checked(
                float(((o == PASSES) == (end == PASSES)).mean()),
                float((o == end).mean()),
                _off(demands, again[:, i], targets[:, i]),
            )
            for i, (o, end) in enumerate(zip(ours, ends, strict=True))
        )
    sex_known = np.array([one.sex for one in known], dtype="<U6")
    sex_rest = np.concatenate([np.full(len(part), part.sex, dtype="<U6") for part in rest])
    return SuitedPeople(
        plates=tuple(plate.name for plate in plates),
        demands=demands,
        source=note("{number} women and {number} men: {survey}", number=number, survey=SURVEY),
        sex=np.concatenate([sex_known, sex_rest]),
        height=np.concatenate([[one.height for one in known], *(part.height for part in rest)]),
        mass=np.concatenate([[one.mass for one in known], *(part.mass for part in rest)]),
        outcomes=tuple(np.concatenate([end, guess]) for end, guess in zip(ends, theirs, strict=True)),
        in_full=np.arange(len(known) + len(sex_rest)) < len(known),
        shares=tuple(
            {sex: _shares(g[sex_rest == sex], end[sex_known == sex], a[sex_known == sex if len(a) else []])
             for sex in SEXES}
            for g, end, a in zip(theirs, ends, ours, strict=True)
        ),
        checked=checked,
        unbuilt=len(full) - len(known),
    )  # fmt: skip


def listed_suited(
    plates: Sequence[LaidPlate], people: Sequence[ListedPerson], source: str, watched: Watched | None = None
) -> SuitedPeople:
    """Real people, each with every plate, in full. source : who they are, in words"""
    rigs, dress = rigs_of(plates)
    full = in_full(rigs, dress, [one.diver for one in people], watched)
    built = [(one, known) for one, known in zip(people, full, strict=True) if known is not None]
    sexes = np.array([known.sex for _, known in built], dtype="<U6")
    ends = tuple(np.array([k.plates[i].outcome for _, k in built], dtype="<U40") for i in range(len(rigs)))
    none: Names = np.zeros(0, dtype="<U40")
    return SuitedPeople(
        plates=tuple(plate.name for plate in plates),
        demands=asked_of(rigs[0]),
        source=source,
        sex=sexes,
        height=np.array([known.height for _, known in built]),
        mass=np.array([known.mass for _, known in built]),
        outcomes=ends,
        in_full=np.ones(len(built), dtype=bool),
        shares=tuple({sex: _shares(none, end[sexes == sex], none) for sex in SEXES} for end in ends),
        checked=None,
        unbuilt=len(people) - len(built),
        names=tuple(one.name for one, _ in built),
    )


def rigs_of(plates: Sequence[LaidPlate]) -> tuple[list[HungRig], Dress]:
    """Each plate with all that hangs on it, taken off its diver, and how people are dressed."""
    rigs = []
    for plate in plates:
        worn = worn_plate(plate)
        rigs.append(hung_rig(plate.name, worn))
    return rigs, dress_of(worn)


def in_full(
    rigs: Sequence[HungRig], dress: Dress, people: Sequence[Who], watched: Watched | None
) -> list[KnownPerson | None]:
    """Everybody with every plate, shared between processes; None for a body that cannot be built."""
    known_person(rigs, dress, people[0])  # what is made once
    some = people[:: max(len(people) // TRIED, 1)]
    start = time.perf_counter()
    for who in some:
        known_person(rigs, dress, who)
    work = (time.perf_counter() - start) / len(some) * len(people)
    workers = min(cores(), MOST_WORKERS) if work > WORTH_A_WORKER else 1
    with worker_pool(workers) as pool:
        batches: Iterable[Batch] = known_batches(rigs, dress, people, pool)
        if watched is not None:
            batches = watched(batches, -(-len(people) // BATCH), work / workers, workers)
        return [known for batch in batches for known in batch]


def targets_of(known: KnownPerson) -> Floats:
    """What is guessed of one person (plates, 3 d + 1): every margin, and plus or minus one for passing by bands."""
    return np.array(
        [[*fit.margins.ravel().tolist(), 1.0 if fit.outcome in (PASSES, BANDS) else -1.0] for fit in known.plates]
    )


def ends_told(demands: Sequence[Demand], values: Floats) -> Names:
    """How each of n people ends by what was guessed of them (n, 3 d + 1) with one plate."""
    return outcomes(demands, values[:, :-1].reshape(len(values), len(demands), -1), values[:, -1])


def _off(demands: Sequence[Demand], ours: Floats, targets: Floats) -> Mapping[str, float]:
    """RMS error of each demand's margins (k, 3 d + 1), as far from 0 as is looked at."""
    gap = np.clip(targets, -FURTHEST, FURTHEST) - ours
    square = (gap[:, :-1].reshape(len(gap), len(demands), -1) ** 2).mean(axis=(0, 2))
    return {demand.name: float(np.sqrt(s)) for demand, s in zip(demands, square, strict=True)}


def _features(many: ManyDrawn) -> Floats:
    """What people are guessed by (n, f)."""
    male = np.full(len(many), float(many.sex == "male"))
    return np.column_stack([male, many.height, many.mass, many.mass / many.height**2, many.measures])


def _shares(guess: Names, known: Names, guess_of_known: Names) -> Mapping[str, Share]:
    told = sorted({PASSES, BANDS, *guess.tolist(), *known.tolist(), *guess_of_known.tolist()})
    return shares_of(told, guess, known, guess_of_known)
