"""The harness on the standing diver: lengths for cutting webbing, and where a strap crosses the shoulder."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.answers.fit import limits
from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at
from sim.assembly.strap_paths import Run, StrapPaths, strap_paths
from sim.person.person import Person

SLOTS: Final = 4  # of the plate that one piece of webbing runs through: two at the waist, two at the shoulders


@dataclass(frozen=True)
class Crossing:
    """How far out a shoulder strap crosses the shoulder.

    share : of its middle, 0 at the side of the neck, 1 at the acromion
    inner, outer : distances of its edges from the neck and from the acromion [m], minus: beyond
    ball : distance of its outer edge from the ball of the shoulder joint [m], minus: onto it
    above_slot : by which it crosses higher than its slot lies [m]
    """

    share: float
    inner: float
    outer: float
    ball: float
    above_slot: float

    @property
    def margin(self) -> float:
        """To spare before it is on the joint's ball, on the neck or lower than its slot [m], below 0: it is."""
        return min(self.ball, self.inner - limits.STRAP_OFF_NECK, self.above_slot)


@dataclass(frozen=True, eq=False)
class Straps:
    """Lengths of the webbing's middle line over the clothing [m], and where the left strap crosses the shoulder.

    paths : the runs themselves;  shoulder : one strap, from slot to waist slot;  waist : waist slot to waist slot
    crotch : from its slot to the buckle;  between_slots : across the plate from shoulder slot to shoulder slot
    one_piece, crotch_cut : what to cut, with turns through slots, tails and loops
    crossing : how far out it does;  slope : by which the shoulder falls outward under it [rad]
    """

    paths: StrapPaths
    shoulder: float
    waist: float
    crotch: float
    between_slots: float
    one_piece: float
    crotch_cut: float
    crossing: Crossing
    slope: float


def straps(worn: Worn) -> Straps:
    """Straps of the rig where it sits now."""
    paths = worn_straps(worn)
    slots = point_at(worn.seat, worn.plate.shoulder_slots)
    between = float(np.linalg.norm(slots[0] - slots[1]))
    both = 2.0 * paths.shoulder_length
    _, normal = paths.over.highest
    return Straps(
        paths=paths,
        shoulder=paths.shoulder_length,
        waist=paths.waist.length,
        crotch=paths.crotch.length,
        between_slots=between,
        one_piece=both + paths.waist.length + between + SLOTS * limits.TURN_AT_SLOT + 2.0 * limits.TAIL,
        crotch_cut=paths.crotch.length + limits.CROTCH_LOOPS,
        crossing=crossing(paths.over, worn.body.person),
        slope=float(np.arctan2(normal[1], normal[0])),
    )


def crossing(over: Run, person: Person) -> Crossing:
    """Where the left strap, by its run over it, crosses the shoulder of a person."""
    neck = person.measures["neckcircumferencebase"] / (2.0 * np.pi)
    acromion = 0.5 * person.measures["biacromialbreadth"]
    ball = float(person.skeleton.joints["shoulder"][1]) - limits.SHOULDER_BALL[person.sex]
    across = float(over.highest[0][1])
    inner, outer = across - limits.STRAP_HALF_WIDTH, across + limits.STRAP_HALF_WIDTH
    return Crossing(
        share=(across - neck) / (acromion - neck),
        inner=inner - neck,
        outer=acromion - outer,
        ball=ball - outer,
        above_slot=float(np.max(over.points[1:, 0]) - over.points[0, 0]),
    )


def worn_straps(worn: Worn) -> StrapPaths:
    """Where the straps run on the standing trunk."""
    return strap_paths(worn.plate, worn.seat, worn.body, worn.under_straps)
