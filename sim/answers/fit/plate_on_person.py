"""Whether a plate passes on one person: the demands at the heights that keep the strap on the waist."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from meshes.mesh import Floats, Ints
from sim.answers.fit.demands.demand import Demand, Flags, Reason
from sim.answers.fit.demands.every import DEMANDS, REASONS, asked_of
from sim.answers.fit.demands.looks_ahead import LOOKS_AHEAD
from sim.answers.fit.demands.shoulder_straps import SHOULDER_STRAPS
from sim.answers.fit.demands.together import NEVER_TOGETHER, SEVERAL
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.demands.waist_strap import WAIST_STRAP
from sim.answers.fit.dressed_person import DressedPerson
from sim.answers.fit.drops import DropBand, feasible_drops
from sim.answers.fit.hung import Hung, each_moved, hung_at
from sim.answers.fit.hung_rig import HungRig
from sim.answers.fit.limits import BANDS_AT_ENDS
from sim.answers.fit.waist import waist_room

SHIFTS: Final = tuple(np.linspace(*BANDS_AT_ENDS, 11).tolist())  # m, of the cylinders, tried where a plate fails
NEXT_TO: Final = 0.001  # m between heights, nearer than which one says enough of the other
LEAST_ROOM: Final = 0.005  # m either way that is tried also where ribs and hip bones all but meet
AT_A_TIME: Final = 3  # places of the bands at which it is looked together whether hands reach: the first may do


@dataclass(frozen=True)
class PlateOnPerson:
    """One plate on one person.

    band : heights at which every demand is met, as drops below the natural waist; None where there are none
    reason : then the name of what fails: the demand that no height meets, several of them, or never together
    failing : all that no height meets, by the same names
    bands : how far the cylinders are moved headward [m] by setting the bands for this person, so that it passes; 0
        where it does as banded, None where no bands will do
    as_worn : whether every demand is met with the strap right at the natural waist
    look_ahead, reach, shoulder_straps : margins there, [rad], [m] (NaN without valves), [m]
    """

    band: DropBand | None
    reason: str | None
    failing: tuple[str, ...]
    bands: float | None
    as_worn: bool
    look_ahead: float
    reach: float
    shoulder_straps: float


@dataclass(frozen=True, eq=False)
class OnWaist:
    """A rig as banded on one person, hung as high, midway and as low as its strap is on the waist.

    drops : (3,) below the natural waist [m];  margins : (3,) of each demand there
    """

    hung: Hung
    drops: tuple[float, ...]
    margins: Mapping[str, Floats]


def on_waist(rig: HungRig, who: DressedPerson) -> OnWaist:
    """The rig on the person, at the heights that keep the strap on the waist."""
    drops = _drops(who)
    hung = hung_at(rig, who, drops)
    found = margins(hung)
    # there the strap's own margin is nought but for rounding and the plate's tilt
    found[WAIST_STRAP.name] = found[WAIST_STRAP.name] + 0.01 * drops[-1]
    return OnWaist(hung, tuple(drops), found)


def banded(rig: HungRig, who: DressedPerson) -> PlateOnPerson:
    """One plate on one person: see ``passed``."""
    return passed(on_waist(rig, who))


def passed(on: OnWaist) -> PlateOnPerson:
    """Whether a plate passes: as banded; where that fails it is looked whether bands set for the person pass."""
    hung, drops, found = on.hung, on.drops, on.margins
    rig, who = hung.rig, hung.who
    told = outcome(drops, found)
    if told.band is not None:
        return _looked_at_middle(rig, who, drops, found, told.band)
    by_bands = [demand for demand in asked_of(rig) if demand.by_bands]
    kept = feasible_drops(drops, {n: m for n, m in found.items() if n not in {d.name for d in by_bands}})
    if not len(rig.knobs) or not kept:
        return told
    moved = sorted((shift - rig.shift for shift in SHIFTS), key=abs)
    first = _first_that_passes(hung, drops, moved, by_bands, kept)
    return told if first is None else replace(told, bands=moved[first])


def margins(hung: Hung) -> dict[str, Floats]:
    """Margin (n,) of each demand in each way, 0 or more where it is met; of what there is."""
    return {demand.name: demand.margins(hung) for demand in asked_of(hung.rig)}


def _looked_at_middle(
    rig: HungRig, who: DressedPerson, drops: Sequence[float], found: Mapping[str, Floats], band: DropBand
) -> PlateOnPerson:
    """Who passes by straight lines between three heights, held against the middle of the band itself as well."""
    middle = 0.5 * (band.least + band.greatest)
    if min(abs(middle - d) for d in drops) < NEXT_TO:
        return outcome(drops, found)
    there = margins(hung_at(rig, who, [middle]))
    place = int(np.searchsorted(drops, middle))
    more = [*drops[:place], middle, *drops[place:]]
    return outcome(more, {name: np.insert(values, place, there[name][0]) for name, values in found.items()})


def _first_that_passes(
    hung: Hung, drops: Sequence[float], moved: Sequence[float], by_bands: Sequence[Demand], kept: Sequence[DropBand]
) -> int | None:
    """The first of the moves [m] of what hangs on the plate with which some drop meets what the bands decide.

    kept : bands of drops that all other demands allow. The cheapest demand rules out what it can first.
    """
    count, (*quick, last) = len(drops), sorted(by_bands, key=lambda demand: demand.cost)
    ways = each_moved(hung, moved)
    # between which neighbouring drops something may be left: each demand has to be met at one of these at least
    left = np.array([[any(b.least <= high and b.greatest >= low for b in kept) for low, high in pairwise(drops)]])
    left = np.repeat(left, len(moved), axis=0)
    met = {demand: np.zeros((len(moved), count), dtype=bool) for demand in by_bands}
    for demand in quick:
        _look_on(demand, ways, np.flatnonzero(left.any(axis=1)), met, left)
    moves = np.flatnonzero(left.any(axis=1))
    for some in np.array_split(moves, range(AT_A_TIME, len(moves), AT_A_TIME)):
        _look_on(last, ways, some, met, left)
        for move in some[left[some].any(axis=1)].tolist():
            every = np.all([met[demand][move] for demand in by_bands], axis=0)
            if any(b.least <= drop <= b.greatest for drop in np.array(drops)[every] for b in kept):
                return int(move)
            one = ways.some(_rows(np.array([move]), count))
            mixed = {demand.name: demand.margins(one) for demand in by_bands if not met[demand][move].all()}
            if feasible_drops(drops, mixed, kept):
                return int(move)
    return None


def _look_on(demand: Demand, ways: Hung, moves: Ints, met: dict[Demand, Flags], left: Flags) -> None:
    """Write into ``met`` at which drops moves meet a demand, and into ``left`` what that leaves of them."""
    if len(moves):
        flags = demand.met(ways.some(_rows(moves, met[demand].shape[1]))).reshape(len(moves), -1)
        met[demand][moves] = flags
        left[moves] &= flags[:, :-1] | flags[:, 1:]


def _rows(moves: Ints, count: int) -> Ints:
    """Which ways of ``each_moved`` have these moves (m,), ``count`` seats each."""
    return (moves[:, None] * count + np.arange(count)).ravel()


def _drops(who: DressedPerson) -> list[float]:
    """Drops [m] with the strap as high, midway and as low as it is on the waist."""
    heights = who.person.skeleton.heights
    room = max(waist_room(heights["iliac crest"], heights["tenth rib"]), LEAST_ROOM)
    return [-room, 0.0, room]


def outcome(drops: Sequence[float], found: Mapping[str, Floats]) -> PlateOnPerson:
    """What margins (n,) at rising drops [m], the natural waist (0) among them, say."""
    waist = int(np.abs(drops).argmin())
    bands = feasible_drops(drops, found)
    reach = found.get(VALVE_REACH.name, np.full(len(drops), np.nan))
    failing = () if bands else _failing(drops, found)
    return PlateOnPerson(
        band=max(bands, key=lambda b: b.greatest - b.least, default=None),
        reason=None if bands else _reason(drops, found, failing),
        failing=failing,
        bands=0.0 if bands else None,
        as_worn=all(m[waist] >= 0.0 for m in found.values()),
        look_ahead=float(found[LOOKS_AHEAD.name][waist]),
        reach=float(reach[waist]),
        shoulder_straps=float(found[SHOULDER_STRAPS.name][waist]),
    )


def _failing(drops: Sequence[float], found: Mapping[str, Floats]) -> tuple[str, ...]:
    """What fails with the strap on the waist, wherever it is there."""
    on_waist = feasible_drops(drops, {WAIST_STRAP.name: found[WAIST_STRAP.name]})

    def met(reason: Reason) -> bool:
        names = [demand.name for demand in DEMANDS if demand.reason == reason and demand.name in found]
        return bool(feasible_drops(drops, {n: found[n] for n in names}, on_waist))

    return tuple(reason.name for reason in REASONS if reason != WAIST_STRAP.reason and not met(reason))


def _reason(drops: Sequence[float], found: Mapping[str, Floats], failing: tuple[str, ...]) -> str:
    if not feasible_drops(drops, {WAIST_STRAP.name: found[WAIST_STRAP.name]}):
        return WAIST_STRAP.reason.name
    if len(failing) > 1:
        return SEVERAL.name
    return failing[0] if failing else NEVER_TOGETHER.name
