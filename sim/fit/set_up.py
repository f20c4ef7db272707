"""How else the same rig could be worn: hung higher or lower, its bands elsewhere on the cylinders.

Both are what anybody adjusts for a diver. What is looked for is the least change that meets every demand on the
set-up; slots too far apart, or a plate too wide, no set-up mends.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.assembly.assembled import Worn
from sim.assembly.seat import seated
from sim.fit import limits
from sim.fit.demands import WAIST_STRAP, dress_of, hung_rig, margins_at, shifted, wearing
from sim.fit.waist import waist_room

STEP: Final = 0.01  # m between the places of the bands that are tried: finer nobody sets them
EDGE: Final = 0.001  # m that is left of the room at the waist: the plate's slope moves its slots so much
FINE: Final = 0.0025  # m between the heights: webbing is set finer, and the room at the waist is small


@dataclass(frozen=True, eq=False)
class SetUp:
    """One way to wear a rig.

    drop : of the waist slots below the natural waist;  shift : of the cylinders on the plate, plus headward [m]
    margins : of each demand, 0 or more where it is met; [m], of look-ahead [rad]
    """

    drop: float
    shift: float
    margins: Mapping[str, float]

    @property
    def passes(self) -> bool:
        """Whether every demand is met."""
        return all(m >= 0.0 for m in self.margins.values())


@dataclass(frozen=True, eq=False)
class SetUps:
    """What was found.

    as_worn : the set-up of the file;  nearest : the one that meets every demand with the least change, None if none
    does, ``as_worn`` itself if that does
    barred_by : then the fewest demands that no set-up meets together
    drops, shifts : least and greatest of each that was tried [m]
    """

    as_worn: SetUp
    nearest: SetUp | None
    barred_by: tuple[str, ...]
    drops: tuple[float, float]
    shifts: tuple[float, float]


def set_ups(worn: Worn) -> SetUps:
    """The nearest set-up that will do, over heights with the strap on the waist and bands where bands go."""
    drops, shifts = _ends(worn)
    room = max(map(abs, drops)) + max(abs(s - worn.shift) for s in shifts)
    rig, who = hung_rig("", worn, room), wearing(worn.body, dress_of(worn))
    seats = {worn.drop: worn.seat}
    tried: list[SetUp] = []
    for drop, shift in sorted(_places(worn, shifts), key=lambda place: _change(worn, *place)):
        if drop not in seats:
            seats[drop] = seated(worn.plate, worn.body, worn.padding, drop)
        margins = margins_at(shifted(rig, shift - worn.shift), who, seats[drop])
        tried.append(SetUp(drop, shift, margins))
        if tried[-1].passes:
            return SetUps(tried[0], tried[-1], (), drops, shifts)
    return SetUps(tried[0], None, _barred_by(tried), drops, shifts)


def _ends(worn: Worn) -> tuple[tuple[float, float], tuple[float, float]]:
    """Drops with the strap on the waist, shifts as bands go; those of the file among them."""
    room = _room(worn)
    low, high = limits.BANDS_AT_ENDS if worn.cylinders is not None else (0.0, 0.0)
    return (min(-room, worn.drop), max(room, worn.drop)), (min(low, worn.shift), max(high, worn.shift))


def _room(worn: Worn) -> float:
    h = worn.body.person.skeleton.heights
    return waist_room(h["iliac crest"], h["tenth rib"])


def _places(worn: Worn, shifts: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """Where the file has them, then heights over the room at the waist and bands over their range, ends and all."""
    room = _room(worn) - EDGE
    heights = {worn.drop, 0.0, *_row(worn.drop, (-room, room), FINE), -room, room}
    for drop in heights:
        yield from ((drop, shift) for shift in {*_row(worn.shift, shifts, STEP), *shifts})


def _row(start: float, ends: tuple[float, float], step: float) -> list[float]:
    """Whole steps from a start, as far as they lie between the ends."""
    low, high = int(np.ceil((ends[0] - start) / step)), int(np.floor((ends[1] - start) / step))
    return [start + step * i for i in range(low, high + 1)]


def _change(worn: Worn, drop: float, shift: float) -> tuple[float, float]:
    """How much is changed [m], and of that the bands, which are more work than webbing."""
    bands = round(abs(shift - worn.shift), 6)
    return round(abs(drop - worn.drop) + bands, 6), bands


def _barred_by(tried: list[SetUp]) -> tuple[str, ...]:
    """The fewest demands that no set-up with the strap on the waist meets together."""
    on_waist = [s for s in tried if s.margins[WAIST_STRAP] >= 0.0]
    if not on_waist:
        return (WAIST_STRAP,)
    met = {name: np.array([s.margins[name] >= 0.0 for s in on_waist]) for name in on_waist[0].margins}
    for count in range(1, len(met) + 1):
        for names in itertools.combinations(met, count):
            if not np.logical_and.reduce([met[n] for n in names]).any():
                return names
    return ()
