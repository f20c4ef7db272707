"""Where a diver who stops moving when flat is turned to, roll held level: the first rest on the way."""

from __future__ import annotations

from typing import Final

import numpy as np

from sim.statics.equilibria import INDIFFERENT
from sim.statics.field import SoftRig, field
from sim.statics.held import pitch_moment, up_of_pitch

STEP: Final = np.radians(4.5)  # of the first look; two rests nearer than that to one another may be passed over
CLOSE: Final = 1e-7  # rad, far below what anyone can see
OVER: Final = np.inf


def rest_pitch(soft: SoftRig, moment: float) -> float:
    """Pitch [rad], plus head-up, at which the turning from flat ends; minus or plus infinity for past the vertical.

    moment : [N m] when flat. Without inertia: the first attitude on the way where nothing turns further.
    """
    if not abs(moment) > INDIFFERENT:
        return 0.0
    way = np.sign(moment)
    grid = way * np.linspace(0.0, 0.5 * np.pi, 1 + round(0.5 * np.pi / STEP))
    along = way * pitch_moment(field(soft, up_of_pitch(grid)))
    turned_back = np.flatnonzero(along[1:] <= 0.0)
    if not len(turned_back):
        return float(way * OVER)
    first = int(turned_back[0])
    low, high = float(grid[first]), float(grid[first + 1])
    return _zero(soft, float(way), (low, float(along[first])), (high, float(along[first + 1])))


def _zero(soft: SoftRig, way: float, low: tuple[float, float], high: tuple[float, float]) -> float:
    """Zero between two (pitch, moment along the way), by the Illinois form of false position."""
    (a, at_a), (b, at_b) = low, high
    for _ in range(60):
        middle = (a * at_b - b * at_a) / (at_b - at_a) if at_a != at_b else 0.5 * (a + b)
        value = way * float(pitch_moment(field(soft, up_of_pitch(np.array([middle]))))[0])
        if value == 0.0 or abs(middle - b) < CLOSE or abs(middle - a) < CLOSE:
            return middle
        if value * at_b < 0.0:
            a, at_a = b, at_b
        else:
            at_a *= 0.5
        b, at_b = middle, value
    return b
