"""Which few changes together leave the diver weighted right and near balance, at the start and at the end.

Moments of small changes nearly add up, since each moves a few kilograms or litres, and so does the lead that the last
stop asks for; what is found by adding is worked out in full before it is told. Where a set leaves too little lead, or
too much, putting that right is one change more, in the place that trims best. Too little comes behind everything: who
is too light cannot hold the stop. Too much costs gas, and is weighed against the moment that it may hold down.
"""

from __future__ import annotations

import itertools
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Final

from sim.answers.change.ballasting import SECOND, Ballasting, Correction
from sim.answers.change.candidate import AT_HAND, Candidate, Kind
from sim.answers.change.lead import ADDED
from sim.answers.change.occasions import Met, Outcome
from sim.answers.weigh.lead_places import STEP
from sim.rig import STANDARD_GRAVITY

MOST: Final = 3  # changes at a time: more nobody can tell apart in the water
SMALLEST: Final = 0.3  # N m, below which a change is not worth its while (assumed)
WORTH: Final = 1.0  # N m that each change has to bring where balance is not reached (assumed)
PER_CHANGE: Final = 1e-3  # m^3 that the wing has to hold more, which count as much as one more change (assumed)
HEAVY: Final = 2.0e-3  # m^3 that the wing may have to hold more: 2 kg too much (assumed)
OUT_OF_REACH: Final = 100.0  # rank of what does not reach balance, behind all that does
TOO_LIGHT: Final = 1000.0  # rank of what leaves the diver without enough lead for the last stop, behind all else
PER_SPARE: Final = 0.5 * STANDARD_GRAVITY  # N m that a kilogram too much counts as: half a metre off (assumed)
LIGHT: Final = 0.25  # kg of lead that may be missing: half of the lightest block
SPARE: Final = 1.5  # kg of lead beyond what is asked for, which is less than weigh's own band (assumed)
LITRE: Final = 1e-3  # m^3 of water, about a kilogram


@dataclass(frozen=True)
class Tried:
    """One change worked out.

    fails, mends : what of the fit no longer passes, or passes now
    unbalanced : whether the diver then floats or sinks more than before, which no wing makes up for
    """

    what: Candidate
    met: Met
    fails: tuple[str, ...] = ()
    mends: tuple[str, ...] = ()
    unbalanced: bool = False

    @property
    def then(self) -> Outcome:
        """At the start."""
        return self.met.start


@dataclass(frozen=True)
class Step:
    """One change of a set; ``turns`` : what it adds to the moment on each occasion, by itself [N m]."""

    what: Candidate
    turns: tuple[float, ...]


@dataclass(frozen=True)
class Chosen:
    """Changes to be made together, and what they should come to as ``rank`` has it.

    correction : of the lead, None where it is right without, or left as it is
    """

    tried: tuple[Tried, ...]
    correction: Correction | None = None
    promised: float = 0.0

    def steps(self, now: Met) -> tuple[Step, ...]:
        """Weighting first, then what trims; an entry of lead behind another new one comes after it."""
        trims = [Step(t.what, t.met.less(now)) for t in self.tried]
        if (lead := self.correction) is None:
            return tuple(trims)
        put_right = Step(lead.candidate, lead.turns)
        if SECOND in lead.knobs:
            return (*trims, put_right)
        return (put_right, *(Step(_renumbered(one.what, lead), one.turns) for one in trims))


def _renumbered(what: Candidate, after: Correction) -> Candidate:
    """The change with the entry of lead that it adds in its place behind those that are left."""
    if after.gone == 0 or ADDED not in what.knobs:
        return what
    first = f"lead.{after.entries}."
    then = f"lead.{after.entries - after.gone}."
    return replace(
        what, settings=tuple(then + s.removeprefix(first) if s.startswith(first) else s for s in what.settings)
    )


def rightly_weighted(surplus: float) -> bool:
    """Whether lead [kg] beyond what the last stop asks for, below 0 missing, can be left as it is."""
    return -LIGHT <= surplus <= SPARE


def missing(now: Met) -> float:
    """What the wing will hold more once the lead that is missing is worn [m^3]; nothing where none is."""
    return LITRE * -now.surplus if now.surplus < -LIGHT else 0.0


def rank(worst: float, surplus: float, count: int, more: float, within: float) -> float:
    """What a set is worth, the less the better: enough lead before too little, balance before none, then the fewest.

    worst : the largest moment on any occasion [N m];  surplus : lead beyond what is asked for [kg]
    more : gas that the wing has to hold besides [m^3], which counts as more changes: it has to be borne ashore, too
    within : up to which a moment is balance [N m]
    """
    light = 0.0 if surplus >= -LIGHT else TOO_LIGHT - surplus
    cost = count + round(max(more, 0.0) / PER_CHANGE)
    if worst <= within and surplus <= SPARE:
        return light + cost
    return light + OUT_OF_REACH + max(worst, within) + PER_SPARE * max(surplus - SPARE, 0.0) + WORTH * cost


def together(
    now: Met, tried: Sequence[Tried], ballasting: Ballasting, within: float, kinds: Sequence[Kind] = AT_HAND
) -> list[Chosen]:
    """Sets of changes by what they should come to, the best first, that of none among them.

    Fewest that end within ``within`` [N m] on every occasion, nearest to nothing among as many, then all others. Gas
    that the wing has to hold beyond now, and beyond what missing lead asks for, counts as more changes, and more than
    HEAVY of it rules a set out.
    kinds : of changes that are put together, if they are advised and break nothing
    """
    usable = [t for t in tried if t.what.kind in kinds and _usable(now, t)]
    turned = [t.met.less(now) for t in usable]
    held = [t.then.wing_gas - now.start.wing_gas for t in usable]
    spare = [t.met.surplus - now.surplus for t in usable]
    asked = missing(now)
    corrections = cache(ballasting.corrections)
    found: list[tuple[tuple[float, float], tuple[int, ...], Correction | None]] = []
    for picked in _sets([t.what.knobs for t in usable]):
        then = [sum(column) for column in zip(now.moments, *(turned[i] for i in picked), strict=True)]
        surplus = now.surplus + sum(spare[i] for i in picked)
        gas = sum(held[i] for i in picked) - asked
        ways: Sequence[Correction] = ()
        if not rightly_weighted(surplus):
            taken = {knob for i in picked for knob in usable[i].what.knobs}
            ways = [c for c in corrections(STEP * round(-surplus / STEP)) if _goes(c, taken)]
        for way in (None, *ways):
            count = len(picked) + (way is not None)
            add = 0.0 if way is None else way.more
            more = gas + LITRE * add
            if count > MOST or more > HEAVY:
                continue
            turns = then if way is None else [a + b for a, b in zip(then, way.turns, strict=True)]
            worst = max(map(abs, turns))
            found.append(((rank(worst, surplus + add, count, more, within), worst), picked, way))
    found.sort(key=lambda one: one[0])
    return [Chosen(tuple(usable[i] for i in picked), way, promised[0]) for promised, picked, way in found]


def _goes(correction: Correction, taken: Container[str]) -> bool:
    """Whether it goes together with changes of these knobs."""
    behind = SECOND in correction.knobs
    return not any(knob in taken for knob in correction.knobs) and (not behind or ADDED in taken)


def _sets(knobs: Sequence[frozenset[str]]) -> Iterator[tuple[int, ...]]:
    """Every set of up to MOST that share no knob, that of none first."""
    apart = [[not (a & b) for b in knobs] for a in knobs]
    for count in range(MOST + 1):
        for picked in itertools.combinations(range(len(knobs)), count):
            if all(apart[a][b] for a, b in itertools.combinations(picked, 2)):
                yield picked


def _usable(now: Met, tried: Tried) -> bool:
    moves = max(map(abs, tried.met.less(now))) >= SMALLEST
    return moves and tried.what.advised and not tried.fails and not tried.unbalanced
