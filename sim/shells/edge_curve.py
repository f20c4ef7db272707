"""The edge of an outline as a smooth curve through the points that a drawing or a shape gives for it.

Arcs come as chords. Were a mesh refined on the chords themselves, every point of theirs would be a corner into the
material, where stress has no limit; so between points where the edge does not turn sharply the arc is put back.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from meshes.mesh import Floats

SHARP: Final = np.radians(30.0)  # a turn from one chord to the next beyond which it is a corner (arcs come finer)
PIECES: Final = 4  # chords that stand for one of the drawing's
UNEVEN: Final = 2.5  # a chord so much longer than its neighbour is a straight line that an arc sets out from


def smooth_edge(ring: Floats) -> tuple[Floats, Floats]:
    """A closed ring (n, 2) as a finer one, and which of its points (bool) are corners.

    Cubic pieces whose ends point along the circle through three neighbouring points, or along a straight line that
    meets an arc there: fourth order for arcs.
    """
    chord = np.roll(ring, -1, axis=0) - ring
    long = np.linalg.norm(chord, axis=1)
    before, here = np.roll(long, 1), long
    heading = np.arctan2(chord[:, 1], chord[:, 0])
    turn = np.angle(np.exp(1j * (heading - np.roll(heading, 1))))
    corner = np.abs(turn) > SHARP
    # along the circle through the three: the turn is shared in proportion to the chords
    start = heading - turn * here / (before + here)
    start = np.where(here > UNEVEN * before, heading, start)
    start = np.where(before > UNEVEN * here, heading - turn, start)
    leaving = np.where(corner, heading, start)
    arriving = np.roll(np.where(corner, heading - turn, start), -1)
    s = np.arange(PIECES) / PIECES
    h1, h2, h3 = s * (1 - s) ** 2, s**2 * (1 - s), s**2 * (3 - 2 * s)
    out = long[:, None] * np.stack([np.cos(leaving), np.sin(leaving)], axis=1)
    into = long[:, None] * np.stack([np.cos(arriving), np.sin(arriving)], axis=1)
    fine = (
        ring[:, None]
        + h3[None, :, None] * chord[:, None]
        + h1[None, :, None] * out[:, None]
        - h2[None, :, None] * into[:, None]
    )
    marks = np.zeros((len(ring), PIECES), dtype=bool)
    marks[:, 0] = corner
    return fine.reshape(-1, 2), marks.reshape(-1)


def curvature_radius(ring: Floats) -> Floats:
    """Radius [m] of the circle through each point of a closed ring (n, 2) and its neighbours; inf where straight."""
    a, b, c = np.roll(ring, 1, axis=0), ring, np.roll(ring, -1, axis=0)
    twice = np.abs((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0])
    sides = np.linalg.norm(b - a, axis=1) * np.linalg.norm(c - b, axis=1) * np.linalg.norm(c - a, axis=1)
    return np.asarray(sides / np.maximum(2.0 * twice, 1e-12 * sides.max()))


def spaced(line: Floats, size: Callable[[Floats], Floats]) -> Floats:
    """Points (k, 2) along an open line (n, 2), both ends among them, as far apart as ``size`` says there [m]."""
    step = np.linalg.norm(np.diff(line, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(step)])
    fine = np.linspace(0.0, along[-1], max(2, 4 * len(line)))
    places = np.stack([np.interp(fine, along, line[:, k]) for k in (0, 1)], axis=1)
    density = 1.0 / size((places[1:] + places[:-1]) / 2)
    count = np.concatenate([[0.0], np.cumsum(density * np.diff(fine))])
    pieces = max(1, int(np.ceil(count[-1] - 1e-9)))
    at = np.interp(np.linspace(0.0, count[-1], pieces + 1), count, fine)
    return np.stack([np.interp(at, along, line[:, k]) for k in (0, 1)], axis=1)
