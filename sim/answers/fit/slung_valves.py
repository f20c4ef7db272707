"""Whether a hand turns the valve of a cylinder that hangs at the side or under the chest.

Such a valve lies near the armpit or before the chest, so that the hand comes to it from below and in front, not over
the shoulder: the upper arm is tried from hanging upward, trunk and cylinders in its way, and either hand may do it.
The trunk is a tube as deep as the chest is over the suit, which is narrower than the trunk: at the flanks an arm may
be let pass where it would not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.gear.valve import valve
from meshes.memoized import memoized_on_body
from sim.answers.fit.arm_chain import Arm, Capsule
from sim.answers.fit.arm_reach import limited_by, posture, reach_margin
from sim.answers.fit.reach import SIDES, HandReach, Side, in_the_way, left_arm, mirrored_arm, own_side, shoulder_lack
from sim.assembly.assembled import Mobility, Worn
from sim.hanging import Hanging, Point, cylinder_frame
from sim.person.posed_body import PosedBody
from sim.rig import Part
from sim.said import known, note

PEOPLE: Final = ("usual", "stiff", "supple")
ROOM: Final = 0.01  # m that the chest gives way to an arm that presses on it (assumed)


@dataclass(frozen=True)
class Slung:
    """A cylinder that hangs, in body axes [m].

    knob : the end of its valve's;  low, high : ends of its middle line, as far as it is as thick as ``radius``
    """

    name: str
    knob: Point
    low: Point
    high: Point
    radius: float


@dataclass(frozen=True)
class Clothes:
    """What of the clothing counts [m]."""

    trunk: float
    hood: float


def slung_reach(worn: Worn, parts: Sequence[Part]) -> tuple[HandReach, ...]:
    """The better hand at the valve of each cylinder among ``parts`` that hangs on lines."""
    cylinders = tuple(slung(p.name, p.hangs) for p in parts if p.hangs is not None)
    if not cylinders:
        return ()
    return _reach(worn.body, worn.mobility, Clothes(worn.clothing, worn.hood), cylinders)


def slung(name: str, hanging: Hanging) -> Slung:
    """Where valve and cylinder are of one that hangs so."""
    turn, origin = cylinder_frame(hanging)
    how, made = hanging.how, valve(mirror=hanging.side < 0.0)
    knob = origin + turn @ (made.knob + [how.collar, 0.0, 0.0])
    ends = [origin + turn[:, 0] * x for x in (how.radius, how.shoulder - 0.5 * how.radius)]
    (kx, ky, kz), (ax, ay, az), (bx, by, bz) = (np.round(p, 6).tolist() for p in (knob, *ends))
    return Slung(name, (kx, ky, kz), (ax, ay, az), (bx, by, bz), how.radius)


@memoized_on_body
def _reach(
    body: PosedBody, mobility: Mobility, clothes: Clothes, cylinders: tuple[Slung, ...]
) -> tuple[HandReach, ...]:
    arms = {(side, p): _arm(body, mobility, clothes, cylinders, side, p) for side in SIDES for p in PEOPLE}
    return tuple(_better(one, arms) for one in cylinders)


def _arm(
    body: PosedBody, mobility: Mobility, clothes: Clothes, cylinders: tuple[Slung, ...], side: Side, people: str
) -> Arm:
    """The arm of one side as a left arm, from hanging upward."""
    lines = np.array([(c.low, c.high) for c in cylinders])
    bars = [bar for c, line in zip(cylinders, lines, strict=True) for bar in in_the_way(line[None], c.radius, side)]
    arm = left_arm(
        body.person, shoulder_lack(mobility, side), elbow_off=mobility.elbow_bulk, clothing=clothes.trunk,
        hood=clothes.hood, people=people, cylinders=(*bars, _chest(body, clothes.trunk)),
    )  # fmt: skip
    return replace(arm, least=0.0)


def _chest(body: PosedBody, clothing: float) -> Capsule:
    front, back = float(body.landmarks["sternum"][2]), float(body.landmarks["sacrum"][2])
    middle, radius = 0.5 * (front + back), 0.5 * (back - front) + clothing - ROOM
    heights = body.person.skeleton.heights
    top = heights["axilla"] - radius + 0.05
    return Capsule(np.array([0.0, 0.0, middle]), np.array([top, 0.0, middle]), radius)


def _better(one: Slung, arms: dict[tuple[Side, str], Arm]) -> HandReach:
    knob = np.array(one.knob)
    margins = {side: reach_margin(arms[side, "usual"], own_side(side, knob)) for side in SIDES}
    side = max(SIDES, key=lambda s: margins[s])
    arm, at = arms[side, "usual"], own_side(side, knob)
    stiff, supple = (reach_margin(arms[side, p], at) for p in ("stiff", "supple"))
    there = posture(arm, at)
    if side == "right":
        there = mirrored_arm(there)
    limit = limited_by(arm, at, margins[side])
    return HandReach(
        note("valve of {cylinder}", cylinder=known(one.name)), side, knob, margins[side], stiff, supple, limit, there
    )
