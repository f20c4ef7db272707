"""How far one arm reaches to many things at once, each with cylinders of its own in the way.

The same positions, rules and steps as for one target in ``arm_reach``, so that both say the same. What is saved: the
positions past the head are the same for all; cylinders are looked at only where a hand gets there otherwise; and the
upper arms that reached the last place are tried first at the next.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from sim.answers.fit.arm_chain import (
    FOREARM,
    UPPER_ARM,
    Arm,
    UpperArms,
    grips,
    held,
    held_at_lengths,
    line_lengths,
    lines_of,
    slack_at,
    span,
)
from sim.answers.fit.arm_reach import LENGTHS, LOWEST, REACHED

Flags = NDArray[np.bool_]
STEPS: Final = 8  # from one level of the search for the last point within reach to the next, and
LEVELS: Final = 3
TRIED_FIRST: Final = 24  # upper arms that reached the last place
NEARLY: Final = 0.05  # rad beyond all slack, several times as much as brings a hand ``REACHED`` away from a thing
SMALL: Final = 1e-9  # m
NEAREST_FIRST: Final = 80  # upper arms that may come nearest, tried before the rest is ruled out


@dataclass(frozen=True, eq=False)
class Reaches:
    """One arm, and c things that it may reach.

    arm : what bars it everywhere, as the head does;  arms : k positions of its upper arm, clear of that
    bars : which of r rigs is in the way to each target (c,)
    ends : (r, b, 2, 3) of the middle lines of what bars the arm with each, head and cylinders
    least : (b,) squares of how far from these the middle lines of the arm stay [m^2]
    targets : (c, 3)
    """

    arm: Arm
    arms: UpperArms
    bars: Ints
    ends: Floats
    least: Floats
    targets: Floats


def reaches(arm: Arm, arms: UpperArms, bars: Ints, cylinders: Floats, radius: float, targets: Floats) -> Reaches:
    """See ``Reaches``; ``cylinders`` : ends (r, b, 2, 3) of their middle lines, of one ``radius`` [m]."""
    own = np.array([[bar.low, bar.high] for bar in arm.bars]).reshape(-1, 2, 3)
    ends = np.concatenate([np.broadcast_to(own, (len(cylinders), *own.shape)), cylinders], axis=1)
    radii = np.array([*(bar.radius for bar in arm.bars), *[radius] * cylinders.shape[1]])
    least = (radii + arm.thickness) ** 2
    return Reaches(arm, arms, bars, ends, least, targets)


def reach_margins(of: Reaches) -> Floats:
    """Margin (c,) [m] at each target: see ``arm_reach.reach_margin``."""
    margins = np.full(len(of.targets), -np.inf)
    every = np.arange(len(margins))
    there, hints = _reached(of, every, of.targets)
    margins[there] = _lower(of, every[there], hints[there])
    margins[~there] = -_shortfalls(of, every[~there])
    return margins


def within_reach(of: Reaches, by: float) -> Flags:
    """Whether the margin (c,) is ``by`` or more, which is above 0 [m]: told sooner."""
    every = np.arange(len(of.targets))
    there, hints = _reached(of, every, of.targets)
    enough = np.zeros(len(every), dtype=bool)
    cases, hints = every[there], hints[there]
    low, step = np.zeros(len(cases)), LOWEST / STEPS
    for _ in range(LEVELS):
        needed = np.ceil(np.round((by - low) / step, 6)).max(initial=1.0)
        below = low[:, None] + step * np.arange(1, int(min(needed, STEPS)) + 1)
        missed = _first_missed(of, cases, below, hints)
        low = low + step * missed
        passed = low >= by - 1e-12
        enough[cases[passed]] = True
        unsure = ~passed & (low + step > by + 1e-12)
        cases, low, hints, step = cases[unsure], low[unsure], hints[unsure], step / STEPS
    return enough


def _lower(of: Reaches, cases: Ints, hints: Ints) -> Floats:
    """How much [m] below a target that is within reach the hand gets as well, (m,) of the cases."""
    found = np.zeros(len(cases))
    open_, low, step = np.arange(len(cases)), np.zeros(len(cases)), LOWEST / STEPS
    for _ in range(LEVELS):
        below = low[open_, None] + step * np.arange(1, STEPS + 1)
        missed = _first_missed(of, cases[open_], below, hints)
        whole = missed == STEPS
        found[open_[whole]] = below[whole, -1]
        low[open_] = below[np.arange(len(open_)), np.minimum(missed, STEPS - 1)] - step
        open_, hints, step = open_[~whole], hints[~whole], step / STEPS
    found[open_] = low[open_] + 0.5 * STEPS * step
    return found


def _first_missed(of: Reaches, cases: Ints, below: Floats, hints: Ints) -> Ints:
    """Which (m,) of the places ``below`` (m, s) the targets [m] is the first that the hand does not get to; s: none.

    hints : (m, h) upper arms that got to the target or to the last place above, -1 for none; better ones are written
        into it
    """
    places = of.targets[cases, None] - below[..., None] * [1.0, 0.0, 0.0]
    got = _by_hints(of, cases, places, hints)
    first = _first_false(got)
    unsure = np.flatnonzero(first < below.shape[1])
    while len(unsure):
        at = first[unsure]
        there, better = _reached(of, cases[unsure], places[unsure, at])
        unsure, at = unsure[there], at[there]
        got[unsure, at], hints[unsure] = True, better[there]
        got[unsure] |= _by_hints(of, cases[unsure], places[unsure], hints[unsure])
        first[unsure] = _first_false(got[unsure])
        unsure = unsure[first[unsure] < below.shape[1]]
    return first


def _first_false(flags: Flags) -> Ints:
    """Where (m,) the first False of each row (m, s) is; s where there is none."""
    return np.asarray(np.where(flags.all(axis=1), flags.shape[1], flags.argmin(axis=1)))


def _by_hints(of: Reaches, cases: Ints, places: Floats, hints: Ints) -> Flags:
    """Whether (m, s) one of the hinted upper arms (m, h) gets the hand to each of the places (m, s, 3)."""
    row, step, which = np.indices((*places.shape[:2], hints.shape[1])).reshape(3, -1)
    known = hints[row, which] >= 0
    row, step, which = row[known], step[known], which[known]
    there = _gets_there(of, cases[row], hints[row, which], places[row, step])
    got = np.zeros(places.shape[:2], dtype=bool)
    got[row[there], step[there]] = True
    return got


def _reached(of: Reaches, cases: Ints, places: Floats) -> tuple[Flags, Ints]:
    """Whether (m,) the hand gets to places (m, 3), and some of the upper arms with which it does (m, h), or -1."""
    row, k = _promising(of, places)
    there = _gets_there(of, cases[row], k, places[row])
    row, k = row[there], k[there]
    count = np.bincount(row, minlength=len(cases))
    rank = np.arange(len(row)) - (np.cumsum(count) - count)[row]
    hints = np.full((len(cases), TRIED_FIRST), -1)
    hints[row, rank * TRIED_FIRST // np.maximum(count, TRIED_FIRST)[row]] = k
    return count > 0, hints


def _promising(of: Reaches, places: Floats) -> tuple[Ints, Ints]:
    """Pairs (p,) of places (m, 3) and upper arms with which the hand may get there, what is in its way aside."""
    arms, (near, far) = of.arms, span(of.arm)
    squared = _squared_from_elbows(arms, places)
    in_span = (squared >= max(near - REACHED, 0.0) ** 2) & (squared <= (far + REACHED) ** 2)
    row, k = np.nonzero(in_span)
    distance = np.sqrt(squared[row, k])
    axes = (arms.along, arms.bend, arms.turn)
    along, front, out = (_along(arms.elbow, axis, places)[row, k] for axis in axes)
    to = lines_of(of.arm, arms.outward[k], along, front, out, distance, slack_at(of.arm, distance))
    promising = to.beyond <= to.slack + NEARLY
    return row[promising], k[promising]


def _gets_there(of: Reaches, cases: Ints, k: Ints, places: Floats) -> Flags:
    """Whether (p,) the hand gets to places (p, 3) with upper arms ``k`` (p,), past what is in the way."""
    got = np.zeros(len(places), dtype=bool)
    if not len(places):
        return got
    line = places - of.arms.elbow[k]
    far = line_lengths(line)
    found = held(of.arm, of.arms, k, line, far, far)
    there = np.flatnonzero(found.short <= REACHED)
    if not len(there):
        return got
    there = there[_past(of, cases[there], of.arms.elbow[k[there]], found.grip[there], FOREARM)]
    got[there] = _past(of, cases[there], of.arms.shoulder[k[there]], of.arms.elbow[k[there]], UPPER_ARM)
    return got


def _past(of: Reaches, cases: Ints, start: Floats, end: Floats, shares: tuple[float, ...]) -> Flags:
    """Whether (p,) links from ``start`` to ``end`` (p, 3) pass by what is in the way in their cases.

    shares : of a link's length, where it is looked at
    """
    ends = of.ends[of.bars[cases]]
    low = ends[:, :, 0]
    axis, first, link = ends[:, :, 1] - low, start[:, None] - low, (end - start)[:, None]
    pairs = (axis, axis), (first, axis), (link, axis), (first, first), (first, link), (link, link)
    long, on, by, off, way, far = (_dot(u, v)[..., None] for u, v in pairs)
    share = np.array(shares)
    at = on + share * by
    along = np.minimum(np.maximum(at / long, 0.0), 1.0)
    squared = off + share * (2.0 * way + share * far) + along * (along * long - 2.0 * at)
    return np.asarray((squared > of.least[:, None]).all(axis=(1, 2)))


def _dot(a: Floats, b: Floats) -> Floats:
    return np.asarray(np.einsum("pbi,pbi->pb", a, b))


def _shortfalls(of: Reaches, cases: Ints) -> Floats:
    """How far (m,) [m] the hand stays short of targets that it does not reach: see ``arm_reach.shortfalls``."""
    arms, lengths = of.arms, np.linspace(*span(of.arm), LENGTHS)
    far = np.sqrt(np.maximum(_squared_from_elbows(arms, of.targets[cases]), 0.0))
    along = _along(arms.elbow, arms.along, of.targets[cases])
    # no hand comes nearer than this: the shell that it reaches, and how far the elbow bends
    slack = np.maximum(slack_at(of.arm, np.clip(far, lengths[0], lengths[-1])), slack_at(of.arm, lengths).max())
    bent = np.arccos(np.clip(along / np.maximum(far, SMALL), -1.0, 1.0)) - of.arm.ranges.elbow
    off = np.abs(far - np.clip(far, lengths[0], lengths[-1]))
    least = np.maximum(off, far * np.sin(np.clip(bent - slack, 0.0, 0.5 * np.pi)))
    best, order = np.full(len(cases), np.inf), np.argsort(least, axis=1)
    for some in (order[:, :NEAREST_FIRST], order[:, NEAREST_FIRST:]):
        row, k = np.repeat(np.arange(len(cases)), some.shape[1]), some.ravel()
        nearer = least[row, k] < best[row] + SMALL
        row, k = row[nearer], k[nearer]
        if len(row):
            np.minimum.at(best, row, _nearest(of, cases[row], k, lengths, best[row]))
    return best


def _nearest(of: Reaches, cases: Ints, k: Ints, lengths: Floats, known: Floats) -> Floats:
    """How near (p,) [m] the hand comes to targets with upper arms ``k`` (p,); inf: no way, or no nearer than is
    ``known`` (p,).

    lengths : (l,) from elbow to what is held, tried besides that of the target itself [m]
    """
    best, arms = np.full(len(k), np.inf), of.arms
    free = np.flatnonzero(_past(of, cases, arms.shoulder[k], arms.elbow[k], UPPER_ARM))
    line = of.targets[cases[free]] - arms.elbow[k[free]]
    short, length, way = held_at_lengths(of.arm, arms, k[free], line, lengths)
    row, column = np.nonzero(short < known[free, None])
    these = free[row]
    grip = grips(arms, k[these], length[row, column], [part[row, column] for part in way])
    there = _past(of, cases[these], arms.elbow[k[these]], grip, FOREARM)
    np.minimum.at(best, these[there], short[row[there], column[there]])
    return best


def _squared_from_elbows(arms: UpperArms, places: Floats) -> Floats:
    """Squared distances (m, k) [m^2] of places (m, 3) from the elbows."""
    own = np.einsum("ki,ki->k", arms.elbow, arms.elbow)
    return np.asarray(np.einsum("mi,mi->m", places, places)[:, None] + own - 2.0 * places @ arms.elbow.T)


def _along(elbow: Floats, axis: Floats, places: Floats) -> Floats:
    """How far (m, k) [m] places (m, 3) lie from elbows along unit directions, both (k, 3)."""
    return np.asarray(places @ axis.T - np.einsum("ki,ki->k", elbow, axis))
