"""How far ahead a diver sees who holds flat, what stops the head, and what looking straight ahead costs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.head_lift import HeadBack, first_met, head_back
from sim.answers.fit.joint_ranges import neck_extension
from sim.answers.fit.sight import upward_sight
from sim.assembly.assembled import Worn
from sim.assembly.placement import solid_at
from sim.rig import Part, Rig
from sim.said import word
from sim.statics.field import field, soft_rig
from sim.statics.held import held_pitches, pitch_moment, up_of_pitch
from sim.telling.record import Told

NECK: Final = word("the neck itself")
MEETS: Final = {
    "regulator": word("a first stage"),
    "manifold": word("the manifold"),
    "valve": word("the valve"),
    "cylinder": word("a cylinder"),
}
OUT_OF_FACE: Final = -0.5 * np.pi  # elevation of straight out of the face, lying flat, head not lifted [rad]


@dataclass(frozen=True, eq=False)
class LookAhead:
    """How far the head lifts and the eyes look, and what it costs; points and directions (3,) in body axes."""

    lift: Annotated[float, Told("how far the head is lifted from straight", "deg", key="head_lift_deg")]
    free: Annotated[float, Told("how far the neck lets it go", "deg", key="neck_deg")]
    gear: Annotated[float, Told("lift at which it meets gear", "deg", none="never", key="meets_gear_at_deg")]
    blocked_by: Annotated[str, Told("what ends the lift", key="stopped_by")]
    contact: Annotated[Floats | None, Told("point on the gear that it meets first", "m", none="never")]
    eyes: Annotated[Floats, Told("point between the eyes, head so lifted", "m")]
    sight: Annotated[Floats, Told("unit vector of the line of sight", "1")]
    ahead: Annotated[
        float,
        Told("how high the eyes then look, held flat: 0 straight ahead", "deg", plus="above it", key="looks_deg"),
    ]
    edge: Annotated[float, Told("the upper edge of what they notice at all", "deg", key="notices_deg")]
    bottom_seen_ahead: Annotated[
        float,
        Told("how far ahead they see the bottom from 1.5 m above it", "m", none="from the horizon up"),
    ]
    head_up: Annotated[
        float,
        Told("pitch at which the trunk is held to look straight ahead", "deg", plus="head-up", key="seen_pitch_deg"),
    ]
    hold_moment: Annotated[
        float, Told("what turns the diver at that pitch", "N m", plus="head-up", key="seen_moment_nm")
    ]
    flat_moment: Annotated[float, Told("what turns the diver held flat", "N m", plus="head-up")]
    rest_pitch: Annotated[
        float | None,
        Told(
            "the stable pitch nearest flat, roll held",
            "deg",
            plus="head-up",
            none="there is none before the vertical",
        ),
    ]


def look_ahead(worn: Worn, rig: Rig) -> LookAhead:
    """Look-ahead of a dressed diver; moments by the statics of ``rig``, wing neutral, arms and legs as posed."""
    person = worn.body.person
    back = head_back(person, worn.hood)
    free = neck_extension(person, worn.mobility)
    gear, meets, contact = _met(worn, back)
    lift = min(free, max(gear, 0.0))
    up = upward_sight(person.age)
    ahead = float(looking_ahead(gear, free, up.looked_at))
    head_up = max(-ahead, 0.0)
    flat, held = moments_at(rig, np.array([0.0, head_up]))
    stable = [p.pitch for p in held_pitches(soft_rig(rig)) if p.stable]
    return LookAhead(
        lift=lift, free=free, gear=gear, blocked_by=meets if gear < free else NECK, contact=contact,
        eyes=back.pivot + _lifted(worn.body.landmarks["eyes"] - back.pivot, lift - worn.body.pose.neck_extension),
        sight=np.array([np.cos(ahead), 0.0, np.sin(ahead)]),
        ahead=ahead, edge=OUT_OF_FACE + lift + up.noticed, bottom_seen_ahead=distance_ahead(ahead),
        head_up=head_up, hold_moment=held, flat_moment=flat, rest_pitch=min(stable, key=abs, default=None),
    )  # fmt: skip


def look_ahead_margin(worn: Worn) -> float:
    """Margin [rad] of look-ahead alone, as in ``look_ahead``: see ``ahead_margin``."""
    person = worn.body.person
    free = neck_extension(person, worn.mobility)
    gear = _met(worn, head_back(person, worn.hood))[0]
    return float(ahead_margin(gear, free, looking_ahead(gear, free, upward_sight(person.age).looked_at)))


def moments_at(rig: Rig, pitches: Floats) -> tuple[float, ...]:
    """Moment [N m] that turns a motionless diver at each pitch [rad], roll held; plus turns head-up."""
    return tuple(pitch_moment(field(soft_rig(rig), up_of_pitch(pitches))).tolist())


def looking_ahead(gear: Floats | float, free: float, looked_at: float) -> Floats:
    """The highest that the eyes look at, held flat, against straight ahead [rad], plus above it; any shape, as gear.

    gear, free : lift at which the head meets gear, and which the neck allows;  looked_at : how far up the eyes look
    """
    return np.asarray(OUT_OF_FACE + np.minimum(free, np.maximum(gear, 0.0)) + looked_at)


def ahead_margin(gear: Floats | float, free: float, ahead: Floats | float) -> Floats:
    """Margin [rad], 0 or more where look-ahead is as good as it gets or as it need be: the gear leaves the head free,
    or the eyes look high enough. Half a turn at most: that of gear which the head never meets. Any shape, as gear."""
    return np.asarray(np.maximum(np.minimum(gear - free, np.pi), ahead - np.radians(limits.SEES_AHEAD_DEG)))


def enough_lift(free: float, looked_at: float) -> float:
    """Least lift [rad] at which gear may meet the head with an ``ahead_margin`` of 0 or more; -inf: at any."""
    enough = np.radians(limits.SEES_AHEAD_DEG) - OUT_OF_FACE - looked_at
    return float(min(free, enough)) if enough > 0.0 else -np.inf


def distance_ahead(ahead: float, height: float = limits.ABOVE_BOTTOM) -> float:
    """How far ahead [m] the bottom is seen from ``height`` [m] along a line of sight; inf from the horizon up."""
    return float(height / np.tan(-ahead)) if ahead < 0.0 else float("inf")


def _met(worn: Worn, back: HeadBack) -> tuple[float, str, Floats | None]:
    """At which lift [rad] the head meets gear, what it is, and where (3,) [m]."""
    found: tuple[float, str, Floats | None] = (float("inf"), "nothing", None)
    for name, part in things_behind(worn):
        if part.solid.mesh is None:
            continue
        lift, point = first_met(back, part.solid.mesh, found[0])
        if point is not None:
            found = (lift, name, point)
    return found


def things_behind(worn: Worn) -> list[tuple[str, Part]]:
    """What the head may meet, with its name in words."""
    parts = [*worn.first_stages, *(() if worn.cylinders is None else worn.cylinders.parts)]
    named = [(MEETS[p.kind], p) for p in parts if p.kind in MEETS]
    return [*named, (word("the plate"), Part("plate", "plate", solid_at(worn.seat, worn.plate.solid)))]


def _lifted(v: Floats, angle: float) -> Floats:
    """A vector (3,) of the head turned back by ``angle`` [rad]."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([c * v[0] - s * v[2], v[1], s * v[0] + c * v[2]])
