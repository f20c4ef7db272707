"""How far a diver's shoulder, elbow, wrist and neck go, by published ranges less what suit and stiffness take off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.answers.fit import limits
from sim.assembly.assembled import Mobility
from sim.person.person import Person

PERCENTILES: Final = {"stiff": 0, "usual": 1, "supple": 2}  # 5, 50 and 95 % of people


@dataclass(frozen=True)
class ArmRanges:
    """Greatest joint angles of one arm [rad].

    flexion : upper arm from hanging, forward or to the side and up;  extension : the same, backward
    outward : turn of the upper arm about itself, (arm at the side, raised to 90 degrees and beyond)
    inward : the other way;  elbow : flexion;  wrist : bend of the hand to any side
    """

    flexion: float
    extension: float
    outward: tuple[float, float]
    inward: float
    elbow: float
    wrist: float


def arm_ranges(sex: str, age: float, taken_off: float, elbow_off: float = 0.0, people: str = "usual") -> ArmRanges:
    """Ranges of an arm. Vairo et al. 2012 for the shoulder, Norkin & White 2016 for the rest.

    taken_off : by suit and a stiff shoulder, off each motion of the shoulder [rad];  elbow_off : off the elbow [rad]
    people : "stiff", "usual" or "supple": 5, 50, 95 % of people of that sex;  age [yr]
    """
    i = PERCENTILES[people]
    late = float(np.clip((age - limits.OLD_FROM) / (limits.OLD_AT - limits.OLD_FROM), 0.0, 1.0))
    old = 1.0 - late * (1.0 - limits.OLD_OUTWARD_TURN)

    def less(degrees: float, off: float) -> float:
        return float(max(np.radians(degrees) - off, 0.0))

    return ArmRanges(
        flexion=less(limits.SHOULDER_FLEXION_DEG[sex][i], taken_off),
        extension=less(limits.SHOULDER_EXTENSION_DEG, taken_off),
        outward=(
            less(old * limits.OUTWARD_TURN_AT_SIDE_DEG[sex][i], taken_off),
            less(old * limits.OUTWARD_TURN_RAISED_DEG[sex][i], taken_off),
        ),
        inward=less(limits.INWARD_TURN_RAISED_DEG[sex][i], taken_off),
        elbow=less(limits.ELBOW_FLEXION_DEG, elbow_off),
        wrist=float(np.radians(limits.WRIST_BEND_DEG)),
    )


def neck_extension(person: Person, mobility: Mobility) -> float:
    """How far the neck lets the head be lifted [rad]: AAOS means by age, less the hood's bulk."""
    ages, degrees = zip(*limits.NECK_EXTENSION_DEG, strict=True)
    return float(max(np.radians(np.interp(person.age, ages, degrees)) - mobility.neck_bulk, 0.0))


def eyes_up(age: float) -> float:
    """How far the eyes turn up [rad], mean of people of that age (Lim et al. 2019), 20 to 80 years."""
    slope = limits.EYES_UP_AGE_R * limits.EYES_UP_SD_DEG / limits.EYES_AGE_SD
    years = min(max(age, 20.0), 80.0) - limits.EYES_AGE
    return float(np.radians(limits.EYES_UP_DEG + slope * years))
