"""Holes of a plate by their measures, and what a designer states of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats

BOLT_DIAMETERS: Final = (5e-3, 16e-3)  # m, M5 to a generous hole for 5/16 in or M8
SLOT_LENGTHS: Final = (30e-3, 80e-3)  # m, for webbing of 25 to 50 mm
SLOT_WIDTHS: Final = (2e-3, 22e-3)  # m


@dataclass(frozen=True)
class StatedPlaces:
    """What a designer states instead of leaving it to be found, by distances [m]; None for "find it".

    bolts : of both from the top edge, in any order; they lie on the middle line
    shoulder_slots, waist_slots : of a pair from the top edge and from the middle line
    crotch_slot : from the top edge, on the middle line
    """

    bolts: tuple[float, ...] | None = None
    shoulder_slots: tuple[float, float] | None = None
    waist_slots: tuple[float, float] | None = None
    crotch_slot: float | None = None


@dataclass(frozen=True, eq=False)
class Opening:
    """A hole by its measures: centre (2,), the sides of the smallest rectangle around it, and its roundness.

    along : (2,) unit, the way of the longer side
    roundness : area over that of a circle of the same girth; 1 for a circle, 0.97 for a twelve-sided one
    """

    centre: Floats
    length: float
    width: float
    along: Floats
    roundness: float

    @property
    def is_bolt_hole(self) -> bool:
        return self.roundness > 0.96 and BOLT_DIAMETERS[0] <= self.length <= BOLT_DIAMETERS[1]

    @property
    def is_slot(self) -> bool:
        fits = SLOT_LENGTHS[0] <= self.length <= SLOT_LENGTHS[1] and SLOT_WIDTHS[0] <= self.width <= SLOT_WIDTHS[1]
        return fits and self.length > 2.0 * self.width


def opening_of(ring: Floats) -> Opening:
    """Measures of a hole's edge (n, 2) [m]."""
    import shapely

    polygon = shapely.Polygon(ring)
    corners = np.asarray(shapely.minimum_rotated_rectangle(polygon).exterior.coords)
    ways = np.diff(corners[:3], axis=0)
    sides = np.linalg.norm(ways, axis=1)
    longer = int(np.argmax(sides))
    centre = np.array([polygon.centroid.x, polygon.centroid.y])
    roundness = 4.0 * np.pi * polygon.area / polygon.length**2
    return Opening(
        centre, float(sides[longer]), float(sides[1 - longer]), ways[longer] / sides[longer], float(roundness)
    )
