r"""The moment on a rig in any attitude, and how it changes with attitude.

Everything depends on the attitude through u, the world's up direction in body axes. With

    d(u) = g (sum m r) - g rho (sum V c) - g (rho - rho_gas) (sum V_j s_j + sum w_k s_k)

about the held point, the torque is u x d and equilibrium is u parallel to d (stable where u = -d/|d| and the
second derivative is positive). See DEVELOPERS.md for the derivation.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from meshes.mesh import Floats
from sim.rig import Rig
from sim.statics.equations import Bend, Sums, absorbed, bend, mean_lever, neutral_wing, refill, tangent_axes
from sim.statics.gas import CLOSE, Bag, BagState, at_rest, bag_of


@dataclass(frozen=True, eq=False)
class SoftRig:
    """A rig with all that does not depend on the attitude worked out.

    rigid : (3,) g (sum m r - rho sum V c) of the rigid parts about the held point [N m]
    spare : kilograms of lift that gas must supply to make the rigid parts neutral [kg]
    wing_volume : the wing's gas [m^3], or None for "whatever makes the whole neutral"
    """

    rig: Rig
    rigid: Floats
    spare: float
    suit: Bag | None
    wing: Bag | None
    wing_volume: float | None


@dataclass(frozen=True, eq=False)
class Field:
    """Moments and gas for k directions of up (about the held point, body axes).

    up : (k, 3);  d : (k, 3) [N m], torque = up x d
    bend : (k, 3, 3) d(d)/du with the wing's volume frozen, symmetric [N m];  suit_bend : the suit's part of it
    refill : (k, 3, 3) what a wing kept neutral adds to ``bend``, not symmetric [N m]
    wing_gas, suit_gas : (k,) [m^3];  net_buoyancy : (k,) [kg], plus floats
    suit, wing : the gas;  suit_rise, wing_rise : (k, 3) how its pressure follows ``up`` [Pa], None without a pocket
    """

    up: Floats
    d: Floats
    bend: Floats
    suit_bend: Floats
    refill: Floats
    suit_gas: Floats
    wing_gas: Floats
    net_buoyancy: Floats
    suit: BagState | None
    wing: BagState | None
    suit_rise: Floats | None
    wing_rise: Floats | None


class Pressures(NamedTuple):
    """Gas pressures (k,) [Pa] in suit and wing, None without one."""

    suit: Floats | None
    wing: Floats | None


def soft_rig(rig: Rig) -> SoftRig:
    """Work out what does not depend on the attitude."""
    g, rho = rig.water.gravity, rig.water.density
    whole = rig.whole
    rigid = g * (whole.mass * (whole.cm - rig.held) - rho * whole.volume * (whole.cb - rig.held))
    has_suit_gas = rig.suit is not None and rig.suit.gas is not None and rig.suit.gas > 0.0
    return SoftRig(
        rig=rig,
        rigid=rigid,
        spare=whole.mass - rho * whole.volume,
        suit=bag_of(rig.suit, rig) if rig.suit is not None and has_suit_gas else None,
        wing=None if rig.wing is None else bag_of(rig.wing, rig),
        wing_volume=None if rig.wing is None else rig.wing.gas,
    )


def field(
    soft: SoftRig,
    up: Floats,
    wing_volume: float | None = None,
    near: Pressures | None = None,
    close: float = CLOSE,
) -> Field:
    """Field for up-directions ``up`` (k, 3), unit vectors in body axes.

    wing_volume : [m^3] freezes the wing at that volume; None lets the rig's own rule hold. near : pressures from
    which the search for the gas at rest may start, which change nothing but the time it takes; close : of each
    pocket's capacity, how much gas may be amiss before the rest is done to first order.
    """
    k = len(up)
    d = np.tile(soft.rigid, (k, 1))
    bends, refills = np.zeros((2, k, 3, 3))
    zero = np.zeros(k)
    gravity = soft.rig.water.gravity
    lift = np.full(k, -soft.spare)

    near = near or Pressures(None, None)

    suit, suit_gas, suit_mean, suit_refill, suit_rise = None, zero, np.zeros((k, 3)), zero, None
    suit_bend = np.zeros((k, 3, 3))
    if soft.suit is not None:
        suit = at_rest(soft.suit, up, near=near.suit, close=close)
        sums = _sums(soft.suit, suit)
        suit_gas = sums.volume
        beta = absorbed(suit.pressure, sums.volume, sums.give, soft.suit.compliance)
        d = d - soft.suit.weight * np.array([sums.vx, sums.vy, sums.vz]).T
        suit_bend = _square(bend(sums, soft.suit.weight, beta))
        bends = bends + suit_bend
        suit_mean, suit_refill = np.array(mean_lever(sums)).T, refill(sums.give, beta, soft.suit.weight)
        suit_rise = -soft.suit.weight * beta[:, None] * suit_mean
        lift = lift + soft.suit.weight / gravity * suit_gas

    wing, wing_gas, wing_rise = None, zero, None
    if soft.wing is not None:
        suit_lift = 0.0 if soft.suit is None else soft.suit.weight * suit_gas
        wanted, free = _wing_volume(soft, soft.wing, suit_lift, wing_volume)
        wing = at_rest(soft.wing, up, np.broadcast_to(wanted, (k,)), near.wing, close)
        wing_gas = np.broadcast_to(wanted, (k,))
        sums = _sums(soft.wing, wing)
        d = d - soft.wing.weight * np.array([sums.vx, sums.vy, sums.vz]).T
        bends = bends + _square(bend(sums, soft.wing.weight, 1.0))
        wing_mean = np.array(mean_lever(sums)).T
        refills = (free * suit_refill)[:, None, None] * _outer(wing_mean, suit_mean)
        wing_rise = -soft.wing.weight * wing_mean
        lift = lift + soft.wing.weight / gravity * wing_gas
    return Field(up, d, bends, suit_bend, refills, suit_gas, wing_gas, lift, suit, wing, suit_rise, wing_rise)


def foreseen(values: Field, up: Floats) -> Pressures:
    """Gas pressures, to first order, at directions ``up`` (k, 3) a little off those of ``values``."""
    turned = up - values.up

    def pressure(state: BagState | None, rise: Floats | None) -> Floats | None:
        return None if state is None or rise is None else state.pressure + (rise * turned).sum(axis=1)

    return Pressures(pressure(values.suit, values.suit_rise), pressure(values.wing, values.wing_rise))


def _wing_volume(soft: SoftRig, wing: Bag, suit_lift: Floats | float, frozen: float | None) -> tuple[Floats, Floats]:
    """Wing gas (k,) or () [m^3], and 1 where it follows the attitude, 0 where it is fixed or at a stop."""
    given = soft.wing_volume if frozen is None else frozen
    most = float(wing.law.most.sum())
    if given is not None:
        return np.asarray(min(max(given, 0.0), most)), np.zeros(())
    wanted = np.asarray(neutral_wing(soft.spare, soft.rig.water.gravity, suit_lift, wing.weight))
    return np.clip(wanted, 0.0, most), ((wanted > 0.0) & (wanted < most)).astype(float)


def _sums(bag: Bag, state: BagState) -> Sums:
    """Sums over the cells, each (k,)."""
    x, y, z = bag.levers.T
    products = np.array([x, y, z, x * x, x * y, x * z, y * y, y * z, z * z]).T
    filled, giving = state.volume @ bag.levers, state.slope @ products
    each = np.ones(len(x))
    return Sums(state.volume @ each, state.slope @ each, *filled.T, *giving.T)


def _square(bends: Bend) -> Floats:
    """(k, 3, 3) from its six different elements (k,)."""
    xx, xy, xz, yy, yz, zz = bends
    return np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]]).transpose(2, 0, 1)


def _outer(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[:, :, None] * b[:, None, :])


def tangent_basis(up: Floats) -> Floats:
    """Two unit vectors (k, 2, 3) spanning the plane across each ``up`` (k, 3), smooth but for a jump at x = 0."""
    return np.array(tangent_axes(*up.T)).T.reshape(-1, 2, 3)


def stiffness(values: Field, basis: Floats, *, refilled: bool = False) -> Floats:
    """Second derivative (k, 2, 2) [N m/rad] of the energy in the tangent ``basis`` (k, 2, 3).

    With the wing's volume frozen it is symmetric; ``refilled`` gives the Jacobian of the torque of a rig whose
    wing is kept neutral, which has no energy and is not symmetric.
    """
    bend = values.bend + values.refill if refilled else values.bend
    pendulum = -np.einsum("ki,ki->k", values.up, values.d)
    return np.asarray(pendulum[:, None, None] * np.eye(2) + basis @ bend @ basis.transpose(0, 2, 1))
