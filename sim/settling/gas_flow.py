r"""Gas moving between the cells of a soft bag.

The state of a cell is the pressure difference Delta across its wall, and its volume is V(Delta) by the fill law.
Each cell exchanges gas with the bag's common pressure p_g, with a lag of tau:

    dDelta/dt = (p_g - p - Delta) / tau,    p = - (rho - rho_gas) g (h + s.u)    (water outside, gauge)

so the energy sum p V + phi(V) + (gas) falls at the rate sum V' (p_g - p - Delta)^2 / tau. For a fixed amount of gas
p_g follows from p V = const; for a given volume it is the pressure that makes the volumes add up.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.fill_laws import FillLaw
from sim.rig import Pocket, Rig

EMPTY: Final = 1e-9  # of a bag's capacity: as empty, or as close to taut, as a bag of given volume gets
SLUGGISH: Final = 0.02  # of capacity over law scale: below this slope a bag fills or empties more slowly


@dataclass(frozen=True, eq=False)
class Bag:
    """A pocket in motion.

    levers : (n, 3) cells from the held point [m];  weight : (rho - rho_gas) g [N/m^3]
    lag : tau [s];  ambient : absolute pressure at the held point at the start [Pa]
    amount : volume of the gas at ``ambient`` [m^3], or None where the bag is kept at a given volume
    sluggish : [m^3/Pa], see ``SLUGGISH``
    """

    levers: Floats
    law: FillLaw
    weight: float
    lag: float
    ambient: float
    amount: float | None
    sluggish: float


@dataclass(frozen=True, eq=False)
class Flow:
    """One instant of a bag: difference, volume, slope, imbalance (n,) of the cells [Pa], [m^3], [m^3/Pa], [Pa].

    total : [m^3]
    """

    difference: Floats
    volume: Floats
    slope: Floats
    imbalance: Floats
    total: float


def bag_in_motion(pocket: Pocket, rig: Rig) -> Bag:
    """Pocket of ``rig`` made ready; raises ValueError unless its time constant is > 0."""
    if not pocket.time_constant > 0.0:
        raise ValueError(f"the {pocket.name}'s time constant must be > 0 s, got {pocket.time_constant} s")
    return Bag(
        levers=np.ascontiguousarray(pocket.cells - rig.held),
        law=pocket.law,
        weight=(rig.water.density - pocket.gas_density) * rig.water.gravity,
        lag=pocket.time_constant,
        ambient=rig.water.pressure,
        amount=pocket.gas if pocket.name == "suit" else None,
        sluggish=SLUGGISH * float(pocket.law.most.sum()) / pocket.law.scale,
    )


def flow(bag: Bag, difference: Floats, up: Floats, height: float, wanted: float | None = None) -> Flow:
    """Cells at ``difference`` (n,) [Pa], ``up`` (3,) in body axes, held point ``height`` [m] above its start.

    wanted : volume [m^3] that a bag without an amount of its own is brought to, within its lag
    """
    volume, slope = bag.law.volume(difference), bag.law.slope(difference)
    total = float(volume.sum())
    away = difference - bag.weight * (bag.levers @ up + height)
    if bag.amount is not None:
        common = bag.ambient * (bag.amount / max(total, 1e-12) - 1.0)
    else:
        sum_slope = max(float(slope.sum()), 1e-300)
        # the first term alone keeps the volume; the second brings it to what is wanted
        common = float(slope @ away) / sum_slope + ((wanted or 0.0) - total) / (sum_slope + bag.sluggish)
    return Flow(difference, volume, slope, common - away, total)


def within(bag: Bag, volume: float) -> float:
    """``volume`` [m^3] brought within what the bag can hold."""
    most = float(bag.law.most.sum())
    return min(max(volume, EMPTY * most), (1.0 - EMPTY) * most)


def moment_gradient(bag: Bag, state: Flow) -> Floats:
    """d(d)/du (3, 3) [N m] with the bag's gas following the attitude at once: what soft gas takes off stiffness."""
    total = float(state.slope.sum())
    if not total > 0.0:
        return np.zeros((3, 3))
    mean = state.slope @ bag.levers / total
    spread = (bag.levers * state.slope[:, None]).T @ bag.levers
    share = 1.0
    if bag.amount is not None:
        give = bag.ambient * bag.amount / max(state.total, 1e-12) * total
        share = give / (state.total + give)
    return np.asarray(-(bag.weight**2) * (spread - share * total * np.outer(mean, mean)))


def bag_energy(bag: Bag, difference: Floats, up: Floats, height: float) -> float:
    """Energy [J] of gas, fabric and displaced water, up to a constant; its rate is never > 0 at rest."""
    volume = bag.law.volume(difference)
    outside = -bag.weight * (bag.levers @ up + height)
    energy = float(outside @ volume + bag.law.energy(difference).sum())
    if bag.amount is not None:
        excess = float(volume.sum()) - bag.amount
        # isothermal, p_amb V - n R T ln V from its own minimum, so as not to lose digits
        energy += bag.ambient * (excess - bag.amount * float(np.log1p(excess / bag.amount)))
    return energy
