"""Arcs found again in the chords that stand for them, so that what is cut has round corners, not facets."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints

Flags = NDArray[np.bool_]

ALIKE = 1e-4  # share by which the chords of one arc may differ in length and turn
FEWEST = 3  # chords of an arc
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
    """The circle on which all corners (n, 2) of a regular polygon lie; None for any other ring."""
    middle = ring.mean(axis=0)
    away = np.linalg.norm(ring - middle, axis=1)
    sides = np.linalg.norm(np.diff(ring, axis=0, append=ring[:1]), axis=1)
    regular = np.ptp(away) <= ALIKE * away.mean() and np.ptp(sides) <= 10.0 * ALIKE * sides.mean()
    return Circle(middle, float(away.mean())) if regular and 2.0 * np.pi / len(ring) <= MOST_TURN else None


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

    0 for a straight edge. Runs of equal chords that turn equally become one arc through their ends; an arc of more
    than half a turn becomes several.
    """
    sides = np.roll(ring, -1, axis=0) - ring
    long = np.linalg.norm(sides, axis=1)
    heading = np.arctan2(sides[:, 1], sides[:, 0])
    turn = (heading - np.roll(heading, 1) + np.pi) % (2.0 * np.pi) - np.pi  # at each corner, from the side before
    follows = (np.abs(long - np.roll(long, 1)) <= ALIKE * long) & (np.abs(turn) > 1e-4) & (np.abs(turn) <= MOST_TURN)
    first = _start(follows)
    order = (first + np.arange(len(ring))) % len(ring)
    found: list[tuple[float, float, float]] = []
    k = 0
    while k < len(order):
        here = int(order[k])
        chords, angle = _run(order, k, turn, follows)
        if chords < FEWEST:
            found.append((*ring[here], 0.0))
            k += 1
            continue
        # each chord of the arc subtends the turn between two of them
        found.append((*ring[here], float(np.tan(chords * angle / 4.0))))
        k += chords
    return np.array(found)


def _start(follows: Flags) -> int:
    """A corner at which no arc goes on, the first one where there is none."""
    broken = np.flatnonzero(~follows)
    return int(broken[0]) if len(broken) else 0


def _run(order: Ints, k: int, turn: Floats, follows: Flags) -> tuple[int, float]:
    """How many chords from ``order[k]`` on are of one arc of at most half a turn, and the turn of each."""
    chords, angle = 1, 0.0
    while k + chords < len(order):
        corner = int(order[k + chords])
        if not follows[corner]:
            break
        if chords == 1:
            angle = float(turn[corner])
        if abs(turn[corner] - angle) > 10.0 * ALIKE * abs(angle) or (chords + 1) * abs(angle) > np.pi + 1e-6:
            break
        chords += 1
    return chords, angle
