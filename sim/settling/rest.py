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
from sim.settling.motion import Instant, Model

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


def nearness(model: Model, now: Instant) -> Nearness:
    """How near a state is to a rest (stable or not)."""
    springs = _springs(model, now)
    lag, still = 0.0, True
    for bag, state in _bags(model, now):
        lag += _moment_to_come(bag, state)
        still = still and _lift_to_come(bag, state) < WANTING
    if model.heaves:
        still = still and abs(now.speed) < STILL and abs(now.lift) < EVEN
    spring = np.maximum(np.abs(springs.stiffness), SLACK)
    moment = np.abs(springs.along @ now.d) + lag
    rate = np.abs(springs.about @ now.omega)
    spinning = float(np.linalg.norm(np.cross(now.omega, model.rotation @ now.omega)))
    distance = float(((moment + spinning) / spring + rate * np.sqrt(springs.inertia / spring)).max())
    leaning = 1.0 if springs.along[0] @ now.d <= 0.0 else -1.0
    return Nearness(distance, bool(springs.stiffness[0] > 0.0), leaning * springs.along[0], still)


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
    bend = sum((moment_gradient(bag, state) for bag, state in _bags(model, now)), np.zeros((3, 3)))
    stiffness, turns = np.linalg.eigh(basis @ bend @ basis.T - (now.up @ now.d) * np.eye(len(basis)))
    along = turns.T @ basis
    # a turn that moves u along t is a turn about t x u; their inertias bound the swing
    about = np.cross(along, now.up)
    return _Springs(stiffness, along, about, np.einsum("ai,ij,aj->a", about, model.rotation, about))


def _bags(model: Model, now: Instant) -> list[tuple[Bag, Flow]]:
    pairs = ((model.suit, now.suit), (model.wing, now.wing))
    return [(bag, state) for bag, state in pairs if bag is not None and state is not None]


def _directions(model: Model, up: Floats) -> Floats:
    """Unit vectors (a, 3) across ``up`` along which it may move."""
    if model.axes.shape[1] == 1:
        return np.array([[up[2], 0.0, -up[0]]])
    first = np.cross(up, np.eye(3)[np.abs(up).argmin()])
    first /= np.linalg.norm(first)
    return np.array([first, np.cross(up, first)])


def _moment_to_come(bag: Bag, state: Flow) -> float:
    """Moment [N m] by which the gas still on its way may yet change the balance."""
    reach = np.sqrt((bag.levers**2).sum(axis=1))
    return float(bag.weight * np.abs(_volume_to_come(bag, state)) @ reach)


def _lift_to_come(bag: Bag, state: Flow) -> float:
    return float(abs(bag.weight * _volume_to_come(bag, state).sum()))


def _volume_to_come(bag: Bag, state: Flow) -> Floats:
    """Gas (n,) [m^3] still to come to each cell, by the law itself: an empty cell's slope says nothing of it."""
    return np.asarray(bag.law.volume(state.difference + state.imbalance) - state.volume)
