"""Where on a plate something is, in words: at which bolt, slot, bend or edge."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Pattern
from sim.said import word

NEAR = 0.020  # m from the middle of a bolt, or from the edge of another opening, that is still "at" it
EDGE = 0.008  # m from the outer edge


def place_words(pattern: Pattern, point: Floats) -> str:
    """As "at the lower bolt", for a point (2,) [m] of the flat pattern."""
    import shapely

    here = shapely.Point(point)
    if np.linalg.norm(point - pattern.points.upper_bolt) < NEAR:
        return word("at the upper bolt")
    if np.linalg.norm(point - pattern.points.lower_bolt) < NEAR:
        return word("at the lower bolt")
    away, words = min(((hole.distance(here), place) for place, hole in _openings(pattern)), default=(np.inf, ""))
    if away < NEAR:
        return words
    bends = [b for b in pattern.bends if abs(point[1] - b.at) <= b.width / 2 + 1e-4]
    if shapely.LinearRing(pattern.outline.outer).distance(here) < EDGE:
        return word("at the edge, in a bend") if bends else word("at the edge")
    return word("in a bend") if bends else word("in the sheet")


def _openings(pattern: Pattern) -> Iterator[tuple[str, Any]]:
    """Every opening, with the words for what is at it."""
    import shapely

    points = pattern.points
    slots = [(word("at a shoulder slot"), s) for s in points.shoulder_slots]
    slots += [(word("at a waist slot"), s) for s in points.waist_slots]
    slots.append((word("at the crotch slot"), points.crotch_slot))
    for hole in pattern.outline.holes:
        area = shapely.Polygon(hole)
        names = [name for name, at in slots if area.distance(shapely.Point(at)) < 1e-3]
        yield (names[0] if names else word("at a cut-out")), area
