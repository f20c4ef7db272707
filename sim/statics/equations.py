r"""The arithmetic of the statics about the held point: plain functions of numbers or of arrays.

``sim.statics`` calls them with arrays over directions of up, ``sim.batch`` compiles the very same functions for its
loops over rigs, so that each equation stands once. Symbols: x = p_gas - p_amb at the held point's level [Pa],
k_j = dV_j/dDelta of a cell, K their sum, weight = (rho - rho_gas) g [N/m^3], s_j a cell's lever.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from sim.cell_laws import Number

# m^3/Pa: keeps a quotient finite where no cell gives, or hardly (1/1e-310 is infinite). Nothing that matters is so
# small, and its cube is still a double: a compiler may multiply divisors together.
NIL: Final = 1e-90


class Sums(NamedTuple):
    """Sums over one pocket's cells.

    volume : V [m^3];  give : K [m^3/Pa];  vx, vy, vz : sum V s [m^4];  kx, ky, kz : sum k s [m^4/Pa]
    kxx ... kzz : sum k s s^T [m^5/Pa]
    """

    volume: Number
    give: Number
    vx: Number
    vy: Number
    vz: Number
    kx: Number
    ky: Number
    kz: Number
    kxx: Number
    kxy: Number
    kxz: Number
    kyy: Number
    kyz: Number
    kzz: Number


class Bend(NamedTuple):
    """Symmetric d(d)/du [N m] that one pocket's moving gas causes."""

    xx: Number
    xy: Number
    xz: Number
    yy: Number
    yz: Number
    zz: Number


def excess_gas(x: Number, volume: Number, give: Number, compliance: Number, target: Number) -> tuple[Number, Number]:
    """(1 + c x) V - target [m^3], nil at rest, and its derivative by x [m^3/Pa]; c is 0 for a fixed volume."""
    stretch = 1.0 + compliance * x
    return stretch * volume - target, stretch * give + compliance * volume


def absorbed(x: Number, volume: Number, give: Number, compliance: Number) -> Number:
    """beta = p K / (V + p K), the share of a change of height that the gas pressure takes up; 1 at fixed volume."""
    taken = (1.0 + compliance * x) * give
    return taken / (taken + compliance * volume + NIL)


def mean_lever(sums: Sums) -> tuple[Number, Number, Number]:
    """sum k s / K [m], 0 where no cell gives."""
    each = 1.0 / (sums.give + NIL)
    return each * sums.kx, each * sums.ky, each * sums.kz


def bend(sums: Sums, weight: Number, beta: Number) -> Bend:
    """-weight^2 (sum k s s^T - beta K m m^T) [N m], m the mean lever: moving gas takes stiffness away."""
    mx, my, mz = mean_lever(sums)
    square = -weight * weight
    return Bend(
        square * (sums.kxx - beta * sums.kx * mx),
        square * (sums.kxy - beta * sums.kx * my),
        square * (sums.kxz - beta * sums.kx * mz),
        square * (sums.kyy - beta * sums.ky * my),
        square * (sums.kyz - beta * sums.ky * mz),
        square * (sums.kzz - beta * sums.kz * mz),
    )


def refill(suit_give: Number, suit_beta: Number, suit_weight: Number) -> Number:
    """r [N m/m^2] in d(d)/du = r m_wing m_suit^T: what a wing kept neutral adds as the suit's volume changes."""
    return suit_weight * suit_weight * suit_give * (1.0 - suit_beta)


def neutral_wing(spare: Number, gravity: Number, suit_lift: Number, wing_weight: Number) -> Number:
    """Wing gas [m^3] that floats ``spare`` [kg] less the suit gas's lift [N]; may lie beyond the wing's stops."""
    return (spare * gravity - suit_lift) / wing_weight


def pitching(dx: Number, dz: Number, x: Number, z: Number) -> Number:
    """Moment about the pitch axis [N m], plus turns head-up, where up is (x, 0, z)."""
    return -(dx * z - dz * x)


def pitch_curvature(bends: Bend, dx: Number, dz: Number, x: Number, z: Number) -> Number:
    """Second derivative of the energy along a pitch turn [N m/rad] where up is (x, 0, z), wing volume frozen."""
    return z * z * bends.xx - 2.0 * x * z * bends.xz + x * x * bends.zz - (x * dx + z * dz)


def tangent_axes(x: Number, y: Number, z: Number) -> tuple[Number, Number, Number, Number, Number, Number]:
    """Two unit vectors across the unit vector (x, y, z), smooth but for a jump at x = 0.

    The branchless frame of Duff et al. 2017, JCGT 6(1), turned so that x plays the part of z.
    """
    sign = 1.0 - 2.0 * (x < 0.0)
    a = -1.0 / (sign + x)
    b = y * z * a
    return -sign * y, 1.0 + sign * y * y * a, sign * b, -z, b, sign + z * z * a
