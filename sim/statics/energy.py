"""Energy of a rig at rest, gas included, as a function of attitude with the wing's volume frozen."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats
from sim.statics.field import Field, SoftRig
from sim.statics.gas import Bag, BagState


def energy(soft: SoftRig, values: Field) -> Floats:
    """Energy (k,) [J] of the states in ``values``: weight, displaced water, squeezed gas and strained fabric.

    Zero is arbitrary but the same for all attitudes of one rig. Two attitudes may be compared when the wing
    holds the same volume in both; the gradient at that volume is ``values.d``.
    """
    total = values.up @ soft.rigid
    if soft.suit is not None and values.suit is not None:
        ambient = 1.0 / soft.suit.compliance
        given = ambient * (soft.suit.amount or 0.0)
        excess = values.suit_gas - given / ambient
        total = total + _bag_energy(soft.suit, values.suit)
        # isothermal compression, p_amb V - n R T ln V, from its own minimum so as not to lose digits
        total = total + ambient * excess - given * np.log1p(excess * ambient / given)
    if soft.wing is not None and values.wing is not None:
        total = total + _bag_energy(soft.wing, values.wing)
    return np.asarray(total)


def _bag_energy(bag: Bag, state: BagState) -> Floats:
    """Gauge pressure of the water times volume, plus the strain energy, summed over the cells (k,) [J]."""
    water = state.pressure[:, None] - state.difference
    return np.asarray((water * state.volume + bag.law.energy(state.difference)).sum(axis=1))
