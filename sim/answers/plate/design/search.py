"""The search: some plates in full, then by turns the best by a guess, these in full, a better guess."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.plate.design.brief import Brief
from sim.answers.plate.design.guess import Guess, guess_from
from sim.answers.plate.design.trial import Built, Trial, built, failing, keeps_limits, trials
from sim.case import Case

FIRST: Final = 28  # plates in full before the first guess
ROUNDS: Final = 3  # of guessing the best and working these out
PARTS: Final = 3  # of each weight: ten mixes of the three objectives
PULLED_BACK: Final = (1.0, 0.75, 0.5, 0.35, 0.2, 0.1)  # of the way to a place that makes no plate within the limits
MIXED: Final = 0.05  # of the sum beside the worst objective: of two alike in that the better in all is taken
BROKEN: Final = 100.0  # what a limit broken by one of its units costs, in spans of an objective
SEED: Final = 1
Make = Callable[[Mapping[str, float]], Built | None]  # of the dimensions searched
Worked = Callable[[Sequence[Built], int], list[Trial]]  # plates of which round


@dataclass(frozen=True, eq=False)
class Searched:
    """What was found.

    start : the plate that it began with;  every : all plates worked out in full, the start the first
    front : those within the limits of which no other is better in mass, share and moment at once
    chosen : of these; None where nothing keeps the limits
    off : of each objective, RMS of what was guessed of the plates of the last round against what came out
    """

    start: Trial
    every: tuple[Trial, ...]
    front: tuple[Trial, ...]
    chosen: Trial | None
    off: Floats


def searched(
    brief: Brief, case: Case, work: Worked | None = None, *, first: int = FIRST, rounds: int = ROUNDS
) -> Searched:
    """Search. Raises ScenarioError for a start that cannot be worn, ValueError for one that cannot be built.

    work : works plates out in full, shows how far it is;  first, rounds : how much is worked out
    """
    worked = work or (lambda plates, _: trials(brief, case, plates))
    make = _each_once(brief)
    start = make({name: brief.dimensions.now[name] for name in brief.names})
    if start is None:
        raise ValueError("the plate cannot be built from its own dimensions")
    every = worked([start, *_spread(brief, make, start, first)], 0)
    off = np.full(3, np.nan)
    for number in range(1, rounds + 1):
        if len(every) < len(brief.names) + 2:
            break
        guess = guess_from(brief, every, start)
        told = _best_by(guess, make, every, seed=SEED + number)
        if not told:
            break
        found = worked(told, number)
        guessed, _ = guess.scores(np.array([brief.places(t.built.values) for t in found]))
        off = np.sqrt(np.mean((guessed - [t.objectives for t in found]) ** 2, axis=0))
        every += found
    within = [t for t in every if keeps_limits(brief, t.built, start)]
    front = tuple(_front(within))
    return Searched(every[0], tuple(every), front, chosen_of(front), off)


def chosen_of(front: Sequence[Trial]) -> Trial | None:
    """The one that suits most; of those that suit as many, the one that turns the diver least."""
    return min(front, key=lambda t: (-round(t.share, 9), round(t.moment, 3), t.built.mass), default=None)


def _each_once(brief: Brief) -> Make:
    """Makes plates and remembers them, with the stress found in them: a search comes to many of them again."""
    made: dict[tuple[float, ...], Built | None] = {}

    def make(values: Mapping[str, float]) -> Built | None:
        key = tuple(values[name] for name in brief.names)
        if key not in made:
            made[key] = built(brief, values)
        return made[key]

    return make


def _spread(brief: Brief, make: Make, start: Built, number: int) -> list[Built]:
    """Plates that can be made, evenly spread over the directions that lead away from the start.

    Mass and stress are no matter yet: the start may break their limits, and all that lies near it.
    """
    from scipy.stats import qmc

    points = qmc.Sobol(len(brief.names), seed=SEED).random(1 << int(np.ceil(np.log2(2 * number))))
    found, known = [], {_key(start)}
    for place in points:
        one = _towards(brief, make, start, place, lambda b: failing(b, start) <= 0.0)
        if one is not None and _key(one) not in known:
            known.add(_key(one))
            found.append(one)
        if len(found) == number:
            break
    return found


def _towards(
    brief: Brief, make: Make, known: Built, place: Floats, will_do: Callable[[Built], bool]
) -> Built | None:  # fmt: skip
    """A plate that will do at a place (d,), or part of the way there from a known one; None where none will."""
    origin = brief.places(known.values)
    for part in PULLED_BACK:
        one = make(brief.values(origin + part * (place - origin)))
        if one is not None and will_do(one):
            return one
    return None


def _key(one: Built) -> tuple[float, ...]:
    return tuple(one.values.values())


def _best_by(guess: Guess, make: Make, every: Sequence[Trial], seed: int) -> list[Built]:
    """New plates that the guess thinks best, one for each mix of the objectives."""
    brief, start = guess.brief, guess.start
    known, found = {_key(t.built) for t in every}, []
    # where no plate yet keeps all limits, whatever can be made leads on
    will_do, within = _keeps(brief, start), [t for t in every if keeps_limits(brief, t.built, start)]
    if not within:
        will_do, within = (lambda b: failing(b, start) <= 0.0), list(every)
    told = np.array([t.objectives for t in every])
    scale = told.min(axis=0), np.ptp(told, axis=0) + 1e-9
    for weights in _weights():
        place = _optimum(guess, weights, scale, seed)
        best = min(within, key=lambda t: float(_mixed(t.objectives, weights, scale)))
        one = _towards(brief, make, best.built, place, will_do)
        if one is not None and _key(one) not in known:
            known.add(_key(one))
            found.append(one)
    return found


def _keeps(brief: Brief, start: Built) -> Callable[[Built], bool]:
    return lambda one: keeps_limits(brief, one, start)


def _weights() -> Iterator[Floats]:
    """Mixes of three objectives, evenly over all."""
    for mix in product(range(PARTS + 1), repeat=3):
        if sum(mix) == PARTS:
            yield np.array(mix, dtype=float) / PARTS


def _mixed(objectives: Floats, weights: Floats, scale: tuple[Floats, Floats]) -> Floats:
    """One number (...) of objectives (..., 3): Chebyshev's mix, the worst of them, reaches fronts of any shape.

    Miettinen 1999, Nonlinear Multiobjective Optimization, 3.4.3, from memory. scale : least and span of each
    """
    scaled = (objectives - scale[0]) / scale[1]
    return np.asarray((weights * scaled).max(axis=-1) + MIXED * scaled.sum(axis=-1))


def _optimum(guess: Guess, weights: Floats, scale: tuple[Floats, Floats], seed: int) -> Floats:
    """The place (d,) that the guess thinks best for a mix, by scipy's differential evolution.

    Tried on one guess over five dimensions, the sum of the ten mixes at what was found, less being better: this -0.18
    in 0.4 s; NSGA-II of pymoo with as many trials -0.07 in 1.6 s, with a tenth of them 0.27 in 0.2 s; evolution of
    nevergrad with a quarter of the trials 0.07 in 2.6 s.
    """
    from scipy.optimize import Bounds, differential_evolution

    def cost(places: Floats) -> Floats:
        objectives, over = guess.scores(places.T)
        return _mixed(objectives, weights, scale) + BROKEN * over

    search: Any = differential_evolution  # whose types know no cost of many places at once
    count = len(guess.brief.names)
    found = search(
        cost, Bounds(np.zeros(count), np.ones(count)), popsize=8, maxiter=40, tol=1e-6, seed=seed, polish=False,
        vectorized=True, updating="deferred",
    )  # fmt: skip
    return np.asarray(found.x)


def _front(within: Sequence[Trial]) -> Iterator[Trial]:
    """Those than which no other is as good in every objective and better in one."""
    told = [t.objectives for t in within]
    for i, trial in enumerate(within):
        if not any((o <= told[i]).all() and ((o < told[i]).any() or j < i) for j, o in enumerate(told) if j != i):
            yield trial
