"""How else the same rig could be worn: hung higher or lower, its bands elsewhere on the cylinders.

Both are what anybody adjusts for a diver. What is looked for is the least change that meets every demand on the
set-up; slots too far apart, or a plate too wide, no set-up mends.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from sim.answers.fit import limits
from sim.answers.fit.demands import (
    BUTTOCKS,
    LOOK_AHEAD,
    PLATE_TOP,
    REACH,
    WAIST_STRAP,
    HungRig,
    Wearer,
    demands_on,
    dress_of,
    hung_rig,
    margins_at,
    met_at,
    shifted,
    wearing,
)
from sim.answers.fit.waist import waist_room
from sim.assembly.assembled import Worn
from sim.assembly.placement import Placement
from sim.assembly.seat import seated
from sim.telling.record import Told

STEP: Final = 0.01  # m between the places of the bands that are tried: finer nobody sets them
EDGE: Final = 0.001  # m that is left of the room at the waist: the plate's slope moves its slots so much
QUICKEST: Final = (WAIST_STRAP, PLATE_TOP, BUTTOCKS, LOOK_AHEAD, REACH)  # to be told whether it is met
FINE: Final = 0.0025  # m between the heights: webbing is set finer, and the room at the waist is small
Place = tuple[float, float]  # drop, shift [m]


@dataclass(frozen=True, eq=False)
class SetUp:
    """One way to wear a rig.

    margins : of each demand, 0 or more where it is met; [m], of look-ahead [rad]
    """

    drop: Annotated[float, Told("of the waist slots below the natural waist", "m")]
    shift: Annotated[float, Told("of the cylinders from their usual place on the plate", "m", plus="headward")]
    margins: Annotated[
        Mapping[str, float],
        Told(
            "of each demand, of look-ahead in degrees",
            "m",
            none="nothing is near, or no way leads there",
            key="margins",
            names="<demand>",
            others=((LOOK_AHEAD, "deg"),),
        ),
    ]

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


@dataclass(frozen=True, eq=False)
class _Trials:
    """A rig hung at any drop with any shift; what it meets there is worked out once, when it is asked for."""

    worn: Worn
    rig: HungRig
    who: Wearer
    seats: dict[float, Placement]
    known: dict[tuple[str, Place], bool]

    def at(self, place: Place) -> tuple[HungRig, Wearer, Placement]:
        drop, shift = place
        if drop not in self.seats:
            self.seats[drop] = seated(self.worn.plate, self.worn.body, self.worn.padding, drop)
        return shifted(self.rig, shift - self.worn.shift), self.who, self.seats[drop]

    def meets(self, demands: Iterable[str], place: Place) -> bool:
        """Whether a place meets all the demands, the quickest looked at first."""
        for name in sorted(demands, key=QUICKEST.index):
            if (name, place) not in self.known:
                self.known[name, place] = met_at(name, *self.at(place))
            if not self.known[name, place]:
                return False
        return True

    def set_up(self, place: Place) -> SetUp:
        return SetUp(*place, margins_at(*self.at(place)))


def set_ups(worn: Worn) -> SetUps:
    """The nearest set-up that will do, over heights with the strap on the waist and bands where bands go."""
    drops, shifts = _ends(worn)
    room = max(map(abs, drops)) + max(abs(s - worn.shift) for s in shifts)
    rig, who = hung_rig("", worn, room), wearing(worn.body, dress_of(worn))
    trials = _Trials(worn, rig, who, {worn.drop: worn.seat}, {})
    places = sorted(_places(worn, shifts), key=lambda place: _change(worn, *place))
    as_worn = trials.set_up(places[0])
    if as_worn.passes:
        return SetUps(as_worn, as_worn, (), drops, shifts)
    nearest = next((place for place in places if trials.meets(demands_on(rig), place)), None)
    if nearest is not None:
        return SetUps(as_worn, trials.set_up(nearest), (), drops, shifts)
    return SetUps(as_worn, None, _barred_by(trials, places), drops, shifts)


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


def _barred_by(trials: _Trials, places: Sequence[Place]) -> tuple[str, ...]:
    """The fewest demands that no set-up with the strap on the waist meets together."""
    on_waist = [place for place in places if trials.meets((WAIST_STRAP,), place)]
    if not on_waist:
        return (WAIST_STRAP,)
    demands = demands_on(trials.rig)
    for count in range(1, len(demands) + 1):
        for names in itertools.combinations(demands, count):
            if not any(trials.meets(names, place) for place in on_waist):
                return names
    return ()
