"""Which few changes together bring the trimming moment near nothing.

Moments of small changes nearly add up, since each moves a few kilograms or litres; what is found by adding them is
worked out in full before it is told.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sim.changes.candidates import AT_HAND, MORE, Candidate, Kind

MOST: Final = 3  # changes at a time: more nobody can tell apart in the water
SMALLEST: Final = 0.3  # N m, below which a change is not worth its while


@dataclass(frozen=True)
class Tried:
    """One change worked out.

    moment : trimming moment with it, plus head-up [N m];  wing_gas : [m^3];  net_buoyancy : plus floats [kg]
    fails, mends : what of the fit no longer passes, or passes now
    """

    what: Candidate
    moment: float
    wing_gas: float
    net_buoyancy: float
    fails: tuple[str, ...] = ()
    mends: tuple[str, ...] = ()


def together(
    moment: float, tried: Sequence[Tried], within: float, kinds: Sequence[Kind] = AT_HAND
) -> list[tuple[Tried, ...]]:
    """Sets of changes by what they should come to, the best first.

    Fewest that end within ``within`` [N m], nearest to nothing among as many, then all others, nearest first. Lead
    that is added counts as two changes: it has to be borne ashore and by the wing.
    moment : now [N m];  kinds : of changes that are put together, if they break nothing of the fit
    """
    usable = [t for t in tried if t.what.kind in kinds and not t.fails and abs(t.moment - moment) >= SMALLEST]
    found: list[tuple[tuple[int, float], tuple[Tried, ...]]] = []
    for count in range(1, MOST + 1):
        for chosen in itertools.combinations(usable, count):
            knobs = [k for t in chosen for k in t.what.knobs]
            if len(set(knobs)) < len(knobs):
                continue
            left = abs(moment + sum(t.moment - moment for t in chosen))
            cost = count + sum(MORE in t.what.knobs for t in chosen)
            found.append(((cost if left <= within else 2 * MOST + 1, left), chosen))
    found.sort(key=lambda pair: pair[0])
    return [chosen for _, chosen in found]
