"""The carry ashore: the diver upright on level ground with the rig on, in air.

Statics only: nobody walks, climbs or stumbles here, which asks for more. What the trunk does between leaning from the
ankles with a stiff body and bending at the hips alone is not known, nor how much the waist strap bears; every figure
that hangs on them is given as least and greatest.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import cos

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid, combined
from sim.answers.fit.carrying import Places, flexion, hold, lean_to_balance, load_moment, weight_vector
from sim.answers.fit.limits import (
    BACK_MUSCLE_ARM,
    BELLY_MUSCLE_ARM,
    COLLARBONE_END,
    HIPS_SHARE_ELSEWHERE,
    HIPS_SHARE_ON_WAIST,
    JOINT_DOUBT,
)
from sim.answers.fit.straps import worn_straps
from sim.answers.fit.upper_body import above_hips, above_lumbar_joint, head_arm, lumbar_joint
from sim.answers.fit.waist import Place
from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at
from sim.person.pose import POSES
from sim.person.posed_body import PosedBody, posed_body
from sim.rig import STANDARD_GRAVITY, Part

Range = tuple[float, float]

ON_HEAD = ("hood", "mask")
CLOTHES = ("suit", "wetsuit", "gloves")
LEG = 0.15  # m below the crotch, from where on lead and gear hang on the legs


@dataclass(frozen=True, eq=False)
class Load:
    """What is worn and carried besides the body, dry.

    rig : all that the harness bears, one solid in body axes;  belt : lead worn on the hips
    clothes, head, legs, hands : masses [kg] of suit, of hood and mask, of what is on the feet and legs, of the fins
    """

    rig: Solid
    belt: float
    clothes: float
    head: float
    legs: float
    hands: float

    @property
    def carried(self) -> float:
        """Mass [kg] of rig and belt, without clothes, fins and what is on the legs."""
        return self.rig.mass + self.belt


@dataclass(frozen=True, eq=False)
class Ashore:
    """How the diver stands with the rig on. Forces N, moments N m, angles rad, points (x, z) m in body axes.

    load : what is carried;  body_mass : bare [kg];  load_share : carried / body mass
    cm : of diver and load, bolt upright;  behind : how far behind that of the bare body;  from_heel : ahead of it
    lean : (from the ankles, from the hips) that brings it back above where the bare body balances
    hips_share : of the rig's weight on the hips;  shoulder_force : along the trunk, both shoulders together
    strap_pull : backward pull of both shoulder straps on the shoulders
    back_moment, bare_back_moment : at L5/S1, plus bends forward;  back_doubt : either way, from where the joint is
    compression, bare_compression : of L5/S1 along the trunk
    neck_moment, bare_neck_moment : at C7/T1 from the head's weight, head level, plus bends forward
    girdle_moment : of one shoulder strap's load about the inner end of the collarbone
    """

    load: Load
    body_mass: float
    cm: Floats
    behind: float
    from_heel: float
    lean: Range
    place: Place
    hips_share: Range
    shoulder_force: Range
    strap_pull: Range
    back_moment: Range
    bare_back_moment: float
    back_doubt: float
    compression: Range
    bare_compression: Range
    neck_moment: Range
    bare_neck_moment: float
    girdle_moment: Range

    @property
    def load_share(self) -> float:
        return self.load.carried / self.body_mass


def ashore(worn: Worn, parts: Sequence[Part], place: Place, strap_at: float | None = None) -> Ashore:
    """The diver upright with the rig.

    parts : of the whole rig in body axes, the body's own left out of account
    place : of the waist strap;  strap_at : how far from the midline the shoulder straps cross the shoulders [m]; as
        the harness is drawn where None
    """
    if strap_at is None:
        strap_at = float(worn_straps(worn).over.highest[0][1])
    body = posed_body(worn.body.person, POSES["upright"])
    load = load_of(worn, parts)
    bare = combined([s for _, s in body.segments])
    stance = _stance(body, bare, load)
    share = HIPS_SHARE_ON_WAIST if place == "on the waist" else HIPS_SHARE_ELSEWHERE
    spine = [_spine(worn, body, load, lean, hips) for lean, hips in product(stance.lean, share)]
    bare_moment, bare_compression = _bare_spine(body)
    head = dict(body.segments)["head"].cm[[0, 2]]
    weight = dict(body.segments)["head"].mass * STANDARD_GRAVITY
    worn_head = weight + load.head * STANDARD_GRAVITY
    shoulders = _range([s.shoulders for s in spine])
    over_joint = above_lumbar_joint(body)[0] * STANDARD_GRAVITY + shoulders[1]
    return Ashore(
        load=load,
        body_mass=bare.mass,
        cm=stance.cm,
        behind=float(stance.cm[1] - bare.cm[2]),
        from_heel=float(body.landmarks["left heel"][2] - stance.cm[1]),
        lean=stance.lean,
        place=place,
        hips_share=share,
        shoulder_force=shoulders,
        strap_pull=_range([s.pull for s in spine]),
        back_moment=_range([s.moment for s in spine]),
        bare_back_moment=bare_moment,
        back_doubt=over_joint * JOINT_DOUBT,
        compression=_range([c for s in spine for c in s.compression]),
        bare_compression=bare_compression,
        neck_moment=_range([worn_head * head_arm(body, head, lean) for lean in stance.lean]),
        bare_neck_moment=weight * head_arm(body, head, 0.0),
        girdle_moment=_range([0.5 * force * max(strap_at - COLLARBONE_END, 0.0) for force in shoulders]),
    )


def load_of(worn: Worn, parts: Sequence[Part]) -> Load:
    """What is worn and carried, sorted by what bears it. Raises ValueError where the harness bears nothing."""
    crotch = worn.body.person.skeleton.heights["crotch"]
    sums = dict.fromkeys(("belt", "clothes", "head", "legs", "hands"), 0.0)
    rig = []
    for part in parts:
        x, _, z = part.solid.cm
        if part.kind == "body":
            continue
        if part.kind == "fins":
            sums["hands"] += part.solid.mass
        elif part.kind in ON_HEAD:
            sums["head"] += part.solid.mass
        elif part.kind in CLOTHES:
            sums["clothes"] += part.solid.mass
        elif part.kind == "boots" or x < crotch - LEG:
            sums["legs"] += part.solid.mass
        elif part.kind == "lead" and z < float(worn.body.back_surface(x, 0.0)):
            sums["belt"] += part.solid.mass
        else:
            rig.append(replace(part.solid, mesh=None))
    if not rig:
        raise ValueError("nothing hangs on the harness: there is nothing to carry ashore")
    return Load(combined(rig), **sums)


@dataclass(frozen=True, eq=False)
class _Stance:
    cm: Floats
    lean: Range


def _stance(body: PosedBody, bare: Solid, load: Load) -> _Stance:
    """CM of all upright, and the leans that balance; clothes sit about the body, hood and mask on the head."""
    hips = np.zeros(2)
    head, floor = dict(body.segments)["head"].cm[[0, 2]], float(body.landmarks["left sole"][0])
    upper = above_hips(body)
    legs_mass = bare.mass - upper.mass
    legs = (bare.mass * bare.cm - upper.mass * upper.cm)[[0, 2]] / legs_mass
    # clothes in two halves that keep the body's CM: with what is above the hips and what is below
    cloth = load.clothes / bare.mass
    above = [
        (upper.mass * (1.0 + cloth), upper.cm[[0, 2]]),
        (load.rig.mass, load.rig.cm[[0, 2]]),
        (load.head, head),
    ]
    below = [
        (legs_mass * (1.0 + cloth), legs),
        (load.belt, np.array([body.person.skeleton.heights["iliac crest"], bare.cm[2]])),
        (load.legs, np.array([floor, bare.cm[2]])),
    ]
    moving, still = _together(above), _together(below)
    whole = _together([moving, still])
    target = float(bare.cm[2])
    ankle = np.asarray(body.joints["left ankle"][[0, 2]])
    return _Stance(
        whole[1],
        (
            lean_to_balance(whole, (0.0, np.zeros(2)), ankle, target),
            lean_to_balance(moving, still, hips, target),
        ),
    )


@dataclass(frozen=True, eq=False)
class _Spine:
    shoulders: float
    pull: float
    moment: float
    compression: Range


def _spine(worn: Worn, body: PosedBody, load: Load, lean: float, hips_share: float) -> _Spine:
    held = hold(load.rig.mass * STANDARD_GRAVITY, load.rig.cm[[0, 2]], lean, hips_share, places(worn))
    joint = lumbar_joint(body)
    mass, cm = above_lumbar_joint(body)
    own = weight_vector(mass * STANDARD_GRAVITY, lean)
    moment = flexion(own, cm, joint) + load_moment(held, joint)
    along = mass * STANDARD_GRAVITY * cos(lean) + float(held.shoulders[0])
    return _Spine(float(held.shoulders[0]), -float(held.shoulders[1]), moment, compression(moment, along))


def _bare_spine(body: PosedBody) -> tuple[float, Range]:
    mass, cm = above_lumbar_joint(body)
    moment = flexion(weight_vector(mass * STANDARD_GRAVITY, 0.0), cm, lumbar_joint(body))
    return moment, compression(moment, mass * STANDARD_GRAVITY)


def compression(moment: float, along: float) -> Range:
    """Of what presses along the trunk and the muscles that hold the moment, behind or in front of the joint."""
    arms = BACK_MUSCLE_ARM if moment >= 0.0 else BELLY_MUSCLE_ARM
    return along + abs(moment) / arms[1], along + abs(moment) / arms[0]


def places(worn: Worn) -> Places:
    """Where the trunk holds the rig: straps above the shoulder joints, waist strap at the sides, the plate's foot."""
    body = worn.body
    heights, marks = body.person.skeleton.heights, body.landmarks
    foot = point_at(worn.seat, [worn.plate.bottom[0], 0.0, 0.0])
    shoulder = body.person.skeleton.joints["shoulder"]
    strap = float(np.mean(point_at(worn.seat, worn.plate.waist_slots)[:, 0]))
    return Places(
        shoulders=np.array([heights["acromion"] + worn.clothing, shoulder[2]]),
        hips=np.array([strap, marks["left iliac crest"][2]]),
        foot=foot[[0, 2]],
    )


def _together(masses: Sequence[tuple[float, Floats]]) -> tuple[float, Floats]:
    total = sum(m for m, _ in masses)
    return total, np.asarray(sum(m * c for m, c in masses) / total)


def _range(values: Sequence[float]) -> Range:
    return min(values), max(values)
