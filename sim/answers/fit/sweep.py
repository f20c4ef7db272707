"""The trade-off: what gains and what loses as the rig is hung lower, or as the plate changes, on one person."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.drops import DropBand, feasible_drops
from sim.answers.fit.limits import EASY_REACH
from sim.answers.fit.look_ahead import ahead_margin, look_ahead
from sim.answers.fit.on_back import on_back
from sim.answers.fit.reach import usual_margins
from sim.assembly.assembled import Assembled
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

WAIST_STRAP: Final = "waist strap"
LOOK_AHEAD: Final = "look-ahead"
REACH: Final = "reach"


@dataclass(frozen=True, eq=False)
class SweepPoint:
    """One rig of a sweep.

    moment : trimming moment held flat [N m], plus turns head-up
    ahead : highest that the eyes look at, flat, against straight ahead [rad], plus above it;  head_up : what looking
        straight ahead costs [rad]
    reach : margin of the valve hardest to reach [m], NaN without cylinders;  valve : its name
    strap : of the waist strap above the top of the hip bones [m];  waist : from there to the lowest rib [m]
    margins : of each demand, 0 or more where it is met; [m], of look-ahead [rad]
    also_fails : what else about the plate on the back does
    """

    moment: float
    ahead: float
    head_up: float
    reach: float
    valve: str
    strap: float
    waist: float
    margins: Mapping[str, float]
    also_fails: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class PlateSweep:
    """One plate over the whole sweep.

    values : (n,) of what is changed, rising;  points : the rig at each
    bands : where every demand is met;  barred_by : the fewest demands that rule each other out where there is none
    """

    plate: str
    values: Floats
    points: tuple[SweepPoint, ...]
    bands: tuple[DropBand, ...]
    barred_by: tuple[str, ...]

    def column(self, name: str) -> Floats:
        """One number of all points, by its field's name."""
        return np.array([getattr(p, name) for p in self.points], dtype=float)

    def also_failing(self) -> tuple[tuple[str, bool], ...]:
        """What else fails where every demand is met, and whether at all of the values there.

        Where a band lies between two values, the nearest stands for it.
        """
        there: list[tuple[str, ...]] = []
        for band in self.bands:
            inside = np.flatnonzero((self.values >= band.least) & (self.values <= band.greatest))
            nearest = [int(np.abs(self.values - 0.5 * (band.least + band.greatest)).argmin())]
            there += [self.points[i].also_fails for i in (inside if len(inside) else nearest)]
        names = dict.fromkeys(name for fails in there for name in fails)
        return tuple((name, all(name in fails for fails in there)) for name in names)

    def margin(self, demand: str) -> Floats:
        """Margins of one demand at all points."""
        return np.array([p.margins[demand] for p in self.points])


def sweep_point(assembled: Assembled) -> SweepPoint:
    """What the trade-off is about, for one rig. Raises ValueError for a rig told by numbers, or without a plate."""
    worn = assembled.worn
    if worn is None:
        raise ValueError("fit needs a person with a plate on the back")
    on, eyes, hands = on_back(worn), look_ahead(worn, assembled.rig), usual_margins(worn)
    strap = next(v.margin for v in on.verdicts if v.subject == WAIST_STRAP)
    margins = {
        WAIST_STRAP: np.nan if strap is None else float(strap),
        LOOK_AHEAD: ahead_margin(eyes.gear, eyes.free, eyes.ahead),
    }
    worst = min(hands, key=lambda name: hands[name], default="")
    if worst:
        margins[REACH] = hands[worst] - EASY_REACH
    return SweepPoint(
        moment=flat_answer(soft_rig(assembled.rig)).pitch_moment,
        ahead=eyes.ahead,
        head_up=eyes.head_up,
        reach=hands[worst] if worst else np.nan,
        valve=worst,
        strap=on.waist_strap - on.crest,
        waist=on.tenth_rib - on.crest,
        margins=MappingProxyType(margins),
        also_fails=tuple(v.subject for v in on.verdicts if v.passes is False and v.subject not in margins),
    )


def plate_sweep(plate: str, values: Sequence[float], points: Sequence[SweepPoint]) -> PlateSweep:
    """Points put together. Raises ValueError for values that do not rise."""
    x = np.asarray(values, dtype=float)
    margins = {name: np.array([p.margins[name] for p in points]) for name in points[0].margins}
    bands = feasible_drops(x, margins)
    return PlateSweep(plate, x, tuple(points), bands, () if bands else ruled_out_by(x, margins))


def ruled_out_by(values: Floats, margins: Mapping[str, Floats]) -> tuple[str, ...]:
    """The fewest demands that cannot all be met anywhere; nothing where all can."""
    for count in range(1, len(margins) + 1):
        for names in itertools.combinations(margins, count):
            if not feasible_drops(values, {n: margins[n] for n in names}):
                return names
    return ()
