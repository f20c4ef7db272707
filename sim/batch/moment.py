"""Moment and stiffness of one rig at one direction of up: the scalar twin of ``sim.statics.field``."""

from __future__ import annotations

import math
from typing import Any, Final, NamedTuple

from sim.batch.compiled import part
from sim.batch.gas import BEYOND, FAR, Balance, about_held, balanced, first_guess, least_gas, most_gas, sums_at
from sim.statics.equations import NIL, Bend, absorbed, bend, mean_lever, neutral_wing, refill

COLD: Final = math.nan  # no pressure of a neighbouring direction is known


class Gas(NamedTuple):
    """A pocket at rest: pressure and what is left to add [Pa], volume [m^3], K [m^3/Pa], beta, mean lever [m]."""

    x: float
    gap: float
    volume: float
    give: float
    beta: float
    mx: float
    my: float
    mz: float


class Moment(NamedTuple):
    """d [N m], its derivative with the wing frozen, r of ``equations.refill`` (0 where the wing does not follow),
    lift [N] of everything, and the gas."""

    dx: float
    dy: float
    dz: float
    bends: Any
    refilling: float
    lift: float
    suit: Any
    wing: Any


@part
def _no_gas() -> Any:
    return Gas(math.nan, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0)


@part
def _no_bend() -> Any:
    return Bend(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)


@part
def _added(a: Any, b: Any) -> Any:
    return Bend(a.xx + b.xx, a.xy + b.xy, a.xz + b.xz, a.yy + b.yy, a.yz + b.yz, a.zz + b.zz)


@part
def _pocket(rig: Any, pocket: Any, state: Any, dx: float, dy: float, dz: float) -> Any:
    """The pocket's gas, its bend, and d with its lift taken off; what ``state`` lacks is made good to first order."""
    s = about_held(rig, state.sums)
    beta = absorbed(state.x, s.volume, s.give, pocket.compliance)
    mx, my, mz = mean_lever(s)
    w, gap = pocket.weight, state.gap
    gas = Gas(state.x, gap, s.volume + gap * s.give, s.give, beta, mx, my, mz)
    dx -= w * (s.vx + gap * s.kx)
    dy -= w * (s.vy + gap * s.ky)
    dz -= w * (s.vz + gap * s.kz)
    return gas, bend(s, w, beta), dx, dy, dz


@part
def moment_at(
    rig: Any,
    ux: float,
    uy: float,
    uz: float,
    suit_x: float,
    wing_x: float,
    wing_volume: float,
    loose: float,
    full: bool,
) -> Any:
    """Moment at the unit vector (ux, uy, uz).

    suit_x, wing_x : pressures to start from [Pa], or ``COLD``;  wing_volume : [m^3], or NaN for neutral
    loose : gas is solved to this many of its law's scales; the rest is made good to first order
    full : work out ``bends`` too, else leave them nil
    """
    dx, dy, dz = rig.dx, rig.dy, rig.dz
    suit, wing, bends = _no_gas(), _no_gas(), _no_bend()
    refilling = suit_lift = wing_lift = 0.0
    if rig.suit.there:
        p = rig.suit
        start = first_guess(rig, p, p.gas, ux, uy, uz) if math.isnan(suit_x) else suit_x
        state = balanced(rig, p, start, p.gas, ux, uy, uz, loose, full)
        suit, bends, dx, dy, dz = _pocket(rig, p, state, dx, dy, dz)
        suit_lift = p.weight * suit.volume
        refilling = refill(suit.give, suit.beta, p.weight)
    if rig.wing.there:
        p = rig.wing
        wanted = wing_volume
        if math.isnan(wing_volume):
            wanted = neutral_wing(rig.spare, rig.gravity, suit_lift, p.weight)
        most = most_gas(p)
        held = min(max(wanted, 0.0), most)
        if not (math.isnan(wing_volume) and 0.0 < wanted < most):
            refilling = 0.0
        if held <= least_gas(p) or held >= most:
            end = math.copysign(BEYOND, held - least_gas(p) - 0.5 * (most - least_gas(p)))
            state = Balance(end, 0.0, sums_at(rig, p, end, ux, uy, uz, full))
        else:
            start = first_guess(rig, p, held, ux, uy, uz) if not abs(wing_x) < BEYOND else wing_x
            state = balanced(rig, p, start, held, ux, uy, uz, loose, full)
        gas, more, dx, dy, dz = _pocket(rig, p, state, dx, dy, dz)
        wing = Gas(gas.x, gas.gap, held, gas.give, gas.beta, gas.mx, gas.my, gas.mz)
        bends = _added(bends, more)
        wing_lift = p.weight * held
    else:
        refilling = 0.0
    lift = suit_lift + wing_lift - rig.spare * rig.gravity
    return Moment(dx, dy, dz, bends, refilling, lift, suit, wing)


@part
def form(b: Any, ax: float, ay: float, az: float, cx: float, cy: float, cz: float) -> Any:
    """a.B.c for a symmetric ``Bend``."""
    return (
        ax * (b.xx * cx + b.xy * cy + b.xz * cz)
        + ay * (b.xy * cx + b.yy * cy + b.yz * cz)
        + az * (b.xz * cx + b.yz * cy + b.zz * cz)
    )


@part
def pressures_after(rig: Any, m: Any, sx: float, sy: float, sz: float) -> tuple[float, float]:
    """Pressures [Pa] of suit and wing expected after up has moved by (sx, sy, sz); ``COLD`` where not foreseeable."""
    s, w = m.suit, m.wing
    rise = rig.suit.weight * (s.mx * sx + s.my * sy + s.mz * sz)
    suit_step = s.gap - s.beta * rise
    wing_step = w.gap - rig.wing.weight * (w.mx * sx + w.my * sy + w.mz * sz)
    if m.refilling > 0.0:  # a wing kept neutral gives up what the suit gains
        wing_step -= rig.suit.weight * s.give * (1.0 - s.beta) * rise / (rig.wing.weight * w.give + NIL)
    suit_x = s.x + suit_step if abs(suit_step) < FAR else COLD
    wing_x = w.x + wing_step if abs(wing_step) < FAR else COLD
    return suit_x, wing_x
