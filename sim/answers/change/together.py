"""Which few changes together bring the trimming moment near nothing.

Moments of small changes nearly add up, since each moves a few kilograms or litres; what is found by adding them is
worked out in full before it is told.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.change.candidate import AT_HAND, Candidate, Kind
from sim.telling.record import Told

MOST: Final = 3  # changes at a time: more nobody can tell apart in the water
SMALLEST: Final = 0.3  # N m, below which a change is not worth its while (assumed)
PER_CHANGE: Final = 1e-3  # m^3 that the wing has to hold more, which count as much as one more change (assumed)
HEAVY: Final = 2.0e-3  # m^3 that the wing may have to hold more: 2 kg too much (assumed)
OUT_OF_REACH: Final = 100.0  # rank of what does not reach balance, behind all that does


@dataclass(frozen=True)
class Outcome:
    """What a rig comes to, held flat."""

    moment: Annotated[float, Told("what turns the diver", "N m", plus="head-up", key="pitch_moment_nm")]
    wing_gas: Annotated[float, Told("gas in the wing", "l")]
    net_buoyancy: Annotated[float, Told("of the whole", "kg", plus="floats")]


@dataclass(frozen=True)
class Tried:
    """One change worked out.

    fails, mends : what of the fit no longer passes, or passes now
    unbalanced : whether the diver then floats or sinks more than before, which no wing makes up for
    """

    what: Candidate
    then: Outcome
    fails: tuple[str, ...] = ()
    mends: tuple[str, ...] = ()
    unbalanced: bool = False


def together(
    now: Outcome, tried: Sequence[Tried], within: float, kinds: Sequence[Kind] = AT_HAND
) -> list[tuple[Tried, ...]]:
    """Sets of changes by what they should come to, the best first.

    Fewest that end within ``within`` [N m], nearest to nothing among as many, then all others, nearest first. Gas
    that the wing has to hold besides counts as more changes, and more than HEAVY of it rules a set out: what is
    heavier has to be borne ashore, too.
    kinds : of changes that are put together, if they are advised and break nothing
    """
    usable = [t for t in tried if t.what.kind in kinds and _usable(now, t)]
    found: list[tuple[tuple[float, float], tuple[Tried, ...]]] = []
    for count in range(1, MOST + 1):
        for chosen in itertools.combinations(usable, count):
            knobs = [k for t in chosen for k in t.what.knobs]
            if len(set(knobs)) < len(knobs):
                continue
            more = sum(t.then.wing_gas - now.wing_gas for t in chosen)
            if more > HEAVY:
                continue
            left = abs(now.moment + sum(t.then.moment - now.moment for t in chosen))
            cost = count + round(max(more, 0.0) / PER_CHANGE)
            found.append(((cost if left <= within else OUT_OF_REACH, left), chosen))
    found.sort(key=lambda pair: pair[0])
    return [chosen for _, chosen in found]


def _usable(now: Outcome, tried: Tried) -> bool:
    moves = abs(tried.then.moment - now.moment) >= SMALLEST
    return moves and tried.what.advised and not tried.fails and not tried.unbalanced
