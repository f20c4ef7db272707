"""Arcs found again in the chords that stand for them, so that what is cut has round corners, not facets."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from meshes.mesh import Floats, Ints

ALIKE = 1e-4  # share by which the chords of a regular polygon may differ
# share of its extent by which corners may lie off an arc: readers of drawings flatten arcs by way of cubic curves,
# which lie within 3e-4 of the radius, and whose curvature from three neighbours differs by some hundredths
ROUND = 5e-4
CURVED = 0.05
FEWEST = 3  # chords of an arc
UNEVEN = 3.0  # longest over shortest chord of one arc: halving makes 2
LEAST_TURN = 1e-4  # rad of two neighbouring chords: less is a straight edge
MOST_TURN = np.radians(35.0)  # of two neighbouring chords: beyond it, they are the sides of a polygon that is meant


@dataclass(frozen=True, eq=False)
class Circle:
    """A round hole: middle (2,) and radius [m]."""

    middle: Floats
    radius: float


@dataclass(frozen=True, eq=False)
class Arc:
    """A round corner of a ring: its middle (2,) and radius [m], and the way out of the ring (2,) unit."""

    middle: Floats
    radius: float
    outward: Floats


def circle_of(ring: Floats) -> Circle | None:
    """The circle on which all corners (n, 2) of a ring lie, none far from the next; None for any other ring."""
    middle = ring.mean(axis=0)
    sides = np.linalg.norm(np.diff(ring, axis=0, append=ring[:1]), axis=1)
    if np.ptp(sides) > 10.0 * ALIKE * sides.mean():  # of uneven chords the nearest circle, by least squares
        off = ring - middle
        design = np.column_stack([2.0 * off, np.ones(len(off))])
        middle = middle + np.linalg.lstsq(design, (off**2).sum(axis=1), rcond=None)[0][:2]
    away = np.linalg.norm(ring - middle, axis=1)
    is_round = np.ptp(away) <= ROUND * away.mean() and sides.max() <= MOST_TURN * away.mean()
    return Circle(middle, float(away.mean())) if is_round else None


def arcs_of(ring: Floats) -> tuple[Arc, ...]:
    """The round corners of a closed ring (n, 2) [m], in its order."""
    corners = with_bulges(ring)
    area = np.sum(ring[:, 0] * np.roll(ring[:, 1], -1) - np.roll(ring[:, 0], -1) * ring[:, 1])
    found = []
    for here, ahead in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        bulge, (dx, dy) = float(here[2]), ahead[:2] - here[:2]
        if bulge != 0.0:
            chord = float(np.hypot(dx, dy))
            right = np.array([dy, -dx])
            middle = (here[:2] + ahead[:2]) / 2 + bulge / 2 * right
            radius = chord * (1.0 + bulge**2) / (4.0 * abs(bulge))
            found.append(Arc(middle, radius, np.sign(area) * right / chord))
    return tuple(found)


def with_bulges(ring: Floats) -> Floats:
    """A closed ring (n, 2) as corners and bulges (m, 3): x, y, tangent of a quarter of the arc to the next corner.

    0 for a straight edge. Runs of corners on one circle become one arc through their ends; an arc of more than half a
    turn becomes several.
    """
    ahead, before = np.roll(ring, -1, axis=0), np.roll(ring, 1, axis=0)
    one, other = ring - before, ahead - ring
    cross = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    turn = np.arctan2(cross, (one * other).sum(axis=1))
    bow = 2.0 * np.sin(turn) / np.linalg.norm(ahead - before, axis=1)  # curvature of the circle through each three
    first = int(np.argmax((one**2).sum(axis=1)))  # where the longest side ends: least likely within an arc
    order = (first + np.arange(len(ring))) % len(ring)
    order = np.append(order, order[0])
    found: list[tuple[float, float, float]] = []
    k = 0
    while k < len(ring):
        here = int(order[k])
        chords, bulge = _run(ring, order, k, turn, bow)
        found.append((*ring[here], bulge))
        k += chords
    return np.array(found)


def _run(ring: Floats, order: Ints, k: int, turn: Floats, bow: Floats) -> tuple[int, float]:
    """How many chords from ``order[k]`` on are of one arc of at most half a turn, and its bulge; 1 and 0 for none."""
    most, whole = 1, 0.0
    while k + most < len(order) - 1:
        corner = int(order[k + most])
        first = int(order[k + 1])
        alike = abs(bow[corner] - bow[first]) <= CURVED * abs(bow[first])
        whole += abs(float(turn[corner]))
        if not (alike and LEAST_TURN < abs(turn[corner]) <= MOST_TURN and whole * (1.0 + 1.0 / most) <= np.pi + 1e-3):
            break
        most += 1
    if most < FEWEST:
        return 1, 0.0
    points = ring[order[k : k + most + 1]]
    circle = _through(points[0], points[most // 2], points[-1])
    away = np.linalg.norm(points - circle.middle, axis=1)
    long = np.linalg.norm(np.diff(points, axis=0), axis=1)
    # a straight side between two like arcs turns alike at both ends, too
    even = long.max() <= UNEVEN * long.min()
    if not (even and np.abs(away - circle.radius).max() <= ROUND * np.ptp(points, axis=0).max()):
        return 1, 0.0
    angle = 2.0 * np.arcsin(np.minimum(long / (2.0 * circle.radius), 1.0)).sum()
    return most, float(np.copysign(np.tan(angle / 4.0), turn[order[k + 1]]))


def _through(a: Floats, b: Floats, c: Floats) -> Circle:
    """The circle through three points (2,)."""
    p, q = b - a, c - a
    twice = 2.0 * (p[0] * q[1] - p[1] * q[0])
    off = np.array([q[1] * (p @ p) - p[1] * (q @ q), p[0] * (q @ q) - q[0] * (p @ p)]) / twice
    return Circle(a + off, float(np.linalg.norm(off)))
