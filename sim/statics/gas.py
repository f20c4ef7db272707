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
from sim.rig import Pocket, Rig, SuitPocket, Water
from sim.statics.equations import excess_gas

ITERATIONS: Final = 120
CLOSE: Final = 1e-13  # of the pocket's capacity: where a double has no more to give
NARROW: Final = 1e-12  # of the pressure: nor here


@dataclass(frozen=True, eq=False)
class Bag:
    """A pocket made ready for solving: what does not depend on the direction of up.

    levers : (n, 3) cell positions from the held point [m];  weight : (rho - rho_gas) g [N/m^3]
    compliance : 1/p_amb [1/Pa] for a fixed amount of gas, 0 for a fixed volume
    amount : volume of the gas at p_amb [m^3] (suit), or None where the volume is given with each call (wing)
    table, filled : rising pressure differences (t,) [Pa] and (1 + c Delta) sum V at each (t,) [m^3]
    capacity : [m^3] with every cell taut;  shares : (n,) of each cell in it
    """

    levers: Floats
    law: FillLaw
    weight: float
    compliance: float
    amount: float | None
    table: Floats
    filled: Floats
    capacity: float
    shares: Floats


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
    fixed = isinstance(pocket, SuitPocket)
    compliance = 1.0 / rig.water.pressure if fixed else 0.0
    table = _differences(pocket.law, rig.water)
    filled = (1.0 + compliance * table) * pocket.law.volume(table[:, None]).sum(axis=1)
    capacity = float(pocket.law.most.sum())
    return Bag(
        levers=pocket.cells - rig.held,
        law=pocket.law,
        weight=(rig.water.density - pocket.gas_density) * rig.water.gravity,
        compliance=compliance,
        amount=pocket.gas if fixed else None,
        table=table,
        filled=np.maximum.accumulate(filled),
        capacity=capacity,
        shares=pocket.law.most / max(capacity, 1e-300),
    )


def _differences(law: FillLaw, water: Water) -> Floats:
    """Rising pressure differences from all squeezed to all taut, close together where the law bends."""
    steps = np.geomspace(0.1 * law.scale, max(60.0 * law.scale, 20.0 * water.pressure), 40)
    vacuum = -water.pressure * (1.0 - 1e-9)
    below = -steps[::-1]
    return np.concatenate([[vacuum], below[below > vacuum], [0.0], steps])


def at_rest(
    bag: Bag, up: Floats, total: Floats | None = None, near: Floats | None = None, close: float = CLOSE
) -> BagState:
    """Gas at rest for up-directions ``up`` (k, 3) (unit vectors, body axes).

    total : (k,) volume the cells must add up to [m^3], for a bag without an amount of its own; values at or
    beyond what the bag can hold leave it empty or taut. near : (k,) pressures [Pa] to start from, where known.
    close : how much of the bag's capacity may be amiss; from there on volumes and pressure go to first order.
    """
    lift = bag.weight * (up @ bag.levers.T)
    target = np.full(len(up), bag.amount) if total is None else total
    low, high = _bracket(bag, lift, target)
    if near is None:
        near = np.interp(target, bag.filled, bag.table) - lift @ bag.shares
    return _balanced(bag, lift, target, low, high, np.minimum(np.maximum(near, low), high), close)


def _bracket(bag: Bag, lift: Floats, target: Floats) -> tuple[Floats, Floats]:
    """Pressures (k,) between which the root lies: all cells at least, or at most, as full as one level bag."""
    at = bag.filled.searchsorted(target)
    last = len(bag.table) - 1
    below = bag.table[np.minimum(np.maximum(at - 1, 0), last)]
    above = bag.table[np.minimum(at, last)]
    low = np.minimum(below - lift.max(axis=1), below)
    high = np.maximum(above - lift.min(axis=1), above)
    if bag.compliance > 0.0:
        low = np.maximum(low, bag.table[0])
    return low, high


def _balanced(bag: Bag, lift: Floats, target: Floats, low: Floats, high: Floats, x: Floats, close: float) -> BagState:
    """State at the root (k,) of (1 + c x) sum V(lift + x) = target, from ``x`` by Newton kept inside a bracket.

    A step of Newton's that leaves the bracket, or is not half as long as the step before, gives way to a halving of
    the bracket: it may have crept in from one side.
    """
    amiss = close * bag.capacity
    each = np.ones(len(bag.levers))
    step = high - low
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        for _ in range(ITERATIONS):
            difference = lift + x[:, None]
            volume, slope = bag.law.volume_and_slope(difference)
            excess, steepness = excess_gas(x, volume @ each, slope @ each, bag.compliance, target)
            settled = (np.abs(excess) <= amiss) | (high - low <= NARROW * (1.0 + np.abs(x)))
            if settled.all():
                break
            over = excess > 0.0
            high, low = np.where(over, x, high), np.where(over, low, x)
            new = x - excess / steepness
            trusted = (new > low) & (new < high) & (np.abs(new - x) <= 0.5 * np.abs(step))
            new = np.where(trusted, new, 0.5 * (low + high))
            step = np.where(settled, 0.0, new - x)
            x = x + step
    if close > CLOSE:
        left = np.where(steepness > 0.0, -excess / np.where(steepness > 0.0, steepness, 1.0), 0.0)[:, None]
        return BagState(x + left[:, 0], difference + left, volume + slope * left, slope)
    return BagState(x, difference, volume, slope)
