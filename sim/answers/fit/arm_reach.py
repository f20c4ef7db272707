"""How far a hand reaches: how much lower a thing could lie and still be held, or how far short of it the hand is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.fit.arm_chain import BARRED, Arm, Nearest, UpperArms, gets_to, nearest, span, upper_arms
from sim.telling.record import Told

REACHED: Final = 0.0015  # m: the positions tried are so dense that a point within reach shows no more than this
LENGTHS: Final = 9  # of forearm and hand tried for a point out of reach; twice as many change 1 mm
LOWEST: Final = 0.32  # m, how far down it is looked for the last point within reach
MORE_ANGLE: Final = 0.1745  # rad (10 degrees) and
MORE_ARM: Final = 0.02  # m in each link, given to find out what limits a reach
LIMITS: Final = (
    "shoulder flexion",
    "turn of the upper arm",
    "elbow flexion",
    "length of the arm",
    "what is in the way",
)


@dataclass(frozen=True, eq=False)
class Posture:
    """An arm reaching; points (3,) in body axes."""

    shoulder: Annotated[Floats, Told("point of the arm at the knob, or as near as it gets", "m")]
    elbow: Annotated[Floats, Told("point", "m")]
    wrist: Annotated[Floats, Told("point", "m")]
    grip: Annotated[Floats, Told("point: what the hand holds", "m")]
    elevation: Annotated[float, Told("upper arm from hanging, 180 overhead", "deg", key="arm_raised_deg")]
    plane: Annotated[float, Told("its plane: 0 straight ahead, 90 to the side", "deg", key="arm_outward_deg")]
    outward_turn: Annotated[float, Told("of the upper arm about itself", "deg")]
    elbow_flexion: Annotated[float, Told("0 straight", "deg")]
    wrist_bend: Annotated[float, Told("to whichever side", "deg")]


def shortfalls(arm: Arm, targets: Floats, arms: UpperArms | None = None) -> Floats:
    """How far (n,) [m] the hand stays short of targets (n, 3); below ``REACHED`` it is there. inf: no way at all."""
    tried = upper_arms(arm) if arms is None else arms
    if not len(tried.elevation):
        return np.full(len(targets), np.inf)
    short = nearest(arm, tried, targets).short.min(axis=1)
    for i in np.flatnonzero(short > REACHED):
        short[i] = float(_at_any_length(arm, tried, targets[i]).short.min())
    return np.where(short < BARRED, short, np.inf)


def reached(arm: Arm, targets: Floats, tried: UpperArms) -> NDArray[np.bool_]:
    """(n,) whether the hand gets to targets (n, 3)."""
    return gets_to(arm, tried, targets, REACHED)


def _at_any_length(arm: Arm, tried: UpperArms, target: Floats) -> Nearest:
    """Nearest points (m, k) to a target (3,) out of reach, forearm and hand of any of m lengths, the first its own
    distance: there they may be held back further than need be."""
    own = np.linalg.norm(target - tried.elbow, axis=1)
    lengths = np.vstack([own, np.repeat(np.linspace(*span(arm), LENGTHS)[:, None], len(own), axis=1)])
    return nearest(arm, tried, np.repeat(target[None], len(lengths), axis=0), lengths)


def reach_margin(arm: Arm, target: Floats, arms: UpperArms | None = None) -> float:
    """Margin [m] of the hand at a target (3,): plus, how much further footward it could lie and still be reached;
    minus, how far the hand stays short of it, -inf where there is no way to it.
    At most ``LOWEST``; within 3 mm of finer trials.
    """
    tried = upper_arms(arm) if arms is None else arms
    if not len(tried.elevation):
        return -np.inf
    if not reached(arm, target[None], tried)[0]:
        return -float(shortfalls(arm, target[None], tried)[0])
    return _lower(arm, target, tried, np.inf)


def reaches(arm: Arm, target: Floats, by: float, arms: UpperArms | None = None) -> bool:
    """Whether ``reach_margin`` is ``by`` or more, which is above 0 [m]: told sooner."""
    tried = upper_arms(arm) if arms is None else arms
    there = len(tried.elevation) > 0 and reached(arm, target[None], tried)[0]
    return bool(there and _lower(arm, target, tried, by) >= by)


def _lower(arm: Arm, target: Floats, tried: UpperArms, enough: float) -> float:
    """How much [m] below a target (3,) within reach the hand gets as well; no closer than that it is ``enough``."""
    down = np.array([-1.0, 0.0, 0.0])
    low, step = 0.0, LOWEST / 8.0
    for _ in range(3):
        below = low + step * np.arange(1, 9)
        beyond = np.flatnonzero(~reached(arm, target + below[:, None] * down, tried))
        if not len(beyond):
            return float(below[-1])
        low, step = float(below[beyond[0]] - step), step / 8.0
        if low >= enough:
            return low
    return low + 4.0 * step


def limited_by(arm: Arm, target: Floats, margin: float) -> str:
    """Which of ``LIMITS``, made a little larger, would bring the hand nearest to where it no longer gets."""
    beyond = (target - [max(margin, 0.0) + 0.02, 0.0, 0.0])[None]
    r = arm.ranges
    low, high = r.outward
    freer = (
        replace(arm, ranges=replace(r, flexion=min(r.flexion + MORE_ANGLE, np.pi))),
        replace(arm, ranges=replace(r, outward=(low + MORE_ANGLE, high + MORE_ANGLE), inward=r.inward + MORE_ANGLE)),
        replace(arm, ranges=replace(r, elbow=r.elbow + MORE_ANGLE)),
        replace(arm, upper=arm.upper + MORE_ARM, fore=arm.fore + MORE_ARM),
        replace(arm, bars=tuple(replace(b, radius=max(b.radius - MORE_ARM, 0.0)) for b in arm.bars)),
    )
    left = [float(shortfalls(a, beyond)[0]) for a in freer]
    return LIMITS[int(np.argmin(left))]


def posture(arm: Arm, target: Floats, arms: UpperArms | None = None) -> Posture:
    """The arm at a target (3,) or as near it as it gets; of all that reach it, the one least raised and bent."""
    tried = upper_arms(arm) if arms is None else arms
    every = _at_any_length(arm, tried, target)
    length = int(np.argmin(np.maximum(every.short.min(axis=1), REACHED)))
    found = replace(every, **{f: getattr(every, f)[length] for f in Nearest.__dataclass_fields__})
    effort = tried.elevation + 0.3 * found.elbow_flexion
    k = int(np.argmin(np.where(found.short <= REACHED, effort, 1e3 + found.short)))
    elbow, grip = tried.elbow[k], found.grip[k]
    wrist = elbow + arm.fore * _forearm(arm, tried, k, grip - elbow, float(found.slack[k]))
    fore, hand = (wrist - elbow) / arm.fore, grip - wrist
    turned = np.arctan2(fore @ tried.turn[k], fore @ tried.bend[k])
    return Posture(
        tried.shoulder[k], elbow, wrist, grip, float(tried.elevation[k]), float(tried.plane[k]), float(turned),
        _angle(fore, tried.along[k]), _angle(hand, fore),
    )  # fmt: skip


def _forearm(arm: Arm, tried: UpperArms, k: int, line: Floats, slack: float) -> Floats:
    """Direction (3,) of the forearm for a hand at ``line`` (3,) from the elbow: within ranges, wrist least bent."""
    far = float(np.linalg.norm(line))
    first = line / far
    second = np.cross(first, tried.turn[k] if abs(first @ tried.turn[k]) < 0.9 else tried.bend[k])
    second /= np.linalg.norm(second)
    third = np.cross(first, second)
    off, round_ = (a.ravel() for a in np.meshgrid(np.linspace(0.0, slack, 25), np.linspace(0.0, 2.0 * np.pi, 145)))
    ways = np.cos(off)[:, None] * first
    ways = ways + np.sin(off)[:, None] * (np.cos(round_)[:, None] * second + np.sin(round_)[:, None] * third)
    hand = line - arm.fore * ways
    held = np.linalg.norm(hand, axis=1)
    bend = np.arccos(np.clip(np.einsum("ij,ij->i", hand, ways) / held, -1.0, 1.0))
    flexion = np.arccos(np.clip(ways @ tried.along[k], -1.0, 1.0))
    turn = np.arctan2(ways @ tried.turn[k], ways @ tried.bend[k])
    # how far beyond its range each joint is [rad], and the hand's hold [m]; 0 where all is well
    beyond = np.maximum(flexion - arm.ranges.elbow, 0.0) + np.maximum(bend - arm.ranges.wrist, 0.0)
    beyond += np.maximum(turn - tried.outward[k], 0.0) + np.maximum(-arm.ranges.inward - turn, 0.0)
    beyond += 10.0 * (np.maximum(arm.grip[0] - held, 0.0) + np.maximum(held - arm.grip[1], 0.0))
    return np.asarray(ways[np.argmin(1e3 * np.maximum(beyond - 0.01, 0.0) + bend)])


def _angle(a: Floats, b: Floats) -> float:
    return float(np.arccos(np.clip(a @ b / (np.linalg.norm(a) * np.linalg.norm(b)), -1.0, 1.0)))
