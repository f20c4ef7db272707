"""How long a moment takes to turn a diver let go flat by 30 degrees: a few motions, and a line through them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.known import Effect
from sim.answers.check_bench.predicted import seen
from sim.assembly.learnt import with_effects
from sim.rig import Rig
from sim.settling.course import Limits
from sim.settling.settle import settle
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

MOMENTS: Final = (2.0, 6.0, 15.0, 40.0)  # N m, tried the way that was seen
LONGEST: Final = 120.0  # s: a turn that takes longer, or never comes, is told as one of this
SLOWER: Final = 4.0  # times as long as by hand: so long a motion is followed at first
LEAST_MOMENT: Final = 0.05  # N m


@dataclass(frozen=True, eq=False)
class TimeLaw:
    """log moment [N m] (k,) rising and log time [s] (k,) to 30 degrees; straight lines between and beyond.

    A constant moment against a constant inertia would take t = sqrt(2 I angle / M), a slope of -1/2; drag, and the
    suit's gas that follows, are in the motions. How the time hangs on the stiffness is left to its 20 %.
    """

    log_moment: Floats
    log_time: Floats

    def time(self, moment: Floats) -> Floats:
        """Times (B,) [s] for moments >= 0 (B,) [N m]."""
        x = np.log(np.maximum(moment, LEAST_MOMENT))
        low, high = self.log_moment[0], self.log_moment[-1]
        beyond = np.minimum(x - low, 0.0) + np.maximum(x - high, 0.0)
        log_time = np.interp(x, self.log_moment, self.log_time) - 0.5 * beyond
        return np.asarray(np.minimum(np.exp(log_time), LONGEST))

    def moment(self, time: float) -> float:
        """Moment [N m] that takes so long [s]."""
        tried = np.geomspace(LEAST_MOMENT, 1e3, 2000)
        return float(np.interp(-time, -self.time(tried), tried))


# quicker and slower by hand: 12 kg m^2 of diver and water turned by half a radian
BY_HAND: Final = TimeLaw(np.log([2.0, 40.0]), 0.5 * np.log(2.0 * 12.0 * np.radians(30.0) / np.array([2.0, 40.0])))


def time_law(rig: Rig, head_up: bool) -> TimeLaw:
    """By motions of ``rig`` with its body's CB shifted until it is turned by each of MOMENTS, the way asked for."""
    way = 1.0 if head_up else -1.0
    now = flat_answer(soft_rig(rig)).pitch_moment
    body = sum(p.solid.volume for p in rig.parts if p.kind == "body")
    times = []
    for moment in MOMENTS:
        shift = (way * moment - now) / (rig.water.gravity * rig.water.density * body)
        times.append(_turned(with_effects(rig, (Effect(what="cb", amount=shift),)), moment))
    # more moment never takes longer; what looks so is the motion's own rounding
    return TimeLaw(np.log(MOMENTS), np.log(np.minimum.accumulate(times)))


def _turned(rig: Rig, moment: float) -> float:
    """Time [s] to 30 degrees, LONGEST if it never comes; followed no longer than it takes to know."""
    for limit in (SLOWER * float(BY_HAND.time(np.array([moment]))[0]), LONGEST):
        time = seen(settle(rig, roll="held", limits=Limits(time=limit))).time_to_30
        if time is not None:
            return min(time, LONGEST)
    return LONGEST
