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

from meshes.mesh import Floats
from sim.assembly.assembled import Worn
from sim.assembly.placement import Placement, point_at
from sim.assembly.seat import seated
from sim.fit import limits
from sim.fit.buttocks import Buttocks, buttocks, edge_points
from sim.fit.demands import HungRig, Wearer, dress_of, hung_rig, margins_at, shifted, wearing
from sim.fit.waist import waist_room

BUTTOCKS: Final = "cylinder bottoms"
PLATE_TOP: Final = "plate top"
STEP: Final = 0.01  # m between the places tried: finer nobody sets webbing and bands


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
    asked = _asked(worn, drops[1] - drops[0] + shifts[1] - shifts[0])
    seats = {worn.drop: worn.seat}
    tried: list[SetUp] = []
    for drop, shift in sorted(_places(worn, drops, shifts), key=lambda place: _change(worn, *place)):
        if drop not in seats:
            seats[drop] = seated(worn.plate, worn.body, worn.padding, drop)
        margins = _margins(asked, seats[drop], shift - worn.shift)
        tried.append(SetUp(drop, shift, margins))
        if tried[-1].passes:
            return SetUps(tried[0], tried[-1], (), drops, shifts)
    return SetUps(tried[0], None, _barred_by(tried), drops, shifts)


@dataclass(frozen=True, eq=False)
class _Asked:
    """The demands on one rig on one diver.

    rig : as worn;  who : wears it;  behind : their buttocks;  clothing : on the trunk [m]
    low : (n, 3) edges of cylinders and boots in the plate's frame [m]
    """

    rig: HungRig
    who: Wearer
    behind: Buttocks
    low: Floats
    clothing: float


def _asked(worn: Worn, room: float) -> _Asked:
    low = np.zeros((0, 3)) if worn.cylinders is None else edge_points(worn.cylinders)
    return _Asked(
        rig=hung_rig("", worn, room),
        who=wearing(worn.body, dress_of(worn)),
        behind=buttocks(worn.body),
        low=np.asarray((low - worn.seat.origin) @ worn.seat.rotation),
        clothing=worn.clothing,
    )


def _margins(asked: _Asked, seat: Placement, by: float) -> dict[str, float]:
    """The demands of the rig seated, its cylinders ``by`` [m] farther headward than worn."""
    rig = shifted(asked.rig, by)
    top = float(point_at(seat, rig.plate.top)[0])
    low = point_at(seat, asked.low + [by, 0.0, 0.0])
    return margins_at(rig, asked.who, seat) | {
        PLATE_TOP: asked.who.body.person.skeleton.heights["c7"] - top - limits.PLATE_BELOW_C7,
        BUTTOCKS: asked.behind.off(low, asked.clothing) + limits.BUTTOCKS_GIVE,
    }


def _ends(worn: Worn) -> tuple[tuple[float, float], tuple[float, float]]:
    """Drops with the strap on the waist, shifts as bands go; those of the file among them."""
    h = worn.body.person.skeleton.heights
    room = waist_room(h["iliac crest"], h["tenth rib"])
    drops = (-room, room)
    low, high = limits.BANDS_AT_ENDS if worn.cylinders is not None else (0.0, 0.0)
    return (min(drops[0], worn.drop), max(drops[1], worn.drop)), (min(low, worn.shift), max(high, worn.shift))


def _places(worn: Worn, drops: tuple[float, float], shifts: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """Drops and shifts in whole steps from those of the file, and the ends of the bands' range."""
    rows = sorted({*_row(worn.shift, shifts), *shifts})
    for drop in _row(worn.drop, drops):
        yield from ((drop, shift) for shift in rows)


def _row(start: float, ends: tuple[float, float]) -> list[float]:
    low, high = (int((end - start) / STEP) for end in ends)
    return [start + STEP * i for i in range(low, high + 1)]


def _change(worn: Worn, drop: float, shift: float) -> tuple[float, float]:
    """How much is changed [m], and of that the bands, which are more work than webbing."""
    bands = round(abs(shift - worn.shift), 6)
    return round(abs(drop - worn.drop) + bands, 6), bands


def _barred_by(tried: list[SetUp]) -> tuple[str, ...]:
    """The fewest demands that no set-up meets together."""
    met = {name: np.array([s.margins[name] >= 0.0 for s in tried]) for name in tried[0].margins}
    for count in range(1, len(met) + 1):
        for names in itertools.combinations(met, count):
            if not np.logical_and.reduce([met[n] for n in names]).any():
                return names
    return ()
