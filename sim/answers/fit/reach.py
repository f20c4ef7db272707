"""Whether each hand turns its valve with the rig worn, and by how much it does or does not."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, Final, Literal

import numpy as np
from numpy.typing import NDArray

from meshes.body.kinematics import SHOULDER_RISE
from meshes.mesh import Floats
from meshes.solid import MIRROR
from sim.answers.fit import limits
from sim.answers.fit.arm_chain import Arm, Capsule, upper_arms
from sim.answers.fit.arm_reach import Posture, limited_by, posture, reach_margin, reached
from sim.answers.fit.joint_ranges import arm_ranges
from sim.assembly.assembled import Mobility, Worn
from sim.assembly.back_cylinders import BackCylinders
from sim.assembly.placement import point_at
from sim.person.person import Person
from sim.said import word
from sim.telling.record import Told

Side = Literal["left", "right"]
SIDES: Final[tuple[Side, Side]] = ("left", "right")


@dataclass(frozen=True, eq=False)
class HandReach:
    """One hand at one valve; points (3,) in body axes."""

    valve: Annotated[
        str,
        Told('"left valve", "right valve", "isolator", "valve" of a single cylinder, or "valve of" one that hangs'),
    ]
    hand: Annotated[Side, Told('the hand that does better: "left" or "right"')]
    at: Annotated[Floats, Told("point: the knob's end", "m", key="knob_m")]
    margin: Annotated[
        float,
        Told(
            "how much lower the knob could lie and still be reached; below 0 how far the hand stays short",
            "m",
            none="no way at all",
        ),
    ]
    stiff: Annotated[
        float,
        Told(
            "the same with shoulders as stiff as 1 in 20 people of that sex has",
            "m",
            none="no way at all",
            key="margin_stiff_m",
        ),
    ]
    supple: Annotated[
        float, Told("the same with shoulders as supple", "m", none="no way at all", key="margin_supple_m")
    ]
    limited_by: Annotated[str, Told("what ends the reach")]
    posture: Annotated[Posture, Told("the arm there", beside=True)]


def left_arm(
    person: Person, taken_off: float, *, elbow_off: float = 0.0, clothing: float = 0.0, hood: float = 0.0,
    grip: tuple[float, float] = (limits.PALM, limits.PINCH), people: str = "usual",
    cylinders: tuple[Capsule, ...] = (),
) -> Arm:  # fmt: skip
    """The person's left arm (the right one is its mirror image), shoulder range less ``taken_off`` [rad].

    clothing, hood : thickness [m];  cylinders : in the arm's way, besides the head
    grip : shares of hand length from the wrist at which the hand holds
    people : "stiff", "usual" or "supple" shoulders
    """
    joints, heights, m = person.skeleton.joints, person.skeleton.heights, person.skeleton.measures
    skull = 0.5 * m["headbreadth"]
    long, aside = heights["vertex"] - skull - joints["neck"][0], np.radians(limits.HEAD_ASIDE_DEG)
    crown = joints["neck"] + [long * np.cos(aside), -long * np.sin(aside), -0.03]
    return Arm(
        shoulder=joints["shoulder"],
        upper=float(joints["shoulder"][0] - joints["elbow"][0]),
        fore=float(joints["elbow"][0] - joints["wrist"][0]),
        grip=(grip[0] * m["handlength"], grip[1] * m["handlength"]),
        rise=SHOULDER_RISE * person.height,
        shrug=limits.SHRUG * person.height,
        ranges=arm_ranges(person.sex, person.age, taken_off, elbow_off, people),
        bars=(Capsule(joints["neck"], crown, skull + hood), *cylinders),
        thickness=limits.PRESSED_FLESH * (m["bicepscircumferenceflexed"] / (2.0 * np.pi) + clothing),
    )


def worn_arm(
    worn: Worn, side: Side, *, people: str = "usual", grip: tuple[float, float] = (limits.PALM, limits.PINCH)
) -> Arm:
    """The arm of one side in what is worn, as a left arm: mirror its targets for the right one."""
    return left_arm(
        worn.body.person, shoulder_lack(worn.mobility, side), elbow_off=worn.mobility.elbow_bulk,
        clothing=worn.clothing, hood=worn.hood, grip=grip, people=people,
        cylinders=in_the_way(*cylinder_ends(worn.cylinders), side),
    )  # fmt: skip


def cylinder_ends(cylinders: BackCylinders | None) -> tuple[Floats, float]:
    """Ends (k, 2, 3) of the middle lines of the cylinders, and their radius [m]; a rounded top ends halfway up what
    narrows to the neck."""
    if cylinders is None:
        return np.zeros((0, 2, 3)), 0.0
    radius = 0.5 * cylinders.made.outer_diameter
    ends = np.array([[radius, 0.0, 0.0], [cylinders.made.shoulder_x - 0.5 * radius, 0.0, 0.0]])
    return np.array([point_at(where, ends) for where in cylinders.each]), radius


def in_the_way(ends: Floats, radius: float, side: Side) -> tuple[Capsule, ...]:
    """Cylinders by their ends (k, 2, 3), as the arm of one side sees them."""
    return tuple(Capsule(own_side(side, low), own_side(side, high), radius) for low, high in ends)


def shoulder_lack(mobility: Mobility, side: Side) -> float:
    """What suit and stiffness take off a shoulder [rad]."""
    stiff = mobility.stiff_left_shoulder if side == "left" else mobility.stiff_right_shoulder
    return mobility.shoulder_bulk + stiff


def hand_margin(worn: Worn, side: Side, point: Floats) -> float:
    """Margin [m] of a fingertip coming over its shoulder to a ``point`` (3,) in body axes, e.g. the plate's top edge.

    Plus: it could lie so much further footward; minus: the fingertip stays so far short of it.
    """
    arm = worn_arm(worn, side, grip=(limits.PALM, limits.FINGERTIP))
    return reach_margin(arm, own_side(side, np.asarray(point, dtype=float)))


def valve_reach(worn: Worn) -> tuple[HandReach, ...]:
    """Every valve with its hand: left hand at the left knob, right at the right one; the isolator and a single valve
    by whichever hand does better. Empty without cylinders on the back."""
    known: dict[tuple[float, ...], _Own] = {}
    hands = []
    for name, at, sides in knobs(worn):
        tried = [_hand(worn, side, name, at, known) for side in sides]
        hands.append(max(tried, key=lambda h: h.margin))
    return tuple(hands)


def usual_margins(worn: Worn) -> dict[str, float]:
    """Margin [m] of each valve for usual shoulders, as in ``valve_reach`` but quicker; empty without cylinders."""
    arms = {side: worn_arm(worn, side) for side in SIDES}
    tried = {side: upper_arms(arm) for side, arm in arms.items()}
    return {
        name: max(reach_margin(arms[s], own_side(s, at), tried[s]) for s in sides) for name, at, sides in knobs(worn)
    }


def reached_at(worn: Worn, side: Side, points: Floats) -> NDArray[np.bool_]:
    """Which of ``points`` (n, 3) [m] that hand reaches."""
    arm = worn_arm(worn, side)
    tried = upper_arms(arm)
    own = points @ (MIRROR if side == "right" else np.eye(3))
    return np.concatenate([reached(arm, p, tried) for p in np.array_split(own, max(1, len(own) // 20))])


def knobs(worn: Worn) -> list[tuple[str, Floats, tuple[Side, ...]]]:
    """Name, place (3,) and hands of each knob."""
    cylinders = worn.cylinders
    if cylinders is None:
        return []
    ends = [point_at(w, v.knob) for w, v in zip(cylinders.outlets, cylinders.valves, strict=True)]
    if len(cylinders.each) == 1:
        return [(word("valve"), ends[0], ("left", "right"))]
    found: list[tuple[str, Floats, tuple[Side, ...]]] = [
        (word("left valve"), ends[0], ("left",)), (word("right valve"), ends[1], ("right",))
    ]  # fmt: skip
    if cylinders.isolator is not None:
        found.append((word("isolator"), cylinders.isolator, ("left", "right")))
    return found


@dataclass(frozen=True, eq=False)
class _Own:
    """What is found for a left arm: margins [m] of usual, stiff and supple shoulders, what limits, the arm there."""

    margins: tuple[float, float, float]
    limited_by: str
    posture: Posture


def _hand(worn: Worn, side: Side, valve: str, at: Floats, known: dict[tuple[float, ...], _Own]) -> HandReach:
    """One hand at a knob (3,); ``known`` keeps what mirrored hands have in common."""
    own = own_side(side, at)
    key = (shoulder_lack(worn.mobility, side), *np.round(own, 6).tolist())
    if key not in known:
        arm = worn_arm(worn, side)
        tried = upper_arms(arm)
        margin = reach_margin(arm, own, tried)
        stiff, supple = (reach_margin(worn_arm(worn, side, people=p), own) for p in ("stiff", "supple"))
        known[key] = _Own((margin, stiff, supple), limited_by(arm, own, margin), posture(arm, own, tried))
    found = known[key]
    there = mirrored_arm(found.posture) if side == "right" else found.posture
    return HandReach(valve, side, at, *found.margins, found.limited_by, there)


def own_side(side: Side, point: Floats) -> Floats:
    """The point as the arm sees it: mirrored for the right one."""
    return point if side == "left" else np.asarray(MIRROR @ point)


def mirrored_arm(p: Posture) -> Posture:
    shoulder, elbow, wrist, grip = (np.asarray(MIRROR @ v) for v in (p.shoulder, p.elbow, p.wrist, p.grip))
    return replace(p, shoulder=shoulder, elbow=elbow, wrist=wrist, grip=grip)
