"""Where a diver's line of sight goes, through a mask's flat lens."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sim.answers.fit.joint_ranges import eyes_up
from sim.answers.fit.limits import LENS_ABOVE, LENS_AHEAD, PUPIL_BEHIND, SEA_INDEX


@dataclass(frozen=True)
class UpwardSight:
    """Greatest angles above straight out of the face, in the water before the lens [rad].

    looked_at : where the eyes, turned up, point;  noticed : the upper edge of what is seen at all
    """

    looked_at: float
    noticed: float


def upward_sight(age: float, refractive_index: float = SEA_INDEX) -> UpwardSight:
    """Upward sight of a diver of that age [yr] in a mask.

    A flat lens bends light, sin(water) = sin(air) / n, so that eyes turned up by 28 degrees look up by 21. The lens's
    upper edge limits both. Valid for a lens that stands upright before the face.
    """
    edge = np.arctan2(LENS_ABOVE, LENS_AHEAD + PUPIL_BEHIND)
    looked_at, noticed = np.arcsin(np.sin([min(eyes_up(age), edge), edge]) / refractive_index)
    return UpwardSight(float(looked_at), float(noticed))
