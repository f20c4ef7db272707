"""How far a diver who stops moving when flat is rolled, pitch held level."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.statics.equilibria import INDIFFERENT
from sim.statics.field import SoftRig, field

STEPS: Final = 31  # of the first look, 3 degrees apart
HALVINGS: Final = 40


def rest_roll(soft: SoftRig, moment: float) -> float:
    """Roll [rad], plus left side up, at which the rolling from flat ends; infinite for past the vertical.

    moment : [N m] when flat, plus lifts the left side
    """
    if not abs(moment) > INDIFFERENT:
        return 0.0
    way = float(np.sign(moment))
    grid = way * np.linspace(0.0, 0.5 * np.pi, STEPS)
    ended = np.flatnonzero(way * roll_moment(soft, grid[1:]) <= 0.0)
    if not len(ended):
        return way * np.inf
    low, high = float(grid[ended[0]]), float(grid[ended[0] + 1])
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if way * roll_moment(soft, np.array([middle]))[0] > 0.0 else (low, middle)
    return 0.5 * (low + high)


def roll_moment(soft: SoftRig, roll: Floats) -> Floats:
    """Moment (k,) [N m] about the long axis at rolls (k,) [rad], pitch 0; plus lifts the left side."""
    up = np.stack([np.zeros_like(roll), np.sin(roll), np.cos(roll)], axis=1)
    d = field(soft, up).d
    return np.asarray(up[:, 1] * d[:, 2] - up[:, 2] * d[:, 1])
