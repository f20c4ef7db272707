"""For whom a plate passes: the demands on its height, held against people drawn from the survey."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from itertools import repeat
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.demands import (
    BUTTOCKS,
    LOOK_AHEAD,
    PLATE_BOTTOM,
    PLATE_TOP,
    PLATE_WIDTH,
    REACH,
    SHOULDER_STRAPS,
    WAIST_STRAP,
    Dress,
    HungRig,
    Wearer,
    buttocks_at,
    drawn_body,
    look_ahead_at,
    margins,
    reach_at,
    shifted,
    wearing,
    within_reach,
)
from sim.answers.fit.drops import DropBand, feasible_drops
from sim.answers.fit.limits import BANDS_AT_ENDS
from sim.answers.fit.waist import waist_room
from sim.assembly.placement import Placement
from sim.assembly.seat import seated
from sim.person.measures import Sex
from sim.person.population import Drawn, drawn_people
from sim.telling.share_band import share_band as share_band

Reason = Literal[
    "shoulder straps", "plate width", "plate length", "look-ahead", "reach", "cylinder bottoms", "several",
    "never together", "waist strap",
]  # fmt: skip
# The demands behind each reason but the last three
DEMANDS: Final[Mapping[Reason, tuple[str, ...]]] = {
    "shoulder straps": (SHOULDER_STRAPS,),
    "plate width": (PLATE_WIDTH,),
    "plate length": (PLATE_TOP, PLATE_BOTTOM),
    "look-ahead": (LOOK_AHEAD,),
    "reach": (REACH,),
    "cylinder bottoms": (BUTTOCKS,),
}
BY_BANDS: Final = (LOOK_AHEAD, REACH, BUTTOCKS)  # demands that the place of the bands decides, too
SEXES: Final[tuple[Sex, ...]] = ("female", "male")
BATCH: Final = 16  # people worked out at a time by one process
SHIFTS: Final = tuple(np.linspace(*BANDS_AT_ENDS, 11).tolist())  # m, of the cylinders, tried where a plate fails
NEXT_TO: Final = 0.001  # m between heights, nearer than which one says enough of the other
LEAST_ROOM: Final = 0.005  # m either way that is tried also where ribs and hip bones all but meet


@dataclass(frozen=True)
class PlateOnPerson:
    """One plate on one person.

    band : heights at which every demand is met, as drops below the natural waist; None where there are none
    reason : then what fails: the demand that no height meets, "several" of them, or "never together"
    failing : all that no height meets, by the same names
    bands : how far the cylinders are moved headward [m] by setting the bands for this person, so that it passes; 0
        where it does as banded, None where no bands will do
    as_worn : whether every demand is met with the strap right at the natural waist
    look_ahead, reach, shoulder_straps : margins there, [rad], [m] (NaN without valves), [m]
    """

    band: DropBand | None
    reason: Reason | None
    failing: tuple[Reason, ...]
    bands: float | None
    as_worn: bool
    look_ahead: float
    reach: float
    shoulder_straps: float


@dataclass(frozen=True, eq=False)
class PersonFit:
    """One person and every plate, in the order of the rigs."""

    who: Drawn
    plates: tuple[PlateOnPerson, ...]


@dataclass(frozen=True, eq=False)
class People:
    """A population: names of the plates, the people drawn, and how many drawn bodies could not be built."""

    plates: tuple[str, ...]
    people: tuple[PersonFit, ...]
    unbuilt: int

    def of(self, sex: Sex) -> tuple[PersonFit, ...]:
        """Those of one sex."""
        return tuple(p for p in self.people if p.who.sex == sex)


Batch = list[PersonFit | None]


def population(number: int) -> tuple[Drawn, ...]:
    """``number`` women and as many men."""
    return tuple(p for sex in SEXES for p in drawn_people(sex, number))


def fitted_people(
    rigs: Sequence[HungRig], dress: Dress, drawn: Sequence[Drawn], pool: Executor | None = None
) -> Iterator[Batch]:
    """Answers in batches, in the order of ``drawn``; None for a body that cannot be built.

    The pool changes nothing.
    """
    batches = [drawn[i : i + BATCH] for i in range(0, len(drawn), BATCH)]
    run = map if pool is None else pool.map
    yield from run(_batch, repeat(tuple(rigs), len(batches)), repeat(dress, len(batches)), batches)


def gathered(rigs: Sequence[HungRig], batches: Iterable[Batch]) -> People:
    """All batches as one population."""
    found = [person for batch in batches for person in batch]
    people = tuple(p for p in found if p is not None)
    return People(tuple(r.name for r in rigs), people, len(found) - len(people))


def _batch(rigs: Sequence[HungRig], dress: Dress, drawn: Sequence[Drawn]) -> Batch:
    return [person_fit(rigs, dress, who) for who in drawn]


def person_fit(rigs: Sequence[HungRig], dress: Dress, who: Drawn) -> PersonFit | None:
    """Every plate on one person; None where the body cannot be built."""
    try:
        body = drawn_body(who, dress.pose)
    except ValueError:
        return None
    made = wearing(body, dress)
    return PersonFit(who, tuple(banded(rig, made) for rig in rigs))


def banded(rig: HungRig, who: Wearer) -> PlateOnPerson:
    """One plate on one person, hung as high and as low as its strap is on the waist.

    First as banded; where that fails it is looked whether bands set for the person pass.
    """
    drops = _drops(who)
    found = _margins(rig, who, drops)
    told = outcome(drops, found)
    if told.band is not None:
        told = _looked_at_middle(rig, who, drops, found, told.band)
    kept = {name: values for name, values in found.items() if name not in BY_BANDS}
    if told.band is not None or not len(rig.knobs) or not feasible_drops(drops, kept):
        return told
    seats = [seated(rig.plate, who.body, rig.padding, drop) for drop in drops]
    for shift in sorted(SHIFTS, key=lambda s: abs(s - rig.shift)):
        if _passes_banded(shifted(rig, shift - rig.shift), who, drops, seats, kept):
            return replace(told, bands=shift - rig.shift)
    return told


def _looked_at_middle(
    rig: HungRig, who: Wearer, drops: Sequence[float], found: Mapping[str, Floats], band: DropBand
) -> PlateOnPerson:
    """Who passes by straight lines between three heights, held against the middle of the band itself as well."""
    middle = 0.5 * (band.least + band.greatest)
    if min(abs(middle - d) for d in drops) < NEXT_TO:
        return outcome(drops, found)
    there = margins(rig, who, [middle])
    place = int(np.searchsorted(drops, middle))
    more = [*drops[:place], middle, *drops[place:]]
    return outcome(more, {name: np.insert(values, place, there[name][0]) for name, values in found.items()})


def _passes_banded(
    rig: HungRig, who: Wearer, drops: Sequence[float], seats: Sequence[Placement], kept: Mapping[str, Floats]
) -> bool:
    """Whether some drop meets what the bands decide together with the demands ``kept``, the cheapest first."""
    found = dict(kept)
    for name, margin in ((BUTTOCKS, buttocks_at), (LOOK_AHEAD, look_ahead_at), (REACH, reach_at)):
        if name == REACH and not any(within_reach(rig, who, seat) for seat in seats):
            return False  # how far short of it hands stay takes long to tell
        found[name] = np.array([margin(rig, who, seat) for seat in seats])
        if not feasible_drops(drops, found):
            return False
    return True


def _drops(who: Wearer) -> list[float]:
    """Drops [m] with the strap as high, midway and as low as it is on the waist."""
    heights = who.body.person.skeleton.heights
    room = max(waist_room(heights["iliac crest"], heights["tenth rib"]), LEAST_ROOM)
    return [-room, 0.0, room]


def _margins(rig: HungRig, who: Wearer, drops: Sequence[float]) -> dict[str, Floats]:
    found = margins(rig, who, drops)
    # there the strap's own margin is nought but for rounding and the plate's tilt
    found[WAIST_STRAP] = found[WAIST_STRAP] + 0.01 * drops[-1]
    return found


def outcome(drops: Sequence[float], found: Mapping[str, Floats]) -> PlateOnPerson:
    """What margins (n,) at rising drops [m], the natural waist (0) among them, say."""
    waist = int(np.abs(drops).argmin())
    bands = feasible_drops(drops, found)
    reach = found.get(REACH, np.full(len(drops), np.nan))
    failing = () if bands else _failing(drops, found)
    return PlateOnPerson(
        band=max(bands, key=lambda b: b.greatest - b.least, default=None),
        reason=None if bands else _reason(drops, found, failing),
        failing=failing,
        bands=0.0 if bands else None,
        as_worn=all(m[waist] >= 0.0 for m in found.values()),
        look_ahead=float(found[LOOK_AHEAD][waist]),
        reach=float(reach[waist]),
        shoulder_straps=float(found[SHOULDER_STRAPS][waist]),
    )


def _failing(drops: Sequence[float], found: Mapping[str, Floats]) -> tuple[Reason, ...]:
    """What fails with the strap on the waist, wherever it is there."""
    strap = {WAIST_STRAP: found[WAIST_STRAP]}

    def met(names: tuple[str, ...]) -> bool:
        return bool(feasible_drops(drops, strap | {n: found[n] for n in names if n in found}))

    return tuple(reason for reason, names in DEMANDS.items() if not met(names))


def _reason(drops: Sequence[float], found: Mapping[str, Floats], failing: tuple[Reason, ...]) -> Reason:
    if not feasible_drops(drops, {WAIST_STRAP: found[WAIST_STRAP]}):
        return "waist strap"
    if len(failing) > 1:
        return "several"
    return failing[0] if failing else "never together"


def reasons(people: Sequence[PersonFit], plate: int) -> Counter[Reason | None]:
    """How many pass (None) and how many fail for each reason."""
    return Counter(p.plates[plate].reason for p in people)


def with_bands_set(people: Sequence[PersonFit], plate: int) -> int:
    """How many pass only once the bands are set for them."""
    return sum(bool(p.plates[plate].bands) for p in people)
