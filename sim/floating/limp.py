"""How an articulated body floats with its joints limp: minima of energy in heave, two turns and every joint.

Newton steps with the curvature's size for its sign, shortened until the energy falls. A joint at the end of its range
that is pressed further stays there and is left out of the step until it is pressed back (projected Newton method:
Bertsekas 1982, SIAM J Control Optim 20:221).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.floating.articulated import Articulated, Poised, at_angles, poised
from sim.floating.equilibrium import CLOSE_ENOUGH, ITERATIONS, MOST_RISE, NEARLY, NUDGE, draught
from sim.floating.joint import Joint
from sim.statics.field import tangent_basis

MOST_TURN: Final = 0.15  # rad a step, of the whole
MOST_BEND: Final = 0.3  # rad a step, of a joint
AT_END: Final = 1e-9  # rad from the end of a joint's range that count as at it
STILL: Final = 1e-3  # rad: what a following joint may still be off at rest
FOLLOWED: Final = 1e-7  # of the weight [N], [N m]: close enough where a joint follows the attitude

Follow = Callable[[Floats, float, Floats], tuple[Joint, ...]]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Limp:
    """An articulated body afloat at rest, or at rest but for turns that are held.

    up : (3,) world-up in the root's axes;  level : of the water along it from the root's origin [m]
    angles : (j,) of the joints [rad];  torque : (j,) by which weight, water and springs press each joint [N m], plus
        to greater angles: nil but at an end of its range
    moment : (3,) of weight and water on the whole, root axes [N m]; nil at a rest
    basis : (2, 3) directions in which ``up`` turns, the first about the axis it was bound to
    limp, still : (3, 3) second derivative of the energy by (level [m], turn [rad], turn [rad]) in ``basis``, the
        joints giving way and the joints kept as they are
    energy : [J], zero arbitrary;  settled : False when the search ended before what should vanish had
    """

    up: Floats
    level: float
    angles: Floats
    torque: Floats
    moment: Floats
    basis: Floats
    limp: Floats
    still: Floats
    energy: float
    settled: bool

    @property
    def least_stiffness(self) -> float:
        """The least eigenvalue of ``limp``: > 0 where the whole stays by itself."""
        return float(np.linalg.eigvalsh(self.limp)[0])


@dataclass(frozen=True, eq=False)
class _Place:
    """Where the search stands, and the energy there, that of the joints' springs included."""

    up: Floats
    level: float
    angles: Floats
    basis: Floats
    now: Poised


@dataclass(frozen=True, eq=False)
class _Search:
    """What is searched: the body, which turns are free (2,), the axis they are bound to, and the joints' ends."""

    body: Articulated
    turning: Flags
    about: Floats | None
    low: Floats
    high: Floats

    def at(self, up: Floats, level: float, angles: Floats) -> _Place:
        basis = _basis(up, self.about)
        water = poised(self.body, up, level, angles, basis)
        return _Place(up, level, angles, basis, _sprung(water, self.body.joints, angles))

    def free(self, place: _Place) -> Flags:
        """(3 + j,) what may move: not what is held, nor a joint pressed against the end of its range."""
        press, angles = place.now.slope[3:], place.angles
        fixed = self.high - self.low <= AT_END
        stopped = ((angles <= self.low + AT_END) & (press >= 0.0)) | ((angles >= self.high - AT_END) & (press <= 0.0))
        return np.concatenate([[True], self.turning, ~(stopped | fixed)])

    def unbalanced(self, place: _Place) -> Floats:
        """(3 + j,) the slope by what may move, 0 for all else."""
        return np.where(self.free(place), place.now.slope, 0.0)


def limp_from(
    body: Articulated,
    start: Floats,
    angles: Floats,
    *,
    about: Floats | None = None,
    held: bool = False,
    follow: Follow | None = None,
) -> Limp | None:
    """The rest reached downhill from attitude ``start`` (3,) and joints at ``angles`` (j,); None if it sinks there.

    about : turn the whole about this axis (3,) alone, root axes;  held : do not turn it at all
    follow : the joints with the ranges that go with an attitude, a level and the angles reached, renewed before each
        step: a joint that is held by will, such as the neck. What that moves, it moves against no energy
    A balance that does not hold, as a symmetric start may be, is left by a nudge down its steepest side.
    """
    up = np.asarray(start, dtype=float) / np.linalg.norm(start)
    turning = np.array([not held, not held and about is None])
    search = _search(body, turning, about)
    bent = np.clip(angles, search.low, search.high)
    level = draught(at_angles(body, bent), up)
    if level is None:
        return None
    weight, close = body.weight, CLOSE_ENOUGH if follow is None else FOLLOWED
    place, moved = search.at(up, level, bent), 0.0
    for _ in range(ITERATIONS):
        if follow is not None:
            search, place, moved = _followed(search, place, follow)
        free, slope = search.free(place), search.unbalanced(place)
        values, vectors = np.linalg.eigh(place.now.bend[np.ix_(free, free)])
        if np.abs(slope).max() <= close * weight and moved <= STILL:
            if values[0] > -1e-6 * weight:
                return _told(place, free, True)
            step = _whole(NUDGE * vectors[:, 0], free)
        else:
            size = np.maximum(np.abs(values), 1e-6 * weight)
            step = _whole(-vectors @ ((vectors.T @ slope[free]) / size), free)
        then = _downhill(search, place, _shortened(step))
        if then is None:
            return _told(place, free, bool(np.abs(slope).max() <= max(NEARLY, close) * weight))
        place = then
    return _told(place, search.free(place), False)


def _search(body: Articulated, turning: Flags, about: Floats | None) -> _Search:
    low, high = np.array([[j.low, j.high] for j in body.joints]).reshape(-1, 2).T
    return _Search(body, turning, about, low, high)


def _followed(search: _Search, place: _Place, follow: Follow) -> tuple[_Search, _Place, float]:
    """Search and place with the joints that go with where it stands, and how far that moved any of them [rad]."""
    joints = follow(place.up, place.level, place.angles)
    search = _search(replace(search.body, joints=joints), search.turning, search.about)
    angles = np.clip(place.angles, search.low, search.high)
    moved = float(np.abs(angles - place.angles).max(initial=0.0))
    return search, search.at(place.up, place.level, angles) if moved > 0.0 else place, moved


def _sprung(water: Poised, joints: tuple[Joint, ...], angles: Floats) -> Poised:
    """Energy, slope and bend with what the joints' springs add."""
    energy, slope, bend = water.energy, water.slope.copy(), water.bend.copy()
    for k, joint in enumerate(joints):
        if joint.spring is not None:
            stored, moment, rate = joint.spring.at(float(angles[k]))
            energy += stored
            slope[3 + k] -= moment
            bend[3 + k, 3 + k] -= rate
    return Poised(energy, slope, bend)


def _basis(up: Floats, about: Floats | None) -> Floats:
    """Two directions (2, 3) in which ``up`` turns, the first about the axis ``about``."""
    if about is None:
        return np.asarray(tangent_basis(up[None])[0])
    first = np.cross(up, about)
    first = first / np.linalg.norm(first)
    return np.stack([first, np.cross(up, first)])


def _whole(part: Floats, free: Flags) -> Floats:
    step = np.zeros(len(free))
    step[free] = part
    return step


def _shortened(step: Floats) -> Floats:
    bend = float(np.abs(step[3:]).max(initial=0.0))
    most = max(abs(step[0]) / MOST_RISE, float(np.hypot(step[1], step[2])) / MOST_TURN, bend / MOST_BEND)
    return np.asarray(step / max(1.0, most))


def _downhill(search: _Search, place: _Place, step: Floats) -> _Place | None:
    """Place after the largest halving of ``step`` that lowers the energy; None when none does.

    Where rounding hides the energy's change, the step must at least halve forces and moments.
    """
    noise = 1e-12 * search.body.weight
    before = np.abs(search.unbalanced(place)).max()
    for halving in range(14):
        part = step * 0.5**halving
        turned = place.up + part[1:3] @ place.basis
        turned = turned / np.linalg.norm(turned)
        angles = np.clip(place.angles + part[3:], search.low, search.high)
        then = search.at(turned, place.level + float(part[0]), angles)
        change = then.now.energy - place.now.energy
        if change < -noise or (change < noise and np.abs(search.unbalanced(then)).max() < 0.5 * before):
            return then
    return None


def _told(place: _Place, free: Flags, settled: bool) -> Limp:
    now, basis = place.now, place.basis
    # as for a rigid body, the torque is up x dE/du
    moment = np.cross(place.up, now.slope[1:3] @ basis)
    limp, limbs = now.bend[:3, :3], np.flatnonzero(free[3:]) + 3
    if len(limbs):
        cross = now.bend[:3, limbs]
        limp = limp - cross @ np.linalg.lstsq(now.bend[np.ix_(limbs, limbs)], cross.T, rcond=None)[0]
    return Limp(
        place.up,
        place.level,
        place.angles,
        -now.slope[3:],
        moment,
        basis,
        limp,
        now.bend[:3, :3],
        now.energy,
        settled,
    )
