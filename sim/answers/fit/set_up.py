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

from meshes.mesh import Ints
from sim.answers.fit import limits
from sim.answers.fit.demands.demand import Demand, Flags
from sim.answers.fit.demands.every import ANGLES, asked_of
from sim.answers.fit.demands.waist_strap import WAIST_STRAP
from sim.answers.fit.dressed_person import dress_of, dressed_person
from sim.answers.fit.hung import Hung
from sim.answers.fit.hung_rig import hung_rig
from sim.answers.fit.waist import waist_room
from sim.assembly.assembled import Worn
from sim.assembly.seat import seats
from sim.telling.record import Told

STEP: Final = 0.01  # m between the places of the bands that are tried: finer nobody sets them
EDGE: Final = 0.001  # m that is left of the room at the waist: the plate's slope moves its slots so much
AT_A_TIME: Final = 8  # places looked at together: the first that will do ends the search
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
            others=ANGLES,
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
    """A rig hung in many ways; what is met in each is worked out once, when it is asked for.

    known : (n,) of each demand, 1 where it is met, 0 where it is not, -1 where nobody asked
    """

    ways: Hung
    demands: tuple[Demand, ...]
    known: dict[Demand, Ints]

    def meets(self, demands: Iterable[Demand], which: Ints) -> Flags:
        """Whether some of the ways (m,) meet all the demands, the quickest looked at first."""
        met = np.ones(len(which), dtype=bool)
        for demand in sorted(demands, key=lambda d: d.cost):
            known = self.known[demand]
            asked = which[met & (known[which] < 0)]
            if len(asked):
                known[asked] = demand.met(self.ways.some(asked))
            met &= known[which] > 0
        return met

    def first(self) -> int | None:
        """The first way that meets every demand."""
        every = np.arange(len(self.ways.seat))
        for some in np.array_split(every, range(AT_A_TIME, len(every), AT_A_TIME)):
            met = self.meets(self.demands, some)
            if met.any():
                return int(some[met.argmax()])
        return None


def set_ups(worn: Worn) -> SetUps:
    """The nearest set-up that will do, over heights with the strap on the waist and bands where bands go."""
    drops, shifts = _ends(worn)
    places = sorted(_places(worn, shifts), key=lambda place: _change(worn, *place))
    trials = _trials(worn, places, max(map(abs, drops)) + max(abs(s - worn.shift) for s in shifts))
    as_worn = _set_up(trials, places, 0)
    if as_worn.passes:
        return SetUps(as_worn, as_worn, (), drops, shifts)
    first = trials.first()
    if first is not None:
        return SetUps(as_worn, _set_up(trials, places, first), (), drops, shifts)
    return SetUps(as_worn, None, _barred_by(trials), drops, shifts)


def _trials(worn: Worn, places: Sequence[Place], room: float) -> _Trials:
    """All places on the diver of ``worn``; ``room`` [m]: see ``hung_rig``."""
    rig, who = hung_rig("", worn, room), dressed_person(worn.body.person, dress_of(worn))
    heights = sorted({drop for drop, _ in places})
    laid = seats(worn.plate, who.person, worn.padding, heights)
    seat = np.searchsorted(heights, [drop for drop, _ in places])
    ways = Hung(rig, who, laid, seat, np.array([shift - worn.shift for _, shift in places]))
    demands = tuple(demand for demand in asked_of(rig) if demand.set_up)
    return _Trials(ways, demands, {demand: np.full(len(places), -1) for demand in demands})


def _set_up(trials: _Trials, places: Sequence[Place], way: int) -> SetUp:
    there = trials.ways.some(np.array([way]))
    return SetUp(*places[way], {demand.name: float(demand.margins(there)[0]) for demand in trials.demands})


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


def _barred_by(trials: _Trials) -> tuple[str, ...]:
    """The fewest demands that no set-up with the strap on the waist meets together."""
    every = np.arange(len(trials.ways.seat))
    on_waist = every[trials.meets((WAIST_STRAP,), every)]
    if not len(on_waist):
        return (WAIST_STRAP.name,)
    for count in range(1, len(trials.demands) + 1):
        for demands in itertools.combinations(trials.demands, count):
            if not trials.meets(demands, on_waist).any():
                return tuple(demand.name for demand in demands)
    return ()
