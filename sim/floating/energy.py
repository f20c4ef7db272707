r"""Potential energy of a floating body, with its first and second derivatives.

The attitude is u, the world's up direction in body axes; the water reaches to u.x = h. With E the energy of weight
and displaced water,

    E(h, u) = m g (u.x_m - h) + rho g integral over the part under water of (h - u.x) dV,

theta = (h, u) taken as four free variables and a = (1, -x), the depth of a point being a.theta,

    dE/dtheta = -m g a(x_m) + rho g integral a dV,      d2E/dtheta2 = rho g integral over the waterplane of a a^T dA:

no more than volume, centroid and waterplane moments, and E of the rigid body is convex in theta. Gas in a soft bag
adds its own minimum over all fillings, so that by the envelope theorem its derivative is (rho - rho_gas) g times the
sum of V_j a_j over the cells under water; as it moves it takes stiffness away.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from meshes.mesh import Floats
from sim.floating.body import FloatingBody, Hull, SoftGas
from sim.floating.clip import Immersion, immersion
from sim.statics.gas import BagState, at_rest


@dataclass(frozen=True, eq=False)
class Afloat:
    """Energy at one level and attitude.

    energy : [J], zero arbitrary;  slope : (4,) derivative by (h, u) [N], [N m];  bend : (4, 4) second derivative
    volume : under water [m^3], gas included;  first : (3,) its first moment [m^4]
    """

    energy: float
    slope: Floats
    bend: Floats
    volume: float
    first: Floats


def afloat(body: FloatingBody, up: Floats, level: float) -> Afloat:
    """Energy with the water up to ``level`` [m] along ``up`` (3,) unit, body axes."""
    weight = body.gravity * body.density
    mass_point = np.concatenate([[1.0], -body.cm])
    theta = np.concatenate([[level], up])
    energy = -body.mass * body.gravity * float(mass_point @ theta)
    slope = -body.mass * body.gravity * mass_point
    bend = np.zeros((4, 4))
    volume, first = 0.0, np.zeros(3)  # of what is rigid
    for immersed in [hull_under(h, up, level) for h in body.hulls]:
        energy += weight * (level * immersed.volume - float(up @ immersed.first))
        bend += weight * _area_moments(immersed)
        volume, first = volume + immersed.volume, first + immersed.first
    for specks in body.specks:
        points = depth_rows(specks.at)
        depth, share, rate = submergence(points @ theta, specks.radius)
        energy += weight * float(specks.volume @ depth)
        bend += weight * (points.T * (specks.volume * rate)) @ points
        under = specks.volume * share
        volume, first = volume + float(under.sum()), first + under @ specks.at
    slope = slope + weight * np.concatenate([[volume], -first])
    for gas in body.gas:
        points = depth_rows(gas.cells)
        own, second, under = soft_energy(gas, points @ theta, points)
        energy, bend = energy + own, bend + second
        displaced, moment = float(under.sum()), under @ gas.cells
        slope = slope + gas.bag.weight * np.concatenate([[displaced], -moment])
        volume, first = volume + displaced, first + moment
    return Afloat(energy, slope, bend, volume, first)


def hull_under(hull: Hull, up: Floats, level: float) -> Immersion:
    """What one hull displaces, its share taken; a hull wholly under or over water is not clipped."""
    gap = level - float(up @ hull.centre)
    if gap >= hull.radius:
        return Immersion(hull.volume, hull.first, 0.0, np.zeros(3), np.zeros((3, 3)))
    if gap <= -hull.radius:
        return Immersion(0.0, np.zeros(3), 0.0, np.zeros(3), np.zeros((3, 3)))
    cut = immersion(hull.mesh, up, level, hull.sums)
    s = hull.share
    return Immersion(s * cut.volume, s * cut.first, s * cut.area, s * cut.area_first, s * cut.area_second)


def submergence(depth: Floats, radius: float) -> tuple[Floats, Floats, Floats]:
    """Mean depth under water [m], share under it and its derivative [1/m] of balls with centres ``depth`` (n,) deep.

    The mean counts what is over water as 0 deep; its derivative is the share. A ball's cap of height 2 r t holds
    3 t^2 - 2 t^3 of it.
    """
    t = np.clip(0.5 * (depth / radius + 1.0), 0.0, 1.0)
    mean = np.where(t < 1.0, radius * t**3 * (2.0 - t), depth)
    return mean, t * t * (3.0 - 2.0 * t), 3.0 * t * (1.0 - t) / radius


def gas_state(gas: SoftGas, up: Floats, level: float) -> tuple[BagState, Floats]:
    """The gas at rest with the water at ``level``, and the share of each cell (n,) under water."""
    return _state(gas, depth_rows(gas.cells) @ np.concatenate([[level], up]))[:2]


def _state(gas: SoftGas, depth: Floats) -> tuple[BagState, Floats, Floats, Floats]:
    """Gas at rest, and of each cell (n,) the share under water, its rate [1/m] and the mean depth [m]."""
    mean, share, rate = submergence(depth, gas.radius)
    # above the water every cell feels the air; the solver's "height along up" is minus the depth under water
    bag = replace(gas.bag, levers=-mean[:, None])
    total = None if gas.total is None else np.array([gas.total])
    return at_rest(bag, np.ones((1, 1)), total), share, rate, mean


def soft_energy(gas: SoftGas, depth: Floats, rows: Floats) -> tuple[float, Floats, Floats]:
    """Energy [J], second derivative (k, k) and volume under water (n,) [m^3] of the gas in one soft bag.

    depth : of the cells (n,) under the surface [m];  rows : (n, k) its derivative by the k variables, in which the
    second derivative is taken; what a depth's own second derivative adds is left to the caller
    """
    weight = gas.bag.weight
    state, share, rate, mean_depth = _state(gas, depth)
    held, give, difference = state.volume[0], state.slope[0], state.difference[0]
    energy = float((weight * mean_depth * held + gas.bag.law.energy(difference)).sum())
    stretch = 1.0 + gas.bag.compliance * float(state.pressure[0])
    if gas.bag.amount is not None:
        excess = float(held.sum()) - gas.bag.amount
        energy += gas.ambient * (excess - gas.bag.amount * np.log1p(excess / gas.bag.amount))
    felt = rows * share[:, None]
    mean = give @ felt
    stiff = stretch * float(give.sum())
    beta = stretch / (gas.bag.compliance * float(held.sum()) + stiff) if stiff > 0.0 else 0.0
    bend = weight * (rows.T * (held * rate)) @ rows
    bend = bend - weight**2 * ((felt.T * give) @ felt - beta * np.outer(mean, mean))
    return energy, bend, held * share


def depth_rows(at: Floats) -> Floats:
    """(n, 4) rows a = (1, -x), so that a.theta is the depth."""
    return np.column_stack([np.ones(len(at)), -at])


def _area_moments(cut: Immersion) -> Floats:
    """(4, 4) integral of a a^T over the waterplane."""
    moments = np.empty((4, 4))
    moments[0, 0] = cut.area
    moments[0, 1:] = moments[1:, 0] = -cut.area_first
    moments[1:, 1:] = cut.area_second
    return moments
