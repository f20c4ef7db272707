"""A flat pattern drawn anew with other sizes and places, as a designer would: holes keep their shape.

Openings move as they are. The outline goes along with slots and with its lower edge by a shift that is smooth
between them: a cubic step from each to the next, level at both, so that what lies close to one hardly changes shape.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.back_plate import FlatPoints, Pattern
from meshes.plate.edges import edges_of

BESIDE: Final = 0.01  # m, along the plate, that the outline needs between two things to go along with each
IN_IT: Final = 1e-3  # m from a place within which an opening is the one meant
STEEPEST: Final = 1.5  # slope of a cubic step at its middle, of one between the same ends that is straight


@dataclass(frozen=True)
class Moves:
    """How far what goes [m]; below 0 the other way.

    longer : the lower edge, down;  wider : both sides together, out, in proportion
    shoulders, waist : of the slots, down and out on either side;  bolts : the row, down
    """

    longer: float = 0.0
    wider: float = 0.0
    shoulders: tuple[float, float] = (0.0, 0.0)
    waist: tuple[float, float] = (0.0, 0.0)
    bolts: float = 0.0


def stretched(pattern: Pattern, moves: Moves) -> Pattern:
    """The pattern with what moves moved; bends stay.

    A crotch slot below the waist slots keeps its distance from the lower edge. Other openings over the middle line
    go with the bolts (further pairs of holes, the channel's opening), the rest along with the outline up and down.
    The origin stays, wherever the bolts go.
    Raises ValueError where the outline folds over itself, or openings meet one another or its edge.
    """
    import shapely

    outline, points = pattern.outline, pattern.points
    edges = edges_of(outline.outer)
    anchors = _anchors(pattern, moves)
    outer = outline.outer - np.stack([_down(outline.outer[:, 0], anchors), np.zeros(len(outline.outer))], axis=1)
    outer[:, 1] = edges.middle + (outer[:, 1] - edges.middle) * (1.0 + moves.wider / edges.width)
    shifts = _shifts(points, moves, anchors)
    holes = tuple(hole + _own(hole, points, shifts, anchors) for hole in outline.holes)
    sheet = shapely.Polygon(outer)
    if not (sheet.is_valid and all(sheet.contains_properly(shapely.Polygon(hole)) for hole in holes)):
        raise ValueError("an opening comes to lie over the plate's edge")
    if any(shapely.Polygon(a).intersects(shapely.Polygon(b)) for i, a in enumerate(holes) for b in holes[:i]):
        raise ValueError("two openings come to touch")
    placed = {name: np.asarray(getattr(points, name) + shift) for name, shift in shifts.items()}
    return replace(pattern, outline=Outline(outer, holes), points=replace(points, **placed))


def _anchors(pattern: Pattern, moves: Moves) -> Floats:
    """(n, 2) places up the plate, the lowest first, and how far each goes down [m].

    Raises ValueError where one would pass the next.
    """
    points, x = pattern.points, pattern.outline.outer[:, 0]
    low, high = float(x.min()), float(x.max())
    shoulders, waist = (float(pair[:, 0].mean()) for pair in (points.shoulder_slots, points.waist_slots))
    # the edges first, then what lies clear of all before it
    wanted = [
        (high, 0.0), (low, moves.longer), (waist, moves.waist[0]), (shoulders, moves.shoulders[0]), (0.0, 0.0),
    ]  # fmt: skip
    if float(points.crotch_slot[0]) < waist:
        wanted.append((float(points.crotch_slot[0]), moves.longer))
    found: list[tuple[float, float]] = []
    for at, down in wanted:
        if low <= at <= high and all(abs(at - other) > BESIDE for other, _ in found):
            found.append((at, down))
    anchors = np.array(sorted(found))
    if not (STEEPEST * np.abs(np.diff(anchors[:, 1])) < np.diff(anchors[:, 0])).all():
        raise ValueError("the plate's edge cannot be drawn in so far between two openings")
    return anchors


def _down(x: Floats, anchors: Floats) -> Floats:
    """How far what lies at heights x (n,) goes down [m]."""
    at, by = anchors.T
    upper = np.clip(np.searchsorted(at, x), 1, len(at) - 1)
    part = np.clip((x - at[upper - 1]) / (at[upper] - at[upper - 1]), 0.0, 1.0)
    return np.asarray(by[upper - 1] + (by[upper] - by[upper - 1]) * part**2 * (3.0 - 2.0 * part))


def _shifts(points: FlatPoints, moves: Moves, anchors: Floats) -> dict[str, Floats]:
    """Of each of the places in ``FlatPoints``, alike in shape [m]."""
    bolts, crotch = np.array([-moves.bolts, 0.0]), float(points.crotch_slot[0])
    with_edge = moves.longer if crotch < points.waist_slots[:, 0].mean() else float(_down(np.array(crotch), anchors))
    return {
        "upper_bolt": bolts,
        "lower_bolt": bolts,
        "shoulder_slots": _out(points.shoulder_slots, moves.shoulders),
        "waist_slots": _out(points.waist_slots, moves.waist),
        "crotch_slot": np.array([-with_edge, 0.0]),
    }


def _out(pair: Floats, move: tuple[float, float]) -> Floats:
    down, out = move
    sides = np.sign(pair[:, 1] - pair[:, 1].mean())
    return np.stack([np.full(len(pair), -down), out * sides], axis=1)


def _own(hole: Floats, points: FlatPoints, shifts: dict[str, Floats], anchors: Floats) -> Floats:
    """(2,) by how much an opening moves."""
    import shapely

    area = shapely.Polygon(hole)
    for name, shift in shifts.items():
        for place, by in zip(np.atleast_2d(getattr(points, name)), np.atleast_2d(shift), strict=True):
            if area.distance(shapely.Point(place)) < IN_IT:
                return np.asarray(by)
    if hole[:, 1].min() < points.upper_bolt[1] < hole[:, 1].max():
        return shifts["upper_bolt"]
    low, high = hole[:, 0].min(), hole[:, 0].max()
    return np.array([-float(_down(np.array((low + high) / 2), anchors)), 0.0])
