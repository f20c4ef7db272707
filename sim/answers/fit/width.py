"""The plate's width against the back under it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from sim.assembly.placement import Placement, point_at

STATIONS: Final = 61  # heights along the plate at which its width is held against the back


def width_left(
    plate: Plate, seat: Placement, heights: Mapping[str, float], armpit: float, flanks: Floats
) -> tuple[float, float]:
    """Least of trunk's half-breadth less the plate's half width, and the same for the folds of the armpits [m].

    heights : of the body's landmarks;  armpit : half the distance between the folds;  flanks : (2, n) heights, and
        half the trunk's breadth there [m]
    The folds count where the plate lies between chest and shoulders: there the arms swing past it.
    """
    outline = point_at(seat, np.column_stack([plate.outline, np.zeros(len(plate.outline))]))
    x = np.linspace(outline[:, 0].min(), outline[:, 0].max(), STATIONS)[1:-1]
    half = np.array([_half_width(outline, h) for h in x])
    beside = x < heights["axilla"]
    between = (x > heights["chest"]) & (x < heights["acromion"])
    flank = float((np.interp(x, *flanks) - half)[beside].min(initial=np.inf))
    return flank, float((armpit - half)[between].min(initial=np.inf))


def _half_width(outline: Floats, height: float) -> float:
    """Half width of a closed outline (n, 3) at a height x [m]."""
    ahead = np.roll(outline, -1, axis=0)
    crossing = (outline[:, 0] <= height) != (ahead[:, 0] <= height)
    a, b = outline[crossing], ahead[crossing]
    y = a[:, 1] + (height - a[:, 0]) / (b[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1])
    return float(np.abs(y).max(initial=0.0))
