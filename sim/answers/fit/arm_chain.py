"""The left arm as a chain of links, and how near its hand comes to points when the shoulder is held so or so.

Body axes [m], trunk standing. The upper arm's direction is told by its elevation (0 hanging, pi overhead) and its
plane (0 straight ahead, pi/2 out to the side). Turned about itself by nothing, its elbow bends the way in which it
bends when the arm is lifted straight from hanging in that plane: forward and up, overhead to the back.
Below the elbow all is closed form: the wrist bends to any side (the forearm turns), and the hand holds a thing
anywhere between palm and fingers, so that forearm and hand are one link of variable length, held off the forearm's
own direction by at most a known angle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from sim.answers.fit.joint_ranges import ArmRanges
from sim.answers.fit.limits import ACROSS_DEG, OVER_SHOULDER_DEG

# along upper arm, and along forearm and hand, where it is looked whether something is in the way: the hand itself may
# touch what it holds
UPPER_ARM: Final = (0.3, 0.65, 1.0)
FOREARM: Final = (0.25, 0.5, 0.75)
BARRED: Final = 10.0  # m added where something is in the way: never the nearest


@dataclass(frozen=True, eq=False)
class Capsule:
    """Points within ``radius`` of the line from ``low`` to ``high`` (3,) [m]: the head in its hood, a cylinder."""

    low: Floats
    high: Floats
    radius: float


@dataclass(frozen=True, eq=False)
class Arm:
    """Left arm.

    shoulder : (3,) the joint, arm hanging;  upper, fore : shoulder to elbow, elbow to wrist [m]
    grip : least and greatest distance from the wrist at which the hand holds [m]
    rise : how far the joint has risen when the arm is overhead;  shrug : what an effort adds [m]
    bars : what neither upper arm nor forearm passes through;  thickness : half that of the arm where it presses [m]
    least : elevation from which on the upper arm is tried [rad]: level, where hands come over the shoulder
    """

    shoulder: Floats
    upper: float
    fore: float
    grip: tuple[float, float]
    rise: float
    shrug: float
    ranges: ArmRanges
    bars: tuple[Capsule, ...]
    thickness: float
    least: float = float(np.radians(OVER_SHOULDER_DEG))


@dataclass(frozen=True, eq=False)
class UpperArms:
    """Positions of the upper arm to be tried, k of them.

    shoulder, elbow : (k, 3) [m];  along, bend, turn : (k, 3) unit, the upper arm's direction, the way the elbow
        bends, and the way the hand goes when the bent arm is turned outward
    elevation, plane : (k,) [rad];  outward : (k,) greatest outward turn [rad]
    """

    shoulder: Floats
    elbow: Floats
    along: Floats
    bend: Floats
    turn: Floats
    elevation: Floats
    plane: Floats
    outward: Floats

    @cached_property
    def axes(self) -> Floats:
        """The three directions of each (k, 3, 3), one a row."""
        return np.stack([self.along, self.bend, self.turn], axis=1)


@dataclass(frozen=True, eq=False)
class Nearest:
    """The point of the hand's reach nearest to each of n targets, for each of k upper arms.

    short : (n, k) distance [m];  grip : (n, k, 3) that point;  elbow_flexion, outward_turn : (n, k) [rad] to it, of
    the line from the elbow;  slack : (n, k) [rad] by which the wrist lets the forearm lie off that line
    """

    short: Floats
    grip: Floats
    elbow_flexion: Floats
    outward_turn: Floats
    slack: Floats


def upper_arms(arm: Arm, fineness: int = 1) -> UpperArms:
    """Positions from ``arm.least`` upward that the ranges allow and nothing bars; the limits themselves among them.

    fineness : 1 is 6 degrees or less apart, 2 is half of that
    """
    planes = np.radians(np.linspace(-ACROSS_DEG, 120.0, 26 * fineness + 1))
    most = _highest(arm.ranges, planes)
    least = np.minimum(arm.least, most)
    share = np.linspace(0.0, 1.0, round(32 * (1.0 - arm.least / np.pi)) * fineness + 1)
    elevation = (least + share[:, None] * (most - least)).ravel()
    plane = np.tile(planes, len(share))
    tried = [_placed(arm, elevation, plane, effort) for effort in (0.0, 1.0)]
    both = UpperArms(*(np.concatenate([getattr(t, f) for t in tried]) for f in UpperArms.__dataclass_fields__))
    return _kept(both, clear(arm, both.shoulder, both.elbow, UPPER_ARM))


def _highest(ranges: ArmRanges, plane: Floats) -> Floats:
    """Greatest elevation: flexion from straight ahead to the side, from there falling to extension straight back."""
    back = np.clip((np.abs(plane) - 0.5 * np.pi) / (0.5 * np.pi), 0.0, 1.0)
    return np.asarray(ranges.flexion + back * (ranges.extension - ranges.flexion))


def _placed(arm: Arm, elevation: Floats, plane: Floats, effort: float) -> UpperArms:
    """Upper arms at elevations and planes (k,) [rad], the shoulder lifted by ``effort`` (0 to 1) of a shrug."""
    sine, cosine = np.sin(elevation), np.cos(elevation)
    side, ahead = np.sin(plane), np.cos(plane)
    nil = np.zeros_like(plane)
    along = np.stack([-cosine, sine * side, -sine * ahead], axis=-1)
    # straight ahead, turned along with the arm: its part in the plane goes up, that across the plane stays
    across = np.stack([nil, -ahead, -side], axis=-1)
    risen = np.stack([sine, cosine * side, -cosine * ahead], axis=-1)
    bend = ahead[:, None] * risen + side[:, None] * across
    up = 0.5 * (arm.rise + effort * arm.shrug) * (1.0 - cosine)
    shoulder = arm.shoulder + np.stack([up, nil, nil], axis=-1)
    raised = np.clip(elevation / (0.5 * np.pi), 0.0, 1.0)
    low, high = arm.ranges.outward
    return UpperArms(
        shoulder, shoulder + arm.upper * along, along, bend, np.cross(bend, along),
        elevation, plane, low + raised * (high - low),
    )  # fmt: skip


def _kept(arms: UpperArms, which: NDArray[np.bool_]) -> UpperArms:
    return replace(arms, **{f: getattr(arms, f)[which] for f in UpperArms.__dataclass_fields__})


def clear(arm: Arm, start: Floats, end: Floats, shares: tuple[float, ...]) -> NDArray[np.bool_]:
    """(...) whether the link from ``start`` to ``end`` (..., 3), looked at in ``shares`` of its length, is free."""
    free = np.full(np.broadcast_shapes(start.shape, end.shape)[:-1], True)
    for bar in arm.bars:
        axis, least = bar.high - bar.low, (bar.radius + arm.thickness) ** 2
        for share in shares:
            point = start + share * (end - start) - bar.low
            along = np.clip(point @ axis / (axis @ axis), 0.0, 1.0)
            off = point - along[..., None] * axis
            free &= np.einsum("...i,...i->...", off, off) > least
    return np.asarray(free)


def nearest(arm: Arm, arms: UpperArms, targets: Floats, length: Floats | None = None) -> Nearest:
    """How near the hand comes to ``targets`` (n, 3) with each of the upper arms.

    length : (n, k) or what spreads to it, from elbow to what is held [m]; that of the line to the target if None
    A forearm that passes through the head or a cylinder is barred. The distance is to a point that is reached, so
    never too small.
    """
    shape = len(targets), len(arms.elevation)
    n, k = (i.ravel() for i in np.indices(shape))
    line = targets[n] - arms.elbow[k]
    far = line_lengths(line)
    tried = held(arm, arms, k, line, far, far if length is None else np.broadcast_to(length, shape).ravel())
    free = clear(arm, arms.elbow[k], tried.grip, FOREARM)
    short = np.where(free, tried.short, tried.short + BARRED)
    rest = (tried.elbow_flexion, tried.outward_turn, tried.slack)
    return Nearest(short.reshape(shape), tried.grip.reshape(*shape, 3), *(v.reshape(shape) for v in rest))


def gets_to(arm: Arm, arms: UpperArms, targets: Floats, within: float) -> NDArray[np.bool_]:
    """(n,) whether with any of the upper arms the hand comes as near as ``within`` [m] to targets (n, 3).

    The same as by ``nearest``, but looks only at arms that could.
    """
    near, far = span(arm)
    away = targets[:, None] - arms.elbow
    squared = np.einsum("nki,nki->nk", away, away)
    n, k = np.nonzero((squared >= max(near - within, 0.0) ** 2) & (squared <= (far + within) ** 2))
    line = away[n, k]
    length = line_lengths(line)
    tried = held(arm, arms, k, line, length, length)
    there = np.flatnonzero(tried.short <= within)
    there = there[clear(arm, arms.elbow[k[there]], tried.grip[there], FOREARM)]
    return np.isin(np.arange(len(targets)), n[there])


@dataclass(frozen=True, eq=False)
class Lines:
    """Lines (m,) from elbows to targets, and how they lie to what the forearms may do, all [rad].

    flexion, turned : elbow flexion and outward turn along them;  over, aside : by how much beyond their ranges
    beyond : both as one angle;  slack : for so much of it the wrist makes good
    """

    flexion: Floats
    turned: Floats
    over: Floats
    aside: Floats
    beyond: Floats
    slack: Floats


def lines_to(arms: UpperArms, k: Ints, line: Floats) -> tuple[Floats, Floats, Floats]:
    """Parts (m,) of lines (m, 3) [m] along their upper arms ``k`` (m,), the way its elbow bends and the way it
    turns."""
    along, front, out = np.vecdot(arms.axes[k], line[:, None]).T
    return along, front, out


def lines_of(
    arm: Arm, outward: Floats, along: Floats, front: Floats, out: Floats, far: Floats, slack: Floats
) -> Lines:
    """Lines by their parts, see ``lines_to``; ``far`` (m,) long;  slack : of the wrist [rad]."""
    flexion, turned = np.arccos(_held_in(along / far, -1.0, 1.0)), np.arctan2(out, front)
    over = np.maximum(flexion - arm.ranges.elbow, 0.0)
    aside = turned - _held_in(turned, -arm.ranges.inward, outward)
    beyond = np.hypot(over, aside * np.sin(flexion))
    return Lines(flexion, turned, over, aside, beyond, slack)


def held(arm: Arm, arms: UpperArms, k: Ints, line: Floats, far: Floats, length: Floats) -> Nearest:
    """Nearest points for pairs (m,) of an upper arm ``k`` and a line (m, 3), ``far`` (m,) long, from its elbow to a
    target that is held ``length`` (m,) from the elbow, whatever is in the way. Fields (m,) and (m, 3)."""
    length = _held_in(length, *span(arm))
    parts = lines_to(arms, k, line)
    to = lines_of(arm, arms.outward[k], *parts, far, slack_at(arm, length))
    bent, turn, way = _brought(to, to.slack)
    short = np.sqrt(sum((part - length * w) ** 2 for part, w in zip(parts, way, strict=True)))
    return Nearest(short, grips(arms, k, length, way), bent, turn, to.slack)


def held_at_lengths(
    arm: Arm, arms: UpperArms, k: Ints, line: Floats, lengths: Floats
) -> tuple[Floats, Floats, tuple[Floats, Floats, Floats]]:
    """The same (m, l + 1) for what is held as far away as the target, and ``lengths`` (l,) [m] from the elbow.

    How short the hand stays [m]; the length [m]; and the way to it, which ``grips`` take.
    """
    far, parts = line_lengths(line), lines_to(arms, k, line)
    own = _held_in(far, *span(arm))
    to = lines_of(arm, arms.outward[k], *parts, far, slack_at(arm, own))
    tried = np.concatenate([own[:, None], np.broadcast_to(lengths, (len(k), len(lengths)))], axis=1)
    fixed = np.broadcast_to(slack_at(arm, lengths), (len(k), len(lengths)))
    wide = Lines(*(values[:, None] for values in (to.flexion, to.turned, to.over, to.aside, to.beyond, to.slack)))
    _, _, way = _brought(wide, np.concatenate([wide.slack, fixed], axis=1))
    short = np.sqrt(sum((part[:, None] - tried * w) ** 2 for part, w in zip(parts, way, strict=True)))
    return short, tried, way


def _brought(to: Lines, slack: Floats) -> tuple[Floats, Floats, tuple[Floats, Floats, Floats]]:
    """Elbow flexion and outward turn [rad] of the forearm's line where it comes nearest to lines, and the parts of
    that way as ``lines_to`` has them."""
    short_of = 1.0 - np.minimum(slack / np.maximum(to.beyond, 1e-9), 1.0)
    bent, turn = to.flexion - short_of * to.over, to.turned - short_of * to.aside
    sine = np.sin(bent)
    return bent, turn, (np.cos(bent), sine * np.cos(turn), sine * np.sin(turn))


def grips(arms: UpperArms, k: Ints, length: Floats, way: Sequence[Floats]) -> Floats:
    """Points (m, 3) [m] ``length`` (m,) from the elbows of upper arms ``k``, along a way of three parts (m,)."""
    parts = length[:, None] * np.stack(way, axis=-1)
    return np.asarray(arms.elbow[k] + np.einsum("mi,mij->mj", parts, arms.axes[k]))


def _held_in(values: Floats, low: float, high: float | Floats) -> Floats:
    """Values between two ends: quicker for few than ``np.clip``."""
    return np.asarray(np.minimum(np.maximum(values, low), high))


def line_lengths(line: Floats) -> Floats:
    return np.asarray(np.maximum(np.sqrt(np.einsum("mi,mi->m", line, line)), 1e-9))


def span(arm: Arm) -> tuple[float, float]:
    """Least and greatest distance from the elbow to what the hand holds [m]."""
    near, far = arm.grip
    folded = np.sqrt(arm.fore**2 + near**2 + 2.0 * arm.fore * near * np.cos(arm.ranges.wrist))
    return float(folded), arm.fore + far


def slack_at(arm: Arm, length: Floats) -> Floats:
    """Angle [rad] by which the forearm may lie off the line from elbow to hand, when that is ``length`` long [m]."""
    fore, far, most = arm.fore, arm.grip[1], arm.ranges.wrist
    hand = np.sqrt(np.maximum(length**2 - (fore * np.sin(most)) ** 2, 0.0)) - fore * np.cos(most)
    bend = np.arccos(_held_in((length**2 - fore**2 - far**2) / (2.0 * fore * far), -1.0, 1.0))
    inside = hand <= far
    return np.arcsin(_held_in(np.where(inside, hand, far) * np.sin(np.where(inside, most, bend)) / length, 0.0, 1.0))
