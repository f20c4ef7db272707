"""Jacobian of the motion, most of it in closed form.

The gas makes the system stiff (a suit's gas evens out its pressure in milliseconds) and long (100 cells and more),
so differencing every state would cost a hundred times as much as one step. Only the few mechanical states are
differenced; the gas enters linearly but for its fill law's slope. Small terms (the change of slope) are left out:
the solver uses the Jacobian to converge, not to be right.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.settling.gas_flow import Bag, Flow
from sim.settling.motion import Instant, Model, instant, right_hand_side

STEP: Final = 1e-7  # of every mechanical state, all of them of order 1


def jacobian(model: Model, y: Floats) -> Floats:
    """d(dy/dt)/dy (n, n) at the state vector ``y``."""
    now = instant(model, y)
    result = np.zeros((len(y), len(y)))
    base = right_hand_side(model, y)
    for i in range(model.mechanical):
        shifted = y.copy()
        shifted[i] += STEP
        result[:, i] = (right_hand_side(model, shifted) - base) / STEP
    for bag, state, cells in ((model.suit, now.suit, model.suit_cells), (model.wing, now.wing, model.wing_cells)):
        if bag is not None and state is not None:
            result[cells, cells] = (_common(bag, state)[None, :] - np.eye(len(state.slope))) / bag.lag
            _push(model, now, bag, state, cells, result)
    if model.wing_volume is None:
        _follow(model, now, result)
    return result


def _follow(model: Model, now: Instant, result: Floats) -> None:
    """A wing kept neutral makes room for what the suit holds, and for what is on its way there."""
    if model.wing is None or model.suit is None or now.wing is None or now.suit is None:
        return
    slope, rates = now.suit.slope, result[model.suit_cells, model.suit_cells]
    ratio = model.suit.weight / model.wing.weight / _give(model.wing, now.wing)
    follow = -ratio * (slope + model.wing.lag * (slope @ rates))
    result[model.wing_cells, model.suit_cells] = follow[None, :] / model.wing.lag


def _common(bag: Bag, state: Flow) -> Floats:
    """Change of the bag's common pressure with each cell's pressure difference (n,)."""
    if bag.amount is not None:
        return np.asarray(-bag.ambient * bag.amount / state.total**2 * state.slope)
    return np.asarray(state.slope / max(float(state.slope.sum()), 1e-300) - state.slope / _give(bag, state))


def _give(bag: Bag, state: Flow) -> float:
    return float(state.slope.sum()) + bag.sluggish


def _push(model: Model, now: Instant, bag: Bag, state: Flow, cells: slice, result: Floats) -> None:
    """Accelerations that each cell's gas causes: its lift, at its lever."""
    lift = bag.weight * state.slope
    forces = -lift[:, None] * bag.levers
    up = now.up
    torque = np.stack(
        [
            up[1] * forces[:, 2] - up[2] * forces[:, 1],
            up[2] * forces[:, 0] - up[0] * forces[:, 2],
            up[0] * forces[:, 1] - up[1] * forces[:, 0],
        ]
    )
    k = model.axes.shape[1]
    rows = list(range(3, 3 + k))
    mass = model.axes.T @ model.rotation @ model.axes
    pushes = model.axes.T @ torque
    if model.heaves:
        coupled = (model.coupling @ up) @ model.axes
        mass = np.block([[mass, coupled[:, None]], [coupled[None, :], up @ model.translation @ up]])
        pushes = np.vstack([pushes, lift])
        rows.append(model.mechanical - 1)
    result[rows, cells] = np.linalg.solve(mass, pushes)
