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
from typing import Annotated, Final

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
    LIFTING_COMPRESSION,
    LOAD_SHARES,
)
from sim.answers.fit.straps import worn_straps
from sim.answers.fit.upper_body import above_hips, above_lumbar_joint, head_arm, lumbar_joint
from sim.answers.fit.waist import Place
from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at
from sim.person.pose import POSES
from sim.person.posed_body import PosedBody, posed_body
from sim.rig import STANDARD_GRAVITY, Part
from sim.said import word
from sim.telling.record import Kept, Told

Range = tuple[float, float]

ON_HEAD = ("hood", "mask")
CLOTHES = ("suit", "wetsuit", "gloves")
LEG = 0.15  # m below the crotch, from where on lead and gear hang on the legs
HIPS_BASIS: Final[dict[Place, str]] = {
    "on the waist": "30 % was measured on padded hip belts, 60 to 90 % is claimed without data",
    "on the hips": "assumed: nothing was measured for bare webbing over the hip bones",
    "above the waist": "assumed: nothing was measured for a strap above the waist",
}
ADVICE: Final = word(
    "Carrying less at a time helps most: bring cylinders, lead and the rest in parts, or leave the rig on a bench or "
    "a tailgate, slip into it seated and keep the way to the water short. Walking, steps and uneven ground ask for "
    "more than standing. Whether a back, neck or shoulder should carry this at all is for a doctor or "
    "physiotherapist to say, not for this program."
)


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


@dataclass(frozen=True)
class LoadShare:
    """A load that people have been told to carry, as a share of body mass."""

    least: Annotated[float, Told("loads that people have been told to carry, as a share of body mass: from", "1")]
    greatest: Annotated[float, Told("to this share", "1")]
    who: Annotated[str, Told("by whom, with its source")]


@dataclass(frozen=True, eq=False, kw_only=True)
class Ashore:
    """How the diver stands with the rig on; points (3,) in body axes, bolt upright. A range: least and greatest."""

    load: Kept[Load]
    body_mass: Annotated[float, Told("of the bare diver", "kg")]
    carried: Annotated[float, Told("rig and lead on the belt, dry, without clothes and fins", "kg")]
    load_share: Annotated[float, Told("that over the body's mass", "1", key="carried_share_of_body_mass")]
    rig: Annotated[float, Told("what the harness bears", "kg")]
    rig_cm: Annotated[Floats, Told("point: its centre of mass", "m")]
    belt_lead: Annotated[float, Told("lead on the belt", "kg")]
    clothes: Annotated[float, Told("suit, hood, mask and what is on the legs", "kg")]
    in_the_hands: Annotated[float, Told("fins", "kg")]
    cm: Annotated[
        Floats,
        Told("point: centre of mass of diver and load, bolt upright, fins left out", "m", key="cm_upright_m"),
    ]
    behind: Annotated[float, Told("how far that lies behind the bare diver's", "m", key="cm_behind_bare_m")]
    from_heel: Annotated[float, Told("how far before the hindmost point of the heels", "m", key="cm_before_heels_m")]
    lean_from_ankles: Annotated[float, Told("forward lean that brings it back, stiff from the ankles", "deg")]
    lean_from_hips: Annotated[float, Told("the same by bending at the hips alone", "deg")]
    place: Annotated[Place, Told("as in on_back", key="waist_strap")]
    hips_share: Annotated[Range, Told("least, greatest: share of the rig's weight that the waist strap bears", "1")]
    hips_share_basis: Annotated[str, Told("what is known of that share")]
    shoulder_force: Annotated[Range, Told("least, greatest: along the trunk on both shoulders together", "N")]
    strap_pull: Annotated[Range, Told("least, greatest: backward pull of both shoulder straps", "N")]
    girdle_moment: Annotated[
        Range,
        Told(
            "least, greatest: of one strap's load about the inner end of the collarbone",
            "N m",
            key="collarbone_moment_nm",
        ),
    ]
    back_moment: Annotated[
        Range,
        Told(
            "least, greatest: of trunk and rig at L5/S1",
            "N m",
            plus="bends forward, unlike moments elsewhere",
            key="l5_s1_moment_nm",
        ),
    ]
    back_doubt: Annotated[float, Told("either way, from where the joint lies", "N m", key="l5_s1_moment_doubt_nm")]
    bare_back_moment: Annotated[
        float, Told("the same moment without gear", "N m", plus="bends forward", key="l5_s1_moment_bare_nm")
    ]
    compression: Annotated[Range, Told("least, greatest: along the trunk at L5/S1", "N", key="l5_s1_compression_n")]
    bare_compression: Annotated[
        Range, Told("least, greatest: the same without gear", "N", key="l5_s1_compression_bare_n")
    ]
    lifting_compression_limit: Annotated[float, Told("action limit for lifting at work (NIOSH 1981)", "N")] = (
        LIFTING_COMPRESSION
    )
    neck_moment: Annotated[
        Range, Told("least, greatest: of the head, held level, at C7/T1", "N m", plus="bends forward")
    ]
    bare_neck_moment: Annotated[
        float, Told("the same without gear", "N m", plus="bends forward", key="neck_moment_bare_nm")
    ]
    load_shares: Annotated[tuple[LoadShare, ...], Told("what others carry")] = tuple(
        LoadShare(*share) for share in LOAD_SHARES
    )
    advice: Annotated[str, Told("what helps, and who can judge it")] = ADVICE

    @property
    def lean(self) -> Range:
        """From the ankles, from the hips [rad]."""
        return self.lean_from_ankles, self.lean_from_hips


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
        carried=load.carried,
        load_share=load.carried / bare.mass,
        rig=load.rig.mass,
        rig_cm=load.rig.cm,
        belt_lead=load.belt,
        clothes=load.clothes + load.head + load.legs,
        in_the_hands=load.hands,
        cm=np.array([stance.cm[0], 0.0, stance.cm[1]]),
        behind=float(stance.cm[1] - bare.cm[2]),
        from_heel=float(body.landmarks["left heel"][2] - stance.cm[1]),
        lean_from_ankles=stance.lean[0],
        lean_from_hips=stance.lean[1],
        place=place,
        hips_share=share,
        hips_share_basis=HIPS_BASIS[place],
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
