r"""How divers turn who are let go: pitch against time of many at once, by the motion of ``runaway``.

With R the moment left over at the attitude p0 in which they were held, M the moment flat, k0 the stiffness with the
gas held and k_i, tau_i of the gas,

    I p'' = R + M (cos p - cos p0) - k0 (sin p - sin p0) + sum k_i (sin q_i - sin p0) - D p' |p'|,
    tau_i q_i' = p - q_i.

Against the whole motion of ``settle`` the time to 30 degrees is right within a tenth; a test holds it there.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.posture.runaway import Turning

STEP: Final = 0.1  # s; half of it changes an attitude by less than half a degree
UPRIGHT: Final = radians(85.0)  # where the motion is followed no further
TURNED: Final = radians(30.0)  # what counts as gone
WATCHED: Final = 10.0  # s that a freeze is watched
IN_BALANCE: Final = 4.0  # s that a diver in balance takes at least to drift by that much (common practice)
MOST: Final = 200.0  # N m, more than any rig has
TRIED: Final = 33  # moments at a time between two


def drifted(turning: Turning, moment: Floats, left: Floats, start: Floats, time: Floats) -> Floats:
    """Pitch (n,) [rad] at each one's ``time`` [s] from ``start`` [rad]; ``moment`` flat, ``left`` over [N m]."""
    pitch = start.copy()
    before, was = start, 0.0
    for now, there in _motion(turning, moment, left, start, float(time.max(initial=0.0))):
        inside = (time > was) & (time <= now)
        share = (time[inside] - was) / (now - was)
        pitch[inside] = (1.0 - share) * before[inside] + share * there[inside]
        before, was = there, now
    return pitch


def time_to_turn(turning: Turning, moment: Floats, left: Floats, start: Floats, until: float = WATCHED) -> Floats:
    """Time (n,) [s] until each has turned by 30 degrees, plus head-up and minus head-down; infinite where that is not
    so ``until`` then."""
    found = np.full(len(start), np.inf)
    before, was = np.zeros(len(start)), 0.0
    for now, there in _motion(turning, moment, left, start, until):
        turned = there - start
        new = np.isinf(found) & (np.abs(turned) >= TURNED)
        share = (TURNED - np.abs(before[new])) / np.maximum(np.abs(turned[new]) - np.abs(before[new]), 1e-12)
        found[new] = np.sign(turned[new]) * (was + share * (now - was))
        before, was = turned, now
    return found


def balanced_moment(turning: Turning) -> float:
    """The largest moment [N m] with which whoever stops moving, flat, drifts by 30 degrees in no less than 4 s.

    The more turns the diver, the sooner: looked for between two moments, finer each time. At most ``MOST``.
    """
    low, high = 0.0, MOST
    while high - low > 1e-3 * high:
        moments = np.linspace(low, high, TRIED)
        slow = np.abs(time_to_turn(turning, moments, moments, np.zeros(TRIED), IN_BALANCE)) >= IN_BALANCE
        if slow.all():
            return high
        first = int(np.argmin(slow))
        low, high = float(moments[max(first - 1, 0)]), float(moments[first])
    return low


def _motion(
    turning: Turning, moment: Floats, left: Floats, start: Floats, until: float
) -> Iterator[tuple[float, Floats]]:
    """Time [s] and pitch (n,) [rad], step by step."""
    t, pitch, rate = turning, start.copy(), np.zeros_like(start)
    known = [start.copy() for _ in t.gas]
    sine, cosine = np.sin(start), np.cos(start)
    for number in range(int(np.ceil(until / STEP - 1e-9))):
        push = left + moment * (np.cos(pitch) - cosine) - t.held_stiffness * (np.sin(pitch) - sine)
        for (by, _), lean in zip(t.gas, known, strict=True):
            push += by * (np.sin(lean) - sine)
        rate = _braked(rate + STEP * push / t.inertia, STEP * t.drag / t.inertia)
        pitch = np.clip(pitch + STEP * rate, -UPRIGHT, UPRIGHT)
        for (_, lag), lean in zip(t.gas, known, strict=True):
            lean += (1.0 - np.exp(-STEP / lag)) * (pitch - lean)
        yield STEP * (number + 1), pitch


def _braked(rate: Floats, share: float) -> Floats:
    """The rates r (n,) with r + share r |r| = ``rate``: drag taken at the end of a step never turns a motion back."""
    if not share > 0.0:
        return rate
    return np.asarray(np.sign(rate) * (np.sqrt(1.0 + 4.0 * share * np.abs(rate)) - 1.0) / (2.0 * share))
