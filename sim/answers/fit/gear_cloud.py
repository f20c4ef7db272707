"""Gear behind a head as points sorted by boxes, so that where heads of many people meet it is found quickly."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats, Ints
from sim.answers.fit.head_lift import STEP, HeadBack, lifts
from sim.assembly.placement import Placement, point_at

BOX: Final = 0.015  # m, edge of the boxes by which points are sorted
FIRST: Final = 64  # boxes looked at before the rest is ruled out: most times the head meets one of them


@dataclass(frozen=True, eq=False)
class Cloud:
    """Points (n, 3) sorted by boxes of edge BOX: their middles (m, 3) [m]; where each one's points start (m + 1,)."""

    points: Floats
    boxes: Floats
    starts: Ints


@dataclass(frozen=True, eq=False)
class Head:
    """The back of a head, and what rules out boxes of points.

    hindmost : (n, m) greatest angle of the head's back [rad] about each place of ``back.angle``, as far round it as
        the points of a box may lie; -inf where there is no head
    """

    back: HeadBack
    hindmost: Floats


def cloud_of(points: Floats) -> Cloud:
    """Points (n, 3) [m] sorted by boxes."""
    box = np.floor(points / BOX).astype(int)
    low, high = box.min(axis=0, initial=0), box.max(axis=0, initial=0)
    number = np.ravel_multi_index(tuple((box - low).T), tuple(high - low + 1))
    order = np.argsort(number)
    first = np.flatnonzero(np.diff(number[order], prepend=-1))
    return Cloud(points[order], (box[order][first] + 0.5) * BOX, np.append(first, len(points)))


def head_of(back: HeadBack) -> Head:
    """A head, ready for clouds."""
    from scipy.ndimage import maximum_filter

    aside, far = _slack_nodes(back)
    angle = np.where(np.isfinite(back.angle), back.angle, -np.inf)
    padded = np.pad(angle, ((0, aside), (0, far)), constant_values=-np.inf)
    return Head(back, maximum_filter(padded, size=(2 * aside + 1, 2 * far + 1), mode="constant", cval=-np.inf))


def least_lift(head: Head, cloud: Cloud, seat: Placement) -> float:
    """Lift [rad] at which the head meets the first of the points, seated: the least of ``lifts``; inf if none is met.

    Boxes are looked at in the order of the least lift that their points could have, as long as that is below what was
    found: the answer is that of all points.
    """
    middles = point_at(seat, cloud.boxes)
    bound = _bound(head, middles)
    order = np.argsort(bound)
    best = np.inf
    for some in (order[:FIRST], order[FIRST:]):
        near = some[bound[some] < best]
        if len(near):
            points = np.concatenate([cloud.points[cloud.starts[i] : cloud.starts[i + 1]] for i in near])
            best = min(best, float(lifts(head.back, point_at(seat, points)).min()))
    return best


def _bound(head: Head, middles: Floats) -> Floats:
    """Least lift (m,) [rad] that a point of each box could have; the boxes may be turned any way."""
    back, slack = head.back, BOX * np.sqrt(0.75)
    x, z = middles[:, 0] - back.pivot[0], middles[:, 2] - back.pivot[2]
    far = np.hypot(x, z)
    i = np.rint(np.abs(middles[:, 1]) / back.y[1]).astype(int)
    j = np.rint(far / STEP).astype(int)
    inside = (i < head.hindmost.shape[0]) & (j < head.hindmost.shape[1]) & (z > -slack)
    hindmost = head.hindmost[np.where(inside, i, 0), np.where(inside, j, 0)]
    nearest = np.arctan2(z, x) - np.arcsin(np.minimum(slack / np.maximum(far, slack), 1.0))
    return np.asarray(np.where(inside, nearest - hindmost, np.inf))


def _slack_nodes(back: HeadBack) -> tuple[int, int]:
    """Places of ``back.angle`` aside and away that half a box's diagonal spans, and one for rounding."""
    slack = BOX * np.sqrt(0.75)
    return int(np.ceil(slack / back.y[1])) + 1, int(np.ceil(slack / STEP)) + 1
