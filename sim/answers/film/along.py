"""The same diver along one choice: as the cylinders empty, or as one key of the file goes from here to there.

At each value the diver is held flat, let go, and shown some seconds later. So short a motion follows a change of the
rig evenly; where a diver comes to rest at last may jump from one side of the vertical to the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np

from scenarios.quantities import SI
from sim.answers.film import words
from sim.answers.film.footage import (
    RATE,
    SOON,
    Axis,
    Cue,
    Footage,
    Picture,
    Pose,
    both_stills,
    digits_for,
    pictures_in,
    said_in_turn,
)
from sim.answers.film.let_go import at, curve_of, flat_pose, poses_along
from sim.answers.film.sweep import Swept
from sim.answers.later.empty_report import NEARLY_EMPTY, falling, full_pressure
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.settling.course import Limits
from sim.settling.settle import settle

SECONDS: Final = 10.0  # s of film unless asked otherwise, but for the time to read what is said at either end
STOOD: Final = 1.5  # s of film at either end
BEGUN: Final = 0.1  # share of the way after which its beginning has been read
BAR: Final = 1e5
Track = Callable[[Sequence[float]], Iterable[float]]


@dataclass(frozen=True, eq=False)
class _Values:
    """Places on the axis (n,) and the diver at each."""

    places: tuple[float, ...]
    divers: tuple[Assembled, ...]


def emptying_film(case: Case, *, seconds: float | None = None, track: Track = iter) -> Footage:
    """The cylinders on the back emptying, from the file's pressure to nearly none.

    Raises ScenarioError for a parts file, and a diver without such cylinders or with emptier ones.
    """
    pressures = falling(full_pressure(case, NEARLY_EMPTY), NEARLY_EMPTY)
    divers = tuple(case.vary({"cylinders.pressure": SI(p)}).assembled for p in track(pressures))
    gas = [sum(p.solid.mass for p in a.rig.parts if p.kind == "breathing gas") for a in (divers[0], divers[-1])]
    poses, flats = _posed(_Values(tuple(pressures), divers))
    wing = [0.0 if f.wing is None else float(f.wing.sum()) for f in (flats[0], flats[-1])]
    axis = Axis(words.pressure_axis(), "bar", 1.0 / BAR, digits=0)
    middle = (BEGUN, words.gas_breathed(gas[0] - gas[1], wing[0] - wing[1]))
    return replace(
        _footage(poses, divers, axis, middle, seconds),
        what="emptying", title=words.title(divers[0].title), under=words.emptying_under(SOON),
    )  # fmt: skip


def sweep_film(case: Case, swept: Swept, *, seconds: float | None = None, track: Track = iter) -> Footage:
    """One key of the file along its values. Raises ScenarioError where it cannot be so, or the diver not be built."""
    divers = tuple(case.vary([swept.setting(v)]).assembled for v in track(swept.values))
    poses, _ = _posed(_Values(tuple(swept.values), divers))
    axis = Axis(swept.words, swept.unit, digits=digits_for(swept.values[0], swept.values[-1]))
    balanced = _balanced(poses)
    middle = (BEGUN, words.from_to(axis.said(poses[0].at), axis.said(poses[-1].at), SOON))
    if balanced is not None:
        share = (balanced - poses[0].at) / (poses[-1].at - poses[0].at)
        middle = (share, words.balanced_at(axis.said(balanced)))
    return replace(
        _footage(poses, divers, axis, middle, seconds),
        what="sweep", title=words.title(divers[0].title), under=words.sweep_under(swept.words, SOON),
    )  # fmt: skip


def _posed(values: _Values) -> tuple[list[Pose], list[Pose]]:
    """At each place the diver SOON after letting go, with the moment when held flat; and held flat."""
    poses, flats = [], []
    for number, (place, diver) in enumerate(zip(values.places, values.divers, strict=True)):
        flat = flat_pose(diver, number)
        settled = settle(diver.rig, limits=Limits(time=SOON))
        then = poses_along(diver, number, settled, np.array([SOON]))[0]
        poses.append(replace(at(then, place), moment=flat.moment))
        flats.append(at(flat, place))
    return poses, flats


def _footage(
    poses: list[Pose], divers: tuple[Assembled, ...], axis: Axis, middle: tuple[float, str], seconds: float | None
) -> Footage:
    """From the first value to the last at an even pace, standing a while at either.

    middle : what is said on the way, and from which share of it on
    """
    first, last = (words.at_place(axis.said(pose.at), pose.moment) for pose in (poses[0], poses[-1]))
    stood, stands = map(pictures_in, both_stills(first, last, (STOOD, STOOD), seconds))
    moving = pictures_in(SECONDS - 2.0 * STOOD) if seconds is None else max(pictures_in(seconds) - stood - stands, 2)
    along = np.linspace(0.0, len(poses) - 1.0, moving)
    pictures = [Picture(poses[0])] * stood
    for place in along:
        i = min(int(place), len(poses) - 2)
        pictures.append(Picture(poses[i], poses[i + 1], float(place - i)))
    pictures += [Picture(poses[-1])] * stands
    share, text = middle
    said = [
        Cue(0.0, first), Cue((stood + share * moving) / RATE, text, 2), Cue((stood + moving) / RATE, last, 1)
    ]  # fmt: skip
    return Footage(
        what="sweep", title="", under="", pace="", divers=divers, pictures=tuple(pictures),
        captions=said_in_turn(said, len(pictures) / RATE), axis=axis, curves=(curve_of(poses),),
        moment_words=words.held_moment_axis(), pitch_words=words.later_pitch_axis(SOON),
    )  # fmt: skip


def _balanced(poses: Sequence[Pose]) -> float | None:
    """Where the moment first goes through nothing, straight between values."""
    for one, other in pairwise(poses):
        if one.moment * other.moment < 0.0:
            return one.at + (other.at - one.at) * one.moment / (one.moment - other.moment)
    return None
