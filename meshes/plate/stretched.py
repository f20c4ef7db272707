"""A flat pattern made longer or wider, bolts and slots where they were: as a designer would redraw it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.back_plate import Pattern
from meshes.plate.edges import edges_of

CLEAR = 0.001  # m below the lowest opening at which the sheet is drawn out


def stretched(pattern: Pattern, longer: float, wider: float) -> Pattern:
    """The pattern ``longer`` at its lower end and ``wider`` in proportion [m], below 0 shorter and narrower.

    All below the lowest opening beside the crotch slot moves along, the crotch slot too where it lies there; other
    openings, bends and places stay. Raises ValueError where openings come to lie over the edge.
    """
    import shapely

    outline, points = pattern.outline, pattern.points
    edges = edges_of(outline.outer)
    crotch = shapely.Point(points.crotch_slot)
    holds = [bool(shapely.Polygon(hole).covers(crotch)) for hole in outline.holes]
    others = [float(h[:, 0].min()) for h, own in zip(outline.holes, holds, strict=True) if not own]
    lowest = min([*others, float(points.lower_bolt[0])]) - CLEAR
    outer = _down(outline.outer, lowest, longer)
    outer[:, 1] = edges.middle + (outer[:, 1] - edges.middle) * (1.0 + wider / edges.width)
    moves = float(points.crotch_slot[0]) < lowest
    holes = tuple(h - [longer, 0.0] if own and moves else h for h, own in zip(outline.holes, holds, strict=True))
    sheet = shapely.Polygon(outer)
    if not (sheet.is_valid and all(sheet.contains_properly(shapely.Polygon(hole)) for hole in holes)):
        raise ValueError("an opening comes to lie over the plate's edge")
    if any(shapely.Polygon(a).intersects(shapely.Polygon(b)) for i, a in enumerate(holes) for b in holes[:i]):
        raise ValueError("two openings come to touch")
    slot = points.crotch_slot - [longer, 0.0] if moves else points.crotch_slot
    return replace(pattern, outline=Outline(outer, holes), points=replace(points, crotch_slot=slot))


def _down(ring: Floats, below: float, by: float) -> Floats:
    """A ring (n, 2) whose points under x = ``below`` lie lower by ``by``; sides are drawn out from there."""
    moved = np.array(ring, dtype=float)
    moved[moved[:, 0] < below, 0] -= by
    return moved
