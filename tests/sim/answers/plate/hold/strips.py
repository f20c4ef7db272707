"""A strip on which plates are carried: bolts, slots and crotch slot of a plate 40 cm long, on flat sheet."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.back_plate import FlatPoints, Pattern
from meshes.plate.sheet import Bend

LONG = 0.4  # m
POINTS = FlatPoints(
    upper_bolt=np.array([0.14, 0.0]),
    lower_bolt=np.array([-0.14, 0.0]),
    shoulder_slots=np.array([[0.18, 0.02], [0.18, -0.02]]),
    waist_slots=np.array([[-0.10, 0.03], [-0.10, -0.03]]),
    crotch_slot=np.array([-0.19, 0.0]),
)


def strip(wide: float) -> Pattern:
    """As wide [m] all along."""
    return with_points(np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * [LONG / 2, wide / 2])


def with_points(corners: Floats, bends: tuple[Bend, ...] = ()) -> Pattern:
    """With the same openings in another outline (n, 2) [m]."""
    return Pattern(Outline(corners), POINTS, bends)
