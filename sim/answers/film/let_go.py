"""The diver let go from flat and followed to rest."""

from __future__ import annotations

from dataclasses import replace
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.answers.film import words
from sim.answers.film.footage import (
    RATE,
    Axis,
    Cue,
    Curve,
    Footage,
    Picture,
    Pose,
    both_stills,
    pictures_in,
    pose_of,
    said_in_turn,
)
from sim.answers.model.motion import turned
from sim.answers.settle.drawn.settled import GasThere, gas_there
from sim.assembly.assembled import Assembled
from sim.rig import Rig
from sim.settling.course import Limits
from sim.settling.settle import Settled, settle
from sim.statics.field import soft_rig

HELD: Final = 1.2  # s of film that the diver is held flat
RESTS: Final = 2.5  # s of film at the end
LIKENED: Final = 9.0  # s of film from which on there is time to read what a moment is like (assumed)
LONGEST: Final = 60.0  # s of the diver's time that are filmed
AFTER: Final = 1.0  # s of the diver's time beyond coming to rest
NEAR: Final = 3.0  # degrees from where the diver ends, about which they only sway (assumed: hard to see)
TOLD: Final = 30.0  # degrees of pitch that are told when they are passed: those of the freeze test
Roll = Literal["held", "free"]


def let_go(assembled: Assembled, *, roll: Roll = "held", speed: float = 1.0, seconds: float | None = None) -> Footage:
    """Footage of a diver let go from flat.

    speed : the diver's seconds in one of the film's;  seconds : the film's length, else until the diver is at rest
    """
    rig = assembled.rig
    settled = settle(rig, roll=roll, limits=Limits(frame=speed / RATE))
    near = near_rest(settled)
    lasts = min(near + AFTER, LONGEST)
    if seconds is not None:
        lasts = min(settled.time + AFTER, LONGEST, 0.5 * seconds * speed)  # that long at least
    first = words.held_flat(flat_pose(assembled, 0).moment, like=seconds is None or seconds >= LIKENED)
    end = float(np.interp(lasts, settled.path.time, np.unwrap(settled.path.pitch)))
    last = words.ends(settled, end, lasts, lasts >= near)
    held, rested = both_stills(first, last, (HELD, RESTS), seconds)
    if seconds is not None:
        lasts = min(settled.time + AFTER, LONGEST, (seconds - held - rested) * speed)
    poses = poses_along(assembled, 0, settled, np.arange(0.0, lasts + 1e-9, speed / RATE))
    still, rests = pictures_in(held), pictures_in(rested)
    if seconds is not None:
        rests = max(pictures_in(seconds) - still - len(poses), 1)
    shown = [poses[0]] * still + poses + [poses[-1]] * rests
    length = len(shown) / RATE
    said = [Cue(0.0, first), Cue(held, let_go_words(rig), 2)]
    said += [Cue(held + time / speed, text, 3) for time, text in _passed(poses)]
    said += [Cue((still + len(poses)) / RATE, words.ends(settled, poses[-1].pitch, lasts, lasts >= near), 1)]
    return Footage(
        what="let-go", title=words.title(assembled.title), under=words.let_go_from_flat(roll),
        pace=words.pace(speed), divers=(assembled,), pictures=tuple(Picture(p) for p in shown),
        captions=said_in_turn(said, length), axis=seconds_axis(), curves=(curve_of(poses),),
        moment_words=words.moment_axis(), pitch_words=words.pitch_axis(),
    )  # fmt: skip


def seconds_axis() -> Axis:
    return Axis(words.seconds_axis(), "s")


def let_go_words(rig: Rig) -> str:
    """As the diver is let go, with what gas there is to move."""
    return words.let_go(rig.suit is not None, rig.wing is not None)


def near_rest(settled: Settled) -> float:
    """When the diver comes within NEAR of where they end, to stay there [s]."""
    turned = np.arccos(np.clip(settled.path.up @ settled.path.up[-1], -1.0, 1.0))
    away = np.flatnonzero(turned > np.radians(NEAR))
    return float(settled.path.time[min(away[-1] + 1, len(turned) - 1)]) if len(away) else 0.0


def _passed(poses: list[Pose]) -> list[tuple[float, str]]:
    """What is told on the way: the first TOLD degrees, and going over the vertical, each with its time."""
    angles, times = np.degrees([p.pitch for p in poses]), [p.at for p in poses]
    found = []
    for told in (TOLD, 90.0):
        beyond = np.flatnonzero(np.abs(angles) > told)
        if len(beyond):
            way = float(np.sign(angles[beyond[0]]))
            text = words.turned_past(way * told, times[beyond[0]]) if told < 90.0 else words.over_the_vertical(way)
            found.append((times[beyond[0]], text))
    return found


def poses_along(assembled: Assembled, number: int, settled: Settled, times: Floats) -> list[Pose]:
    """The diver at times (n,) [s] of the motion; beyond its end as it was there."""
    path, rig = settled.path, assembled.rig
    pitch = np.interp(times, path.time, np.unwrap(path.pitch))
    up = _at(path.time, path.up, times)
    up /= np.linalg.norm(up, axis=1, keepdims=True)
    suit = None if rig.suit is None else _at(path.time, path.suit, times)
    wing = None if rig.wing is None else _at(path.time, path.wing, times)
    found = []
    for i, time in enumerate(times):
        own = (None if suit is None else suit[i], None if wing is None else wing[i])
        _, _, moment = turned(rig, GasThere(*own, 0.0), up[i])
        found.append(pose_of(rig, number, up[i], *own, at=float(time), moment=moment, pitch=float(pitch[i])))
    return found


def flat_pose(assembled: Assembled, number: int) -> Pose:
    """The diver held flat, the gas at rest."""
    up = np.array([0.0, 0.0, 1.0])
    gas = gas_there(soft_rig(assembled.rig), up)
    _, _, moment = turned(assembled.rig, gas, up)
    return pose_of(assembled.rig, number, up, gas.suit, gas.wing, at=0.0, moment=moment, pitch=0.0)


def curve_of(poses: list[Pose]) -> Curve:
    return Curve(*(np.array([getattr(p, key) for p in poses]) for key in ("at", "moment", "pitch")))


def at(pose: Pose, place: float) -> Pose:
    """The same at another place of the axis."""
    return replace(pose, at=place)


def _at(time: Floats, rows: Floats, wanted: Floats) -> Floats:
    """Rows (n, k) at other times, straight between frames that are as close as the film's pictures."""
    return np.stack([np.interp(wanted, time, column) for column in np.reshape(rows, (len(time), -1)).T], axis=1)
