"""What the program knows of the diver who is seen: moments as sure as they are, and how far each cause moves them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import radians
from typing import Final

import numpy as np
from scipy.special import ndtri

from meshes.mesh import Floats
from scenarios.by_key import with_values
from scenarios.models import Scenario
from scenarios.quantities import SI
from scenarios.suit import DrySuit
from sim.answers.fit.look_ahead import OUT_OF_FACE, look_ahead
from sim.answers.fit.sight import upward_sight
from sim.answers.posture.posture import Posture, posture_of
from sim.answers.posture.runaway import Turning, turning_of
from sim.answers.seen.levers import RAISED, Levers, levers_of, raised
from sim.answers.seen.typed import Sight
from sim.case import Case
from sim.rig import Rig
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.sampling import EDGE, SEED, in_spreads
from sim.uncertainty.uncertain_rig import uncertain_situations
from sim.uncertainty.variates import UncertainRig

WORKED: Final = 256  # drawn rigs whose moment is worked out; between them the moment is straight
DROP: Final = "harness.drop"  # which an unknown height of the plate changes


@dataclass(frozen=True, eq=False)
class HeadRoom:
    """How far the head lifts [rad]: as far as the neck lets it, and until it meets gear.

    gear : as told;  gear_per_raise : what a metre of height takes off it, 0 or less;  eyes : how far up they look
    """

    neck: float
    gear: float
    gear_per_raise: float
    eyes: float

    def missing(self, raised: Floats, neck: Floats, eyes: Floats) -> Floats:
        """By how much the eyes of a flat diver fall short of seeing ahead [rad], 0 or more, the rig ``raised`` [m].

        neck, eyes : of this person, more or less than others [rad]
        """
        lift = np.minimum(self.neck + neck, np.maximum(self.gear + self.gear_per_raise * raised, 0.0))
        return np.asarray(np.maximum(-(OUT_OF_FACE + lift + self.eyes + eyes), 0.0))


@dataclass(frozen=True, eq=False)
class Moments:
    """Moment flat in s situations, straight in the d unknowns, with what is not straight of it.

    middle : (s,);  slopes : (d, s);  rest : (w, s) of the rigs worked out;  height : (d,) of the plate, up [m]
    """

    middle: Floats
    slopes: Floats
    rest: Floats
    height: Floats

    def at(self, z: Floats, which: Floats) -> tuple[Floats, Floats]:
        """Moments (n, s) [N m] at unknowns ``z`` (n, d) and how high the rig hangs (n,) [m]; which : (n,) of rest."""
        return self.middle + z @ self.slopes + self.rest[which.astype(int)], z @ self.height


@dataclass(frozen=True, eq=False)
class SeenDiver:
    """Everything of the diver that ``behaviour`` plays with; the first situation is that of the first sight.

    fins : (2,) headward and backward of the hips [m];  gaiters : (s,) whether they are on;  dry : a drysuit is worn
    rig : whether a rig hangs on a plate
    """

    unknown: UncertainRig
    moments: Moments
    turning: Turning
    posture: Posture
    head: HeadRoom | None
    levers: Levers
    fins: tuple[float, float] | None
    gaiters: tuple[bool, ...]
    dry: bool
    rig: bool

    def unknowns(self, even: Floats) -> Floats:
        """Unknowns (n, d) as they are believed, from numbers (n, d) spread evenly between 0 and 1."""
        return unknowns_from(self.unknown, even)


def seen_diver(case: Case, sights: Sequence[Sight]) -> SeenDiver:
    """Of a scenario's diver as in each sight. Raises ScenarioError, UnvariedError for what cannot be varied."""
    scenario = case.scenario("a parts file has no body and no gear to ask after: give a scenario file")
    cases = [case.vary(settings_of(s)) for s in sights]
    first = cases[0]
    rigs: dict[Callable[[Scenario], Scenario], Rig] = {
        _situation(s): c.rig for s, c in zip(sights, cases, strict=True)
    }
    unknowns = uncertain_situations(scenario, rigs)
    rig = first.rig
    flat = flat_answer(soft_rig(rig))
    suit = scenario.suit
    worn = tuple(
        isinstance(c.scenario("").suit, DrySuit) and bool(getattr(c.scenario("").suit, "gaiters", False))
        for c in cases
    )
    return SeenDiver(
        unknown=unknowns[0],
        moments=moments_of(unknowns),
        turning=turning_of(rig, flat),
        posture=posture_of(first),
        head=head_room_of(first),
        levers=levers_of(first, rig, flat),
        fins=_fins(rig),
        gaiters=worn,
        dry=isinstance(suit, DrySuit),
        rig=first.worn is not None and scenario.harness is not None,
    )


def evenly(samples: int, columns: int, seed: int) -> Floats:
    """Numbers (samples, columns) between 0 and 1, one in each n-th of every column (a Latin hypercube: McKay, Beckman
    and Conover 1979). A Sobol' sequence is a little more even, and takes half a second to import."""
    rng = np.random.default_rng(seed)
    strata = rng.permuted(np.tile(np.arange(samples), (columns, 1)), axis=1).T
    return np.asarray((strata + rng.random((samples, columns))) / samples)


def unknowns_from(unknown: UncertainRig, even: Floats) -> Floats:
    """Values (n, d) in units of each spread, from numbers (n, d) spread evenly between 0 and 1."""
    points = np.clip(even, EDGE, 1.0 - EDGE)
    shapes, scores = [v.shape for v in unknown.variates], ndtri(points)
    return in_spreads(points, scores, shapes) if unknown.belief is None else unknown.belief.values(scores, shapes)


def settings_of(sight: Sight) -> dict[str, SI | bool]:
    """What-ifs that put a scenario into a sight, by key."""
    return {k: v if isinstance(v, bool) else SI(v) for k, v in _values_of(sight).items()}


def _values_of(sight: Sight) -> dict[str, float | bool]:
    told = {"cylinders.pressure": sight.pressure, "water.depth": sight.depth, "suit.gaiters": sight.gaiters}
    return {key: value for key, value in told.items() if value is not None}


def _situation(sight: Sight) -> Callable[[Scenario], Scenario]:
    def situation(scenario: Scenario) -> Scenario:
        worn = {k: v for k, v in _values_of(sight).items() if getattr(scenario, k.partition(".")[0]) is not None}
        return with_values(scenario, worn)

    return situation


def moments_of(unknowns: Sequence[UncertainRig]) -> Moments:
    """Of one diver's rig in each situation, from WORKED of them drawn."""
    z = unknowns_from(unknowns[0], evenly(WORKED, len(unknowns[0].variates), SEED))
    found = np.array([[flat_answer(soft_rig(u.drawn(row))).pitch_moment for u in unknowns] for row in z])
    columns = np.column_stack([np.ones(len(z)), z])
    lines = np.linalg.lstsq(columns, found, rcond=None)[0]
    height = np.array([-v.said[DROP].per_spread if DROP in v.said else 0.0 for v in unknowns[0].variates])
    return Moments(lines[0], lines[1:], found - columns @ lines, height)


def head_room_of(case: Case) -> HeadRoom | None:
    """None where nothing is worn behind the head."""
    if case.worn is None:
        return None
    here = look_ahead(case.worn, case.rig)
    up = raised(case)
    gear = min(here.gear, radians(170.0))
    per_raise = 0.0
    if up is not None and up.worn is not None:
        per_raise = min((min(look_ahead(up.worn, up.rig).gear, radians(170.0)) - gear) / RAISED, 0.0)
    return HeadRoom(here.free, gear, per_raise, upward_sight(case.worn.body.person.age).looked_at)


def _fins(rig: Rig) -> tuple[float, float] | None:
    """Where the fins are from the hips [m], headward and backward; None without fins."""
    parts = [p.solid for p in rig.parts if p.kind == "fins"]
    if not parts:
        return None
    at = sum((s.mass * s.cm for s in parts), np.zeros(3)) / sum(s.mass for s in parts)
    return float(at[0]), float(at[2])
