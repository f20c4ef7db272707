r"""The one gas pressure at which every cell of a pocket is at rest, for many directions of up at once.

A cell at s (from the held point) feels the gas minus the water as

    Delta = x + (rho - rho_gas) g s.u,      x = p_gas - p_amb at the level of the held point,

so one unknown x fixes the whole pocket: by p V = const for the suit, by a given sum of volumes for the wing.
All pressures are gauge, so that 300 Pa of softness is not lost in 250 kPa of depth.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.fill_laws import FillLaw
from sim.rig import Pocket, Rig, Water
from sim.statics.equations import excess_gas

ITERATIONS: Final = 120
CLOSE: Final = 1e-13  # of the pocket's capacity: where a double has no more to give


@dataclass(frozen=True, eq=False)
class Bag:
    """A pocket made ready for solving: what does not depend on the direction of up.

    levers : (n, 3) cell positions from the held point [m];  weight : (rho - rho_gas) g [N/m^3]
    compliance : 1/p_amb [1/Pa] for a fixed amount of gas, 0 for a fixed volume
    amount : volume of the gas at p_amb [m^3] (suit), or None where the volume is given with each call (wing)
    table, filled : rising pressure differences (t,) [Pa] and (1 + c Delta) sum V at each (t,) [m^3]
    """

    levers: Floats
    law: FillLaw
    weight: float
    compliance: float
    amount: float | None
    table: Floats
    filled: Floats


def bending_angle(bag: Bag) -> float:
    """Turn [rad] in which a cell at the bag's end goes from slack to taut: nothing changes faster with attitude."""
    reach = float(np.abs(bag.levers).max()) * abs(bag.weight)
    return bag.law.scale / reach if reach > 0.0 else np.inf


@dataclass(frozen=True, eq=False)
class BagState:
    """Gas at rest in one pocket, for k directions of up.

    pressure : (k,) x [Pa];  difference : (k, n) Delta [Pa];  volume, slope : (k, n) [m^3], [m^3/Pa]
    """

    pressure: Floats
    difference: Floats
    volume: Floats
    slope: Floats


def bag_of(pocket: Pocket, rig: Rig) -> Bag:
    """Pocket of ``rig`` made ready; the suit's gas is a fixed amount, the wing's a volume given later."""
    fixed = pocket.name == "suit"
    compliance = 1.0 / rig.water.pressure if fixed else 0.0
    table = _differences(pocket.law, rig.water)
    filled = (1.0 + compliance * table) * pocket.law.volume(table[:, None]).sum(axis=1)
    return Bag(
        levers=pocket.cells - rig.held,
        law=pocket.law,
        weight=(rig.water.density - pocket.gas_density) * rig.water.gravity,
        compliance=compliance,
        amount=pocket.gas if fixed else None,
        table=table,
        filled=np.maximum.accumulate(filled),
    )


def _differences(law: FillLaw, water: Water) -> Floats:
    """Rising pressure differences from all squeezed to all taut, close together where the law bends."""
    steps = np.geomspace(0.1 * law.scale, max(60.0 * law.scale, 20.0 * water.pressure), 40)
    vacuum = -water.pressure * (1.0 - 1e-9)
    below = -steps[::-1]
    return np.concatenate([[vacuum], below[below > vacuum], [0.0], steps])


def at_rest(bag: Bag, up: Floats, total: Floats | None = None) -> BagState:
    """Gas at rest for up-directions ``up`` (k, 3) (unit vectors, body axes).

    total : (k,) volume the cells must add up to [m^3], for a bag without an amount of its own; values at or
    beyond what the bag can hold leave it empty or taut.
    """
    lift = bag.weight * (up @ bag.levers.T)
    target = np.full(len(up), bag.amount) if total is None else total
    low, high = _bracket(bag, lift, target)
    # as if every cell lay in the middle of the bag: close, where the gas lies evenly
    level = np.interp(target, bag.filled, bag.table) - lift.mean(axis=1)
    return _balanced(bag, lift, target, low, high, np.clip(level, low, high))


def _bracket(bag: Bag, lift: Floats, target: Floats) -> tuple[Floats, Floats]:
    """Pressures (k,) between which the root lies: all cells at least, or at most, as full as one level bag."""
    at = np.searchsorted(bag.filled, target)
    last = len(bag.table) - 1
    below = bag.table[np.clip(at - 1, 0, last)]
    above = bag.table[np.clip(at, 0, last)]
    low = np.minimum(below - lift.max(axis=1), below)
    high = np.maximum(above - lift.min(axis=1), above)
    if bag.compliance > 0.0:
        low = np.maximum(low, bag.table[0])
    return low, high


def _balanced(bag: Bag, lift: Floats, target: Floats, low: Floats, high: Floats, x: Floats) -> BagState:
    """State at the root x (k,) of (1 + c x) sum V(lift + x) = target, by Newton kept inside a shrinking bracket."""
    close = CLOSE * float(bag.law.most.sum())
    width, before = high - low, np.inf
    for turn in range(ITERATIONS):
        difference = lift + x[:, None]
        volume, slope = bag.law.volume_and_slope(difference)
        excess, steepness = excess_gas(x, volume.sum(axis=1), slope.sum(axis=1), bag.compliance, target)
        settled = np.abs(excess) <= close
        if settled.all():
            break
        high = np.where(excess > 0.0, x, high)
        low = np.where(excess > 0.0, low, x)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            step = x - excess / steepness
        inside = (step > low) & (step < high)
        if turn % 3 == 2:  # Newton may creep in: every third turn insist on a halved bracket or a tenth of the excess
            inside &= (high - low < 0.5 * width) | (np.abs(excess) < 0.1 * before)
            width, before = high - low, np.abs(excess)
            if (width <= 1e-12 * (1.0 + np.abs(x))).all():
                break
        x = np.where(settled, x, np.where(inside, step, 0.5 * (low + high)))
    return BagState(x, difference, volume, slope)
