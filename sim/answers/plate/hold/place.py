"""Where on a plate something is, in words: at which bolt, slot, bend or edge."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Pattern

NEAR = 0.020  # m from the middle of a bolt, or from the edge of another opening, that is still "at" it
EDGE = 0.008  # m from the outer edge


def place_words(pattern: Pattern, point: Floats) -> str:
    """As "at the lower bolt", for a point (2,) [m] of the flat pattern."""
    import shapely

    here = shapely.Point(point)
    for name, bolt in (("upper", pattern.points.upper_bolt), ("lower", pattern.points.lower_bolt)):
        if np.linalg.norm(point - bolt) < NEAR:
            return f"at the {name} bolt"
    away, name = min(((hole.distance(here), name) for name, hole in _openings(pattern)), default=(np.inf, ""))
    if away < NEAR:
        return f"at {name}"
    bends = [b for b in pattern.bends if abs(point[1] - b.at) <= b.width / 2 + 1e-4]
    if shapely.LinearRing(pattern.outline.outer).distance(here) < EDGE:
        return "at the edge, in a bend" if bends else "at the edge"
    return "in a bend" if bends else "in the sheet"


def _openings(pattern: Pattern) -> Iterator[tuple[str, Any]]:
    """Every opening with its name."""
    import shapely

    points = pattern.points
    slots = [("a shoulder slot", s) for s in points.shoulder_slots] + [
        ("a waist slot", s) for s in points.waist_slots
    ]
    slots.append(("the crotch slot", points.crotch_slot))
    for hole in pattern.outline.holes:
        area = shapely.Polygon(hole)
        names = [name for name, at in slots if area.distance(shapely.Point(at)) < 1e-3]
        yield (names[0] if names else "a cut-out"), area
