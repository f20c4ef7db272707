"""The motion from flat as frames: attitude, centres, gas and what turns the diver, for whoever shows it moving."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.settle.drawn.settled import GasThere, centres
from sim.answers.settle.report import SettleReport
from sim.drawing.views import world_from_body
from sim.rig import Rig

LONGEST: Final = 60.0  # s that are shown: what comes later is slow
FRAMES: Final = 240  # at most


@dataclass(frozen=True, eq=False)
class Motion:
    """Frames at times (n,) [s] from the start, flat.

    rotation : (n, 3, 3) body axes to world axes, each the least turn from the one before
    pitch : (n,) [rad], beyond a right angle past the vertical
    moment : (n,) about the held point [N m], plus head-up
    cm, cb : (n, 3) of the whole with its gas, body axes [m]
    suit, wing : (n, cells) gas [m^3]; None without the pocket
    """

    time: Floats
    rotation: Floats
    pitch: Floats
    moment: Floats
    cm: Floats
    cb: Floats
    suit: Floats | None
    wing: Floats | None


def motion_of(report: SettleReport) -> Motion | None:
    """Of a report's settling; None for a rig that nothing turns in any attitude."""
    if report.settled is None:
        return None
    path, rig = report.settled.path, report.assembled.rig
    end = min(float(path.time[-1]), LONGEST)
    time = np.linspace(0.0, end, min(FRAMES, max(2, int(np.ceil(end / 0.1)) + 1)))
    up = _between(path.time, path.up, time)
    up /= np.linalg.norm(up, axis=1, keepdims=True)
    suit = None if rig.suit is None or not path.suit.size else _between(path.time, path.suit, time)
    wing = None if rig.wing is None else _between(path.time, path.wing, time)
    cm, cb, moment = np.empty_like(up), np.empty_like(up), np.empty(len(time))
    for i in range(len(time)):
        gas = GasThere(None if suit is None else suit[i], None if wing is None else wing[i], 0.0)
        cm[i], cb[i], moment[i] = turned(rig, gas, up[i])
    pitch = np.interp(time, path.time, np.unwrap(path.pitch))
    return Motion(time, turns(up), pitch, moment, cm, cb, suit, wing)


def turned(rig: Rig, gas: GasThere, up: Floats) -> tuple[Floats, Floats, float]:
    """CM and CB (3,) [m] with gas as it is, and the moment about the left-right axis [N m], plus head-up.

    up : (3,) unit, the world's up in body axes
    """
    mass, cm, cb = centres(rig, gas)
    volume = rig.whole.volume + sum(float(v.sum()) for v in (gas.suit, gas.wing) if v is not None)
    gravity = rig.water.gravity
    weight, push = -mass * gravity * up, rig.water.density * volume * gravity * up
    torque = np.cross(cm - rig.held, weight) + np.cross(cb - rig.held, push)
    return cm, cb, -float(torque[1])  # a turn about the left, by the right hand, takes the head down


def turns(up: Floats) -> Floats:
    """(n, 3, 3) rotations from body to world for ups (n, 3), without a jump where the heading has none."""
    found = [world_from_body(up[0])]
    for before, now in pairwise(up):
        found.append(found[-1] @ least_turn(now, before))
    return np.array(found)


def least_turn(start: Floats, end: Floats) -> Floats:
    """The rotation (3, 3) that takes unit ``start`` to unit ``end`` about the axis across both."""
    axis, c = np.cross(start, end), float(start @ end)
    skew = np.array([[0.0, -axis[2], axis[1]], [axis[2], 0.0, -axis[0]], [-axis[1], axis[0], 0.0]])
    return np.asarray(np.eye(3) + skew + skew @ skew / (1.0 + c))


def _between(at: Floats, rows: Floats, time: Floats) -> Floats:
    """Rows (n, k) at other times, straight between."""
    return np.stack([np.interp(time, at, column) for column in np.reshape(rows, (len(at), -1)).T], axis=1)
