"""Where heads of many people meet gear behind them, by bounds on whole boxes of its points."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.cloud import SLACKS
from sim.answers.fit.head_lift import STEP, HeadBack, lifts
from sim.answers.fit.most_around import most_around


@dataclass(frozen=True, eq=False)
class Head:
    """The back of a head, and what rules out boxes of points: the measure of a cloud is the lift [rad].

    hindmost : for each size of box (n, m), the greatest angle of the head's back [rad] about each place of
        ``back.angle``, as far round it as the points of a box may lie; -inf where there is no head
    """

    back: HeadBack
    hindmost: tuple[Floats, ...]

    def value(self, points: Floats) -> Floats:
        """See ``lifts``."""
        return lifts(self.back, points)

    def bound(self, level: int, middles: Floats) -> Floats:
        """Least lift (m,) [rad] that a point of each box could have."""
        back, hindmost, slack = self.back, self.hindmost[level], SLACKS[level]
        x, z = middles[:, 0] - back.pivot[0], middles[:, 2] - back.pivot[2]
        far = np.hypot(x, z)
        i = np.rint(np.abs(middles[:, 1]) / back.y[1]).astype(int)
        j = np.rint(far / STEP).astype(int)
        inside = (i < hindmost.shape[0]) & (j < hindmost.shape[1]) & (z > -slack)
        most = hindmost[np.where(inside, i, 0), np.where(inside, j, 0)]
        nearest = np.arctan2(z, x) - np.arcsin(np.minimum(slack / np.maximum(far, slack), 1.0))
        return np.asarray(np.where(inside, nearest - most, np.inf))


def head_of(back: HeadBack) -> Head:
    """A head, ready for clouds."""
    angle = np.where(np.isfinite(back.angle), back.angle, -np.inf)
    hindmost = []
    for slack in SLACKS:
        aside, far = int(np.ceil(slack / back.y[1])) + 1, int(np.ceil(slack / STEP)) + 1
        padded = np.pad(angle, ((0, aside), (0, far)), constant_values=-np.inf)
        hindmost.append(most_around(padded, aside, far))
    return Head(back, tuple(hindmost))
