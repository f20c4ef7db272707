"""The harness on the standing diver: lengths for cutting webbing, and where a strap crosses the shoulder."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at
from sim.assembly.strap_paths import Run, StrapPaths, strap_paths
from sim.person.person import Person
from sim.telling.record import Kept, Told

SLOTS: Final = 4  # of the plate that one piece of webbing runs through: two at the waist, two at the shoulders


@dataclass(frozen=True)
class Crossing:
    """How far out a shoulder strap crosses the shoulder.

    above_slot : by which it crosses higher than its slot lies [m]
    """

    share: Annotated[
        float,
        Told(
            "where a strap's middle crosses the shoulder: 0 side of the neck, 1 acromion",
            "1",
            key="crosses_shoulder_at_share",
        ),
    ]
    inner: Annotated[
        float,
        Told(
            "distance of its inner edge from the side of the neck, below 0 onto it", "m", key="inner_edge_off_neck_m"
        ),
    ]
    outer: Annotated[
        float,
        Told(
            "distance of its outer edge from the acromion, below 0 beyond", "m", key="outer_edge_off_shoulder_bone_m"
        ),
    ]
    ball: Annotated[
        float,
        Told(
            "distance of its outer edge from the ball of the joint, below 0 onto it",
            "m",
            key="outer_edge_off_shoulder_ball_m",
        ),
    ]
    above_slot: Kept[float]

    @property
    def margin(self) -> float:
        """To spare before it is on the joint's ball, on the neck or lower than its slot [m], below 0: it is."""
        return min(self.ball, self.inner - limits.STRAP_OFF_NECK, self.above_slot)


@dataclass(frozen=True, eq=False)
class Straps:
    """Lengths of the webbing's middle line over the clothing, and where the left strap crosses the shoulder.

    paths : the runs themselves, in body axes
    """

    drop: Annotated[float, Told("how far the waist slots hang below the natural waist", "m")]
    shoulder: Annotated[
        float,
        Told(
            "one shoulder strap from its slot over the shoulder, under the arm to the waist slot",
            "m",
            key="shoulder_strap_m",
        ),
    ]
    waist: Annotated[float, Told("waist strap from slot to slot round the front", "m", key="waist_strap_m")]
    crotch: Annotated[float, Told("crotch strap from its slot to the buckle", "m", key="crotch_strap_m")]
    one_piece: Annotated[
        float,
        Told("webbing to cut for shoulders and waist in one piece, with turns and tails", "m", key="cut_one_piece_m"),
    ]
    crotch_cut: Annotated[float, Told("webbing to cut for the crotch strap, with loops", "m", key="cut_crotch_m")]
    crossing: Annotated[Crossing, Told("how far out the left strap crosses the shoulder", beside=True)]
    slope: Annotated[float, Told("by which the shoulder falls outward under it", "deg", key="shoulder_slopes_deg")]
    left_shoulder_path: Annotated[
        Floats, Told("points of the left shoulder strap's middle line; the right one is its mirror image", "m")
    ]
    waist_path: Annotated[Floats, Told("points of the waist strap's", "m")]
    crotch_path: Annotated[Floats, Told("points of the crotch strap's", "m")]
    paths: Kept[StrapPaths]


def straps(worn: Worn) -> Straps:
    """Straps of the rig where it sits now."""
    paths = worn_straps(worn)
    slots = point_at(worn.seat, worn.plate.shoulder_slots)
    between = float(np.linalg.norm(slots[0] - slots[1]))
    both = 2.0 * paths.shoulder_length
    _, normal = paths.over.highest
    return Straps(
        drop=worn.drop,
        shoulder=paths.shoulder_length,
        waist=paths.waist.length,
        crotch=paths.crotch.length,
        one_piece=both + paths.waist.length + between + SLOTS * limits.TURN_AT_SLOT + 2.0 * limits.TAIL,
        crotch_cut=paths.crotch.length + limits.CROTCH_LOOPS,
        crossing=crossing(paths.over, worn.body.person),
        slope=float(np.arctan2(normal[1], normal[0])),
        left_shoulder_path=np.concatenate([paths.over.points, paths.under.points]),
        waist_path=paths.waist.points,
        crotch_path=paths.crotch.points,
        paths=paths,
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
