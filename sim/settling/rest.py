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
    up = now.up
    basis = _directions(model, up)
    bend = np.zeros((3, 3))
    lag = 0.0
    still = True
    for bag, state in ((model.suit, now.suit), (model.wing, now.wing)):
        if bag is not None and state is not None:
            bend += moment_gradient(bag, state)
            lag += _moment_to_come(bag, state)
            still = still and _lift_to_come(bag, state) < WANTING
    if model.heaves:
        still = still and abs(now.speed) < STILL and abs(now.lift) < EVEN
    stiffness, turns = np.linalg.eigh(basis @ bend @ basis.T - (up @ now.d) * np.eye(len(basis)))
    along = turns.T @ basis
    spring = np.maximum(np.abs(stiffness), SLACK)
    moment = np.abs(along @ now.d) + lag
    # a turn that moves u along t is a turn about t x u; their inertias bound the swing
    about = np.cross(along, up)
    inertia = np.einsum("ai,ij,aj->a", about, model.rotation, about)
    rate = np.abs(about @ now.omega)
    spinning = float(np.linalg.norm(np.cross(now.omega, model.rotation @ now.omega)))
    distance = float(((moment + spinning) / spring + rate * np.sqrt(inertia / spring)).max())
    leaning = 1.0 if along[0] @ now.d <= 0.0 else -1.0
    return Nearness(distance, bool(stiffness[0] > 0.0), leaning * along[0], still)


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
    return float(bag.weight * (np.abs(state.imbalance) * state.slope) @ reach)


def _lift_to_come(bag: Bag, state: Flow) -> float:
    return float(abs(bag.weight * (state.slope @ state.imbalance)))
