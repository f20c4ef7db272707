"""Places for many labels at once: each near what it names, none on another, on a line or, given room, the diver."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.drawing.free_space import Box

CELL: Final = 6.0  # reference pixels of the raster on which room is counted
ACROSS: Final = np.arange(-480.0, 481.0, 24.0)  # where a label is tried, from what it names
ALONG: Final = np.arange(0.0, 321.0, 16.0)
AWAY: Final = 26.0  # beside what it names, clear of an arrow
NEAR: Final = 28.0  # a label further off gets a line that leads to it
ROUNDS: Final = 8
TRIES: Final = 5  # orders in which the labels choose
SORRY: Final = 2.0  # cost beyond its cheapest place for which a label gets to choose first
KEPT: Final = 360  # places that a label may take, the cheapest by themselves
LOOKED_INTO: Final = 2  # times as many, whose leaders are followed at first
NEVER: Final = 1000.0  # cost of what must not be: off the page, on other words, on a line
ON_DIVER: Final = 100.0  # of words on the diver, above all but that: a far place with a long leader is better
PAD: Final = 5.0  # kept clear about a label
SAMPLES: Final = 28  # places along a leader at which it is looked at


@dataclass(frozen=True)
class Label:
    """Words that want a place.

    at : what they name;  width, height : of the words
    side : 1 above it rather than below, -1 below, 0 either;  ahead : to the right of it only
    led : whether a line may lead to them, so that they may stand far off;  near : whether they may stand near only
    hides : how many times worse than for words it is to hide the diver
    lens : radius of a circle at the top of the words, at which the line ends that leads to it; 0 for mere words
    needed : whether it is worth standing where it must not, if there is no other place
    """

    at: tuple[float, float]
    width: float
    height: float
    side: int = 0
    ahead: bool = False
    led: bool = True
    near: bool = False
    hides: float = 1.0
    lens: float = 0.0
    needed: bool = True


@dataclass(frozen=True, eq=False)
class Place:
    """Where a label goes, and the line (2, 2) that leads to it if it is not near."""

    box: Box
    leader: Floats | None


class _Counted:
    """How many points lie in a box, from sums over a raster of the page."""

    def __init__(self, points: Floats, page: Box) -> None:
        self.page = page
        shape = np.ceil([(page.right - page.left) / CELL, (page.top - page.bottom) / CELL]).astype(int) + 2
        cell = np.floor((points - (page.left, page.bottom)) / CELL).astype(int)
        cell = cell[((cell >= 0) & (cell < shape - 1)).all(axis=1)]
        raster = np.zeros(shape)
        raster[cell[:, 0] + 1, cell[:, 1] + 1] = 1.0
        self.sums = raster.cumsum(axis=0).cumsum(axis=1)

    def within(self, boxes: Floats) -> Floats:
        """(n,) filled cells in boxes (n, 4) left, bottom, right, top."""
        return self.counted(self.corners(*boxes.T))

    def corners(self, left: Floats, bottom: Floats, right: Floats, top: Floats) -> tuple[NDArray[np.intp], ...]:
        """Where on this page the sums stand that make up those of boxes whose sides are arrays (...)."""
        rows, columns = self.sums.shape
        one, low = self._before(left, self.page.left, rows), self._before(bottom, self.page.bottom, columns)
        other = self._before(right + CELL, self.page.left, rows)
        high = self._before(top + CELL, self.page.bottom, columns)
        one, other = one * columns, other * columns
        return other + high, one + high, other + low, one + low

    def counted(self, corners: tuple[NDArray[np.intp], ...]) -> Floats:
        """(...) filled cells in boxes whose ``corners`` are these."""
        all_, left, below, both = (self.sums.ravel()[at] for at in corners)
        return np.asarray(all_ - left - below + both)

    def _before(self, at: Floats, start: float, count: int) -> NDArray[np.intp]:
        """How many of ``count`` whole cells from ``start`` on lie before coordinates (...)."""
        return np.floor((at - start) / CELL).clip(0, count - 1).astype(np.intp)


def spaced(line: Floats) -> Floats:
    """Points (n, 2), less than 5 pixels apart, along a line through (m, 2), as ``placed`` wants them."""
    found = []
    for a, b in pairwise(line):
        count = int(np.hypot(*(b - a)) / 5.0) + 2
        found.append(a + np.linspace(0.0, 1.0, count)[:, None] * (b - a))
    return np.concatenate(found)


def placed(
    labels: Sequence[Label], drawn: Floats, lines: Floats, taken: Sequence[Box], page: Box
) -> list[Place | None]:
    """A place for each label, in the labels' order; None for one that is not needed and finds no room.

    drawn : (n, 2) points spread over the diver;  lines : (m, 2) points along lines and arrows, close together
    taken : room that is gone already
    """
    on_diver, on_line = _Counted(drawn, page), _Counted(lines, page)
    tried = [_tried(label, on_diver, on_line, page) for label in labels]
    order = list(range(len(labels)))
    first: set[int] = set()
    best: tuple[float, list[Place | None]] = (np.inf, [])
    for _ in range(TRIES):
        found, costs = _settled(labels, tried, taken, order)
        if sum(costs) < best[0]:
            best = (sum(costs), found)
        lost = {k: costs[k] - float(tried[k].cost.min()) for k in order if k not in first}
        worst = max(lost, key=lost.__getitem__, default=0)
        if not lost.get(worst, 0.0) > SORRY:
            break
        first.add(worst)
        order = [worst, *(k for k in order if k != worst)]  # who lost most to the others chooses first
    return best[1]


def _settled(
    labels: Sequence[Label], tried: Sequence[_Tried], taken: Sequence[Box], order: Sequence[int]
) -> tuple[list[Place | None], list[float]]:
    """Places and their costs, one label after the other going where it is best until none moves any more."""
    found: list[Place | None] = [None] * len(labels)
    costs = [0.0] * len(labels)
    looked: dict[int, list[Box]] = {}  # where the others were when a label last chose
    for _ in range(ROUNDS):
        before = list(found)
        for number in order:
            others = [p for k, p in enumerate(found) if p is not None and k != number]
            there = [p.box for p in others]
            if looked.get(number) == there:
                continue
            looked[number] = there
            place, costs[number] = tried[number].best(others, taken)
            found[number] = place if costs[number] < NEVER or labels[number].needed else None
        if all(_same(*pair) for pair in zip(before, found, strict=True)):
            break
    return found, costs


def _same(one: Place | None, other: Place | None) -> bool:
    return (None if one is None else one.box) == (None if other is None else other.box)


@dataclass(frozen=True, eq=False)
class _Tried:
    """Places a label may take: boxes (n, 4), leaders (n, 2, 2) or None, whether each is drawn (n,), costs (n,)."""

    boxes: Floats
    leaders: Floats
    led: NDArray[np.bool_]
    cost: Floats

    def best(self, others: Sequence[Place], taken: Sequence[Box]) -> tuple[Place, float]:
        """The cheapest and its cost, other labels and the lines that lead to them being as they are."""
        cost = self.cost.copy()
        solid = np.array([[b.left, b.bottom, b.right, b.top] for b in (*taken, *(p.box for p in others))])
        padded = self.boxes + np.array([-PAD, -PAD, PAD, PAD])
        if len(solid):
            cost += NEVER * _overlap(padded, solid).sum(axis=1)
            cost += NEVER * self.led * _through(self.leaders, solid).sum(axis=1)
        lines = np.array([p.leader for p in others if p.leader is not None])
        if len(lines):
            cost += NEVER * _through(lines, padded).sum(axis=0)
            cost += 3.0 * self.led * _cross(self.leaders, lines).sum(axis=1)
        chosen = int(cost.argmin())
        leader = self.leaders[chosen] if self.led[chosen] else None
        return Place(Box(*self.boxes[chosen].tolist()), leader), float(cost[chosen])


def _tried(label: Label, on_diver: _Counted, on_line: _Counted, page: Box) -> _Tried:
    """What can be tried, and what each costs by itself."""
    x, y = label.at
    middles = [(x + s * (AWAY + 0.5 * label.width), y + dy) for s in (1.0, -1.0) for dy in ALONG - 160.0]
    if label.ahead:
        middles = [(x + 14.0 + dx + 0.5 * label.width, y + dy) for dy in 0.5 * ALONG - 80.0 for dx in 0.5 * ALONG]
    else:
        middles += [
            (x + dx, y + s * (dy + 10.0 + 0.5 * label.height)) for s in (1, -1) for dy in ALONG for dx in ACROSS
        ]
    at, half = np.array(middles), np.array([0.5 * label.width, 0.5 * label.height])
    boxes = np.concatenate([at - half, at + half], axis=1)
    padded = boxes + np.array([-PAD, -PAD, PAD, PAD])
    off = (boxes[:, :2] < (page.left, page.bottom)).any(axis=1) | (boxes[:, 2:] > (page.right, page.top)).any(axis=1)
    area = np.prod(2.0 * half) / CELL**2
    anchor = np.array(label.at)
    ends = np.clip(anchor, boxes[:, :2], boxes[:, 2:])
    if label.lens:
        ends = np.stack([at[:, 0], boxes[:, 3] - label.lens], axis=1)
    away = ends - anchor
    far = np.hypot(*away.T)
    way = away / np.maximum(far, 1.0)[:, None]
    gap = far - label.lens
    leaders = np.stack([anchor + 4.0 * way, ends - (label.lens or 6.0) * way], axis=1)
    led = (gap > NEAR) & label.led & (not label.near)
    hidden = on_diver.within(boxes)
    cost = NEVER * off + NEVER * (on_line.within(padded) > 0.0) + 16.0 * label.hides * hidden / area
    if not label.lens:  # the circle shows what it covers
        cost += ON_DIVER * (hidden > 0.0)
    cost += NEVER * (label.near & (gap > NEAR))
    cost += gap / 90.0 + 1.5 * (label.side * (at[:, 1] - y) < -half[1])
    if label.lens:  # from above the leader would go through the words below the circle
        cost += NEVER * led * _pass(leaders, boxes - np.array([0.0, 0.0, 0.0, 2.0 * label.lens]))

    def crossed(k: NDArray[np.intp]) -> Floats:
        """What the leaders of the places ``k`` go over."""
        over, with_line = np.zeros(len(k)), led[k]
        lines, figure = _met(leaders[k][with_line], gap[k][with_line], on_line, on_diver)
        over[with_line] = 0.35 * lines + 0.12 * figure
        return np.asarray(cost[k] + over)

    kept, cost = _cheapest(cost, crossed)
    return _Tried(boxes[kept], leaders[kept], led[kept], cost)


def _cheapest(least: Floats, whole: Callable[[NDArray[np.intp]], Floats]) -> tuple[NDArray[np.intp], Floats]:
    """Numbers of the KEPT cheapest and their costs, ``whole`` of which is never below ``least`` and takes time."""
    order = np.argsort(least, kind="stable")
    near = np.sort(order[: LOOKED_INTO * KEPT])
    costs = whole(near)
    if len(near) < len(order) and not np.sort(costs)[KEPT - 1] < least[order[len(near)]]:
        near = np.arange(len(least))
        costs = whole(near)
    kept = np.argsort(costs, kind="stable")[:KEPT]
    return near[kept], costs[kept]


def _met(leaders: Floats, gap: Floats, *pages: _Counted) -> list[Floats]:
    """(n,) how much on each page leaders go over, the first pixels left out: there is what they lead to."""
    shares = np.linspace(0.0, 1.0, SAMPLES)
    x, y = (leaders[:, :1, k] + shares * (leaders[:, 1:, k] - leaders[:, :1, k]) for k in (0, 1))
    corners = pages[0].corners(x - 3.0, y - 3.0, x + 3.0, y + 3.0)
    away = shares * gap[:, None] > 14.0
    return [((page.counted(corners) > 0.0) & away).mean(axis=1) * gap / 7.0 for page in pages]


def _overlap(some: Floats, others: Floats) -> NDArray[np.bool_]:
    """(n, m) whether boxes (n, 4) and others (m, 4) have something in common."""
    (a, b, c, d), (left, bottom, right, top) = some.T[:, :, None], others.T[:, None]
    return np.asarray((a < right) & (b < top) & (c > left) & (d > bottom))


def _through(lines: Floats, boxes: Floats) -> NDArray[np.bool_]:
    """(n, m) whether lines (n, 2, 2) go through boxes (m, 4): whether they are in both of its bands at one time."""
    return _pass(lines[:, None], boxes[None])


def _pass(lines: Floats, boxes: Floats) -> NDArray[np.bool_]:
    """The same of lines (..., 2, 2) and boxes (..., 4), one with one."""
    enters: Floats | float = 0.0
    leaves: Floats | float = 1.0
    for axis in (0, 1):  # each by itself: least and greatest along an axis of two take many times as long
        start, along = lines[..., 0, axis], lines[..., 1, axis] - lines[..., 0, axis]
        along = 1.0 / np.where(along == 0.0, 1e-9, along)
        one, other = (boxes[..., axis] - start) * along, (boxes[..., axis + 2] - start) * along
        enters, leaves = np.maximum(enters, np.minimum(one, other)), np.minimum(leaves, np.maximum(one, other))
    return np.asarray(enters < leaves)


def _cross(some: Floats, others: Floats) -> NDArray[np.bool_]:
    """(n, m) whether lines (n, 2, 2) cross others (m, 2, 2)."""
    a, b = some[:, None, 0], some[:, None, 1]
    c, d = others[None, :, 0], others[None, :, 1]

    def side(start: Floats, end: Floats, point: Floats) -> Floats:
        along, aside = end - start, point - start
        return np.asarray(along[..., 0] * aside[..., 1] - along[..., 1] * aside[..., 0])

    return np.asarray((side(a, b, c) * side(a, b, d) < 0.0) & (side(c, d, a) * side(c, d, b) < 0.0))
