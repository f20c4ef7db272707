"""Jacobian of the motion: the few mechanical states by differences, the gas in closed form.

The gas makes the system stiff: a suit's gas evens out its pressure in milliseconds. It enters linearly but for its
fill law's slope; the change of slope is left out: the solver uses the Jacobian to converge, not to be right.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.settling.gas_flow import STATES, Bag, Filling, gradient
from sim.settling.motion import Model, fillings, mass_matrix, rates

STEP: Final = 1e-7  # of every mechanical state, all of them of order 1


def jacobian(model: Model, y: Floats) -> Floats:
    """d(dy/dt)/dy (n, n) at the state vector ``y``."""
    held = fillings(model, y)
    result = np.zeros((len(y), len(y)))
    base = rates(model, y, held)
    for i in range(model.mechanical):
        shifted = y.copy()
        shifted[i] += STEP
        result[:, i] = (rates(model, shifted, held) - base) / STEP
    up = y[:3] / np.sqrt(y[:3] @ y[:3])
    for bag, filled, gas in ((model.suit, held[0], model.suit_gas), (model.wing, held[1], model.wing_gas)):
        if bag is not None and filled is not None:
            block = -np.eye(STATES)
            block[0] += _common(bag, filled)
            result[gas, gas] = block / bag.lag
            _push(model, up, bag, gradient(bag, filled), result[:, gas])
    if model.wing_volume is None:
        _follow(model, held, result)
    return result


def _follow(model: Model, held: tuple[Filling | None, Filling | None], result: Floats) -> None:
    """A wing kept neutral makes room for what the suit holds, and for what is on its way there."""
    suit, wing = held
    if model.wing is None or model.suit is None or wing is None or suit is None:
        return
    ratio = model.suit.weight / model.wing.weight / (float(wing.give[0]) + model.wing.sluggish)
    coming = suit.give @ result[model.suit_gas, model.suit_gas]
    result[model.wing_gas.start, model.suit_gas] = -ratio * (suit.give / model.wing.lag + coming)


def _common(bag: Bag, held: Filling) -> Floats:
    """Change of the bag's common pressure with its gas (4,)."""
    if bag.amount is not None:
        return np.asarray(-bag.ambient * bag.amount / held.total**2 * held.give)
    slope = max(float(held.give[0]), 1e-300)
    return np.asarray(held.give * (1.0 / slope - 1.0 / (slope + bag.sluggish)))


def _push(model: Model, up: Floats, bag: Bag, content: Floats, columns: Floats) -> None:
    """Accelerations that a bag's gas causes by its lift, where it is; ``content`` (4, 4) d(content)/d(gas)."""
    pushes = model.axes.T @ np.cross(up, -content[1:], axisb=0).T
    k = model.axes.shape[1]
    if not model.heaves:
        columns[model.spins] = model.nimbleness @ pushes
        return
    solved = np.linalg.solve(mass_matrix(model, up), np.vstack([pushes, bag.weight * content[0]]))
    columns[model.spins] = solved[:k]
    columns[model.mechanical - 1] = solved[k]
