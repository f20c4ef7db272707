r"""Gas moving between the cells of a soft bag, in four numbers for all cells.

A cell at s (from the held point) feels the pressure difference Delta across its wall, and holds V(Delta) by the fill
law. Each cell exchanges gas with the bag's common pressure p_g, with a lag of tau:

    dDelta/dt = (p_g - p - Delta) / tau,    p = - w (h + s.u),   w = (rho - rho_gas) g     (water outside, gauge)

so the energy sum p V + phi(V) + (gas) falls at the rate sum V' (p_g - p - Delta)^2 / tau. For a fixed amount of gas
p_g follows from p V = const; for a given volume it is the pressure that makes the volumes add up.

All cells of a bag share the one lag, and the right side is affine in s. So differences that are affine in s at the
start, as they are at rest, stay so for ever,

    Delta = a + w s.b,    a' = (p_g + w h - a) / tau,    b' = (u - b) / tau,

exactly, however many cells there are: b is the up that the gas has come to know of. The state of a bag is its gas
(a, b), and ``basis`` (n, 4) with rows (1, w s) turns it into the cells' differences.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np

from meshes.mesh import Floats
from sim.fill_laws import FillLaw
from sim.rig import Pocket, Rig, SuitPocket

STATES: Final = 4  # a [Pa] and b (3) of a bag
EMPTY: Final = 1e-9  # of a bag's capacity: as empty, or as close to taut, as a bag of given volume gets
SLUGGISH: Final = 0.02  # of capacity over law scale: below this slope a bag fills or empties more slowly


@dataclass(frozen=True, eq=False)
class Bag:
    """A pocket in motion.

    basis : (n, 4) rows 1, w s of the cells, s from the held point;  weight : w = (rho - rho_gas) g [N/m^3]
    reach : (n,) distance of each cell from the held point [m]
    lag : tau [s];  ambient : absolute pressure at the held point at the start [Pa]
    amount : volume of the gas at ``ambient`` [m^3], or None where the bag is kept at a given volume
    most : [m^3] with every cell taut;  sluggish : [m^3/Pa], see ``SLUGGISH``
    """

    basis: Floats
    law: FillLaw
    weight: float
    reach: Floats
    lag: float
    ambient: float
    amount: float | None
    most: float
    sluggish: float


class Filling(NamedTuple):
    """What a bag holds at its ``gas`` (4,), wherever it is turned.

    volume, slope : (n,) of the cells [m^3], [m^3/Pa]
    content : (4,) the cells' volume [m^3] and its moment w sum V s [N m];  give : (4,) the same of the slopes [1/Pa]
    """

    gas: Floats
    volume: Floats
    slope: Floats
    content: Floats
    give: Floats

    @property
    def total(self) -> float:
        """[m^3]."""
        return float(self.content[0])


class Flow(NamedTuple):
    """One instant of a bag: what it holds, and ``toward`` (4,): how far its gas still is from rest, tau d(gas)/dt."""

    filling: Filling
    toward: Floats


def bag_in_motion(pocket: Pocket, rig: Rig) -> Bag:
    """Pocket of ``rig`` made ready; raises ValueError unless its time constant is > 0."""
    if not pocket.time_constant > 0.0:
        raise ValueError(f"the {pocket.name}'s time constant must be > 0 s, got {pocket.time_constant} s")
    levers, weight = pocket.cells - rig.held, (rig.water.density - pocket.gas_density) * rig.water.gravity
    most = float(pocket.law.most.sum())
    return Bag(
        basis=np.column_stack([np.ones(len(levers)), weight * levers]),
        law=pocket.law,
        weight=weight,
        reach=np.sqrt((levers**2).sum(axis=1)),
        lag=pocket.time_constant,
        ambient=rig.water.pressure,
        amount=pocket.gas if isinstance(pocket, SuitPocket) else None,
        most=most,
        sluggish=SLUGGISH * most / pocket.law.scale,
    )


def filling(bag: Bag, gas: Floats) -> Filling:
    """What the cells hold at ``gas`` (4,): a [Pa] and b."""
    volume, slope = bag.law.volume_and_slope(bag.basis @ gas)
    return Filling(gas, volume, slope, volume @ bag.basis, slope @ bag.basis)


def flow(bag: Bag, held: Filling, up: Floats, height: float, wanted: float | None = None) -> Flow:
    """The bag turned so that ``up`` (3,) is the world's up, its held point ``height`` [m] above the start.

    wanted : volume [m^3] that a bag without an amount of its own is brought to, within its lag
    """
    away = held.gas - np.array([bag.weight * height, *up.tolist()])
    if bag.amount is not None:
        common = bag.ambient * (bag.amount / max(held.total, 1e-12) - 1.0)
    else:
        slope = max(float(held.give[0]), 1e-300)
        # the first term alone keeps the volume; the second brings it to what is wanted
        common = (held.give @ away).item() / slope + ((wanted or 0.0) - held.total) / (slope + bag.sluggish)
    toward = -away
    toward[0] += common
    return Flow(held, toward)


def within(bag: Bag, volume: float) -> float:
    """``volume`` [m^3] brought within what the bag can hold."""
    return min(max(volume, EMPTY * bag.most), (1.0 - EMPTY) * bag.most)


def gradient(bag: Bag, held: Filling) -> Floats:
    """d(content)/d(gas) (4, 4)."""
    return np.asarray((bag.basis * held.slope[:, None]).T @ bag.basis)


def moment_gradient(bag: Bag, held: Filling) -> Floats:
    """d(d)/du (3, 3) [N m] with the bag's gas following the attitude at once: what soft gas takes off stiffness."""
    slope = float(held.give[0])
    if not slope > 0.0:
        return np.zeros((3, 3))
    share = 1.0
    if bag.amount is not None:
        stiff = bag.ambient * bag.amount / max(held.total, 1e-12) * slope
        share = stiff / (held.total + stiff)
    moment = held.give[1:]
    return np.asarray(share / slope * moment[:, None] * moment - gradient(bag, held)[1:, 1:])


def bag_energy(bag: Bag, gas: Floats, up: Floats, height: float) -> float:
    """Energy [J] of gas, fabric and displaced water, up to a constant; its rate is never > 0 at rest."""
    difference = bag.basis @ gas
    volume = bag.law.volume(difference)
    content = volume @ bag.basis
    energy = float(bag.law.energy(difference).sum()) - float(content @ np.append(bag.weight * height, up))
    if bag.amount is not None:
        excess = float(volume.sum()) - bag.amount
        # isothermal, p_amb V - n R T ln V from its own minimum, so as not to lose digits
        energy += bag.ambient * (excess - bag.amount * float(np.log1p(excess / bag.amount)))
    return energy
