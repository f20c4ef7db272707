"""The range of moments that posture trims out, and a moment in the words of who has to hold it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import degrees, radians
from typing import Annotated, Final, Literal

import numpy as np
from numpy.polynomial import Polynomial

from meshes.body.pose import Pose
from sim.answers.posture.drift import balanced_moment
from sim.answers.posture.levers import BREATH, BREATH_BASIS, BREATH_WORDS, LEVERS, SMALL, turned
from sim.answers.posture.reposed import reposed
from sim.answers.posture.runaway import time_to_double, turning_of
from sim.case import Case
from sim.rig import Rig
from sim.said import word
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.record import Told

Held = Literal["hangs by itself", "a small shift of the knees holds it", "has to be held", "cannot be held"]

LOOKED_AT: Final = (45.0, 60.0, 95.0, 120.0)  # degrees of knee flexion at which the moment is worked out


@dataclass(frozen=True)
class LeverRange:
    """What one lever alone adds to the moment as told, at most."""

    name: Annotated[str, Told("what the diver trims with")]
    down: Annotated[float, Told("the most that it turns head-down, 0 or less", "N m", plus="head-up")]
    up: Annotated[float, Told("the most that it turns head-up, 0 or more", "N m", plus="head-up")]
    down_by: Annotated[str, Told("how that is done; empty where it does nothing")]
    up_by: Annotated[str, Told("how that is done; empty where it does nothing")]
    basis: Annotated[str, Told("how far it goes, and where that comes from")]


@dataclass(frozen=True)
class Posture:
    """What a relaxed diver's posture makes up, wing neutral and the suit's gas as much as told throughout."""

    moment: Annotated[
        float, Told("what turns the diver held flat in the pose told, about the held point", "N m", plus="head-up")
    ]
    held: Annotated[Held, Told("what that asks of the diver, in words")]
    unseen: Annotated[
        float,
        Told(
            "the largest moment with which whoever stops moving, flat, drifts by 30 degrees in no less than 4 s, as "
            "divers in balance do (common practice)",
            "N m",
        ),
    ]
    knees_down: Annotated[
        float, Told("what a small shift of the knees adds at most, head-down", "N m", plus="head-up")
    ]
    knees_up: Annotated[float, Told("the same, head-up", "N m", plus="head-up")]
    all_down: Annotated[
        float,
        Told("what knees, hips, arms, head and breath together add at most, head-down", "N m", plus="head-up"),
    ]
    all_up: Annotated[float, Told("the same, head-up", "N m", plus="head-up")]
    levers: Annotated[tuple[LeverRange, ...], Told("each by itself")]
    knee: Annotated[float, Told("how far the knees are bent in the pose told, mean of both", "deg")]
    flat_knee: Annotated[
        float | None, Told("how far bent knees let the diver hang flat", "deg", none="no bend of the knees does")
    ]
    stiffness: Annotated[
        float, Told("of pitch when flat, gas following, wing volume frozen", "N m/rad", plus="stable")
    ]
    time_to_double: Annotated[
        float | None, Told("time in which a small drift from flat doubles", "s", none="a drift is turned back")
    ]


def posture_of(case: Case) -> Posture:
    """Of a scenario's diver, from about ten poses. Raises ScenarioError for a parts file or what cannot be."""
    diver = reposed(case)
    flat = flat_answer(soft_rig(diver.rig))
    here = flat.pitch_moment

    @cache
    def moment(pose: Pose) -> float:
        return here if pose == diver.pose else _moment(diver.posed(pose))

    told, turning = diver.pose, turning_of(diver.rig, flat)
    tried = [tuple(moment(turned(told, angles)) - here for angles in lever.ends) for lever in LEVERS]
    breath = tuple(_moment(diver.breathed(way * BREATH * diver.tidal)) - here for way in (-1.0, 1.0))
    ranges = (
        *(_range(lever.name, ends, lever.words, lever.basis) for lever, ends in zip(LEVERS, tried, strict=True)),
        _range(word("breath"), breath, BREATH_WORDS, BREATH_BASIS),
    )
    together = [
        moment(_best(told, tried, way)) - here + max(way * b for b in (*breath, 0.0)) * way for way in (-1, 1)
    ]
    knee = degrees(0.5 * (told.left.knee_flexion + told.right.knee_flexion))
    bent = [moment(turned(told, {"knee_flexion": angle})) for angle in LOOKED_AT]
    over = Polynomial.fit(LOOKED_AT, bent, len(LOOKED_AT) - 1)
    near = [float(over(a)) - here for a in np.clip([knee - SMALL, knee + SMALL], LOOKED_AT[0], LOOKED_AT[-1])]
    found = Posture(
        moment=here,
        held="hangs by itself",
        unseen=balanced_moment(turning),
        knees_down=min(*near, 0.0),
        knees_up=max(*near, 0.0),
        all_down=min(together[0], *(r.down for r in ranges)),
        all_up=max(together[1], *(r.up for r in ranges)),
        levers=ranges,
        knee=radians(knee),
        flat_knee=_flat_knee(over, knee),
        stiffness=flat.pitch_stiffness,
        time_to_double=time_to_double(turning),
    )
    return replace(found, held=held_words(here, found))


def held_words(moment: float, posture: Posture) -> Held:
    """What a moment [N m, plus turns head-up] asks of this diver, in the pose told; ``unseen`` may be left over."""
    size = abs(moment) - posture.unseen
    if not size > 0.0:
        return "hangs by itself"
    head_down = moment < 0.0
    if size <= (posture.knees_up if head_down else -posture.knees_down):
        return "a small shift of the knees holds it"
    return "has to be held" if size <= (posture.all_up if head_down else -posture.all_down) else "cannot be held"


def _moment(rig: Rig) -> float:
    return flat_answer(soft_rig(rig)).pitch_moment


def _range(name: str, ends: tuple[float, ...], words: tuple[str, str], basis: str) -> LeverRange:
    down, up = min(*ends, 0.0), max(*ends, 0.0)
    said = dict(zip(ends, words, strict=True)) | {0.0: ""}
    return LeverRange(name, down, up, said[down], said[up], basis)


def _best(pose: Pose, tried: Sequence[tuple[float, ...]], way: int) -> Pose:
    """Every joint at its best end for that way (1 head-up), where it has one; ``tried`` : what either end adds."""
    for lever, ends in zip(LEVERS, tried, strict=True):
        best = max((0, 1), key=lambda i, ends=ends: way * ends[i])  # type: ignore[misc]
        if way * ends[best] > 0.0:
            pose = turned(pose, lever.ends[best])
    return pose


def _flat_knee(over: Polynomial, told: float) -> float | None:
    """Bend [rad] at which nothing turns the diver, the nearest to that told; None if there is none."""
    roots: list[complex] = over.roots().tolist()
    found = [float(r.real) for r in roots if abs(r.imag) < 1e-9 and LOOKED_AT[0] <= r.real <= LOOKED_AT[-1]]
    return radians(min(found, key=lambda a: abs(a - told))) if found else None
