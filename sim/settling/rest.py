r"""When a moving rig counts as at rest.

Near a rest each direction a of the plane across u is a spring k with inertia J. How far the attitude is still from
it is bounded by

    |moment| / |k|  +  |rate| sqrt(J / |k|),

the moment taken with what the gas still has to move; k is the stiffness with the gas following, worked out from the
state itself. A negative k means that the rig is poised on a saddle or a top, and would leave it at a touch.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.settling.gas_flow import Bag, Flow, moment_gradient
from sim.settling.motion import Instant, Model, cross

CLOSE: Final = float(np.radians(0.01))  # rad from rest at which the motion is stopped; statics are met to 0.05
SLACK: Final = 1e-4  # N m/rad: no spring is taken as softer than this
STILL: Final = 1e-4  # m/s of rise or sink
EVEN: Final = 1e-3  # N of lift over weight (0.1 g)
WANTING: Final = 1e-3  # N of lift that a wing still wants or has too much


@dataclass(frozen=True, eq=False)
class Nearness:
    """How near a state is to rest.

    distance : bound on the angle still to go [rad];  stable : every stiffness is > 0
    soft_axis : (3,) direction across u in which it is softest, towards the side it leans to
    still : the gas has come to rest and, where it may rise, so has the height
    """

    distance: float
    stable: bool
    soft_axis: Floats
    still: bool


def nearness(model: Model, now: Instant, far: float = np.inf) -> Nearness:
    """How near a state is to a rest (stable or not).

    far : angle [rad] beyond which it is of no interest what the gas has still to do: such a state is not ``still``
    """
    springs = _springs(model, now)
    leaning = springs.along @ now.d
    spinning = cross(now.omega, model.rotation @ now.omega)
    spring = np.maximum(np.abs(springs.stiffness), SLACK)
    moment = np.abs(leaning) + np.sqrt(spinning @ spinning)
    rate = np.abs(springs.about @ now.omega) * np.sqrt(springs.inertia / spring)
    stable = bool(springs.stiffness[0] > 0.0)
    soft_axis = springs.along[0] if leaning[0] <= 0.0 else -springs.along[0]
    distance = float((moment / spring + rate).max())
    if distance > far:
        return Nearness(distance, stable, soft_axis, still=False)
    lag, still = 0.0, True
    for bag, state in _bags(model, now):
        coming = _volume_to_come(bag, state)
        lag += bag.weight * float(np.abs(coming) @ bag.reach)
        still = still and abs(bag.weight * float(coming.sum())) < WANTING
    if model.heaves:
        still = still and abs(now.speed) < STILL and abs(now.lift) < EVEN
    return Nearness(float(((moment + lag) / spring + rate).max()), stable, soft_axis, still)


def critical_damping(model: Model, now: Instant, *, near: bool) -> Floats:
    """Torque for each unit of omega (3, 3) [N m s] that lets the swings about a state just not overshoot.

    near : the state is near its rest. Else no direction counts as softer than a tenth of the pendulum |d|: a small
        or negative stiffness is then not that of the swing.
    """
    springs = _springs(model, now)
    least = SLACK if near else SLACK + 0.1 * float(np.linalg.norm(now.d))
    spring = np.maximum(np.abs(springs.stiffness), least)
    each = 2.0 * np.sqrt(spring * springs.inertia)
    turns = np.vstack([springs.about, now.up])
    return np.asarray((turns.T * np.append(each, each.max())) @ turns)


@dataclass(frozen=True, eq=False)
class _Springs:
    """What turns a state back, softest first.

    stiffness : (a,) [N m/rad];  along : (a, 3) directions across up, in which up moves by a turn ``about`` (a, 3)
    inertia : (a,) of those turns [kg m^2]
    """

    stiffness: Floats
    along: Floats
    about: Floats
    inertia: Floats


def _springs(model: Model, now: Instant) -> _Springs:
    basis = _directions(model, now.up)
    stiffness, turns = -float(now.up @ now.d) * np.eye(len(basis)), np.eye(len(basis))
    for bag, state in _bags(model, now):
        stiffness += basis @ moment_gradient(bag, state.filling) @ basis.T
    if len(basis) > 1:
        springs, turns = np.linalg.eigh(stiffness)
    else:
        springs = stiffness[0]
    along = turns.T @ basis
    # a turn that moves u along t is a turn about t x u; their inertias bound the swing
    about = np.array([cross(t, now.up) for t in along])
    return _Springs(springs, along, about, ((about @ model.rotation) * about).sum(axis=1))


def _bags(model: Model, now: Instant) -> list[tuple[Bag, Flow]]:
    pairs = ((model.suit, now.suit), (model.wing, now.wing))
    return [(bag, state) for bag, state in pairs if bag is not None and state is not None]


def _directions(model: Model, up: Floats) -> Floats:
    """Unit vectors (a, 3) across ``up`` along which it may move."""
    if model.axes.shape[1] == 1:
        return np.array([[up[2], 0.0, -up[0]]])
    first = cross(up, np.eye(3)[np.abs(up).argmin()])
    first /= np.sqrt(first @ first)
    return np.array([first, cross(up, first)])


def _volume_to_come(bag: Bag, state: Flow) -> Floats:
    """Gas (n,) [m^3] still to come to each cell, by the law itself: an empty cell's slope says nothing of it."""
    held = state.filling
    return np.asarray(bag.law.volume(bag.basis @ (held.gas + state.toward)) - held.volume)
