r"""The attitude in which each free rig comes to rest when it is let go, flat or otherwise.

The energy at the gas's own balance is concave in u (it is a minimum over gas states of functions linear in u), so

    u <- -d/|d|     "freeze the gas, let the diver swing to that pendulum's rest, let the gas settle, and again"

never raises it and is drawn to minima alone. Near a minimum Newton takes over, with the exact Jacobian and with the
gas's pressures stepping along (they are solved only as far as first order can make good the rest). A rig poised on a
saddle, as a symmetric one may be, is touched by half a degree to its left side up and let go again.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from meshes.mesh import Floats, Ints
from sim.batch.blocks import over_blocks
from sim.batch.compiled import loop, part
from sim.batch.gas import LOOSE, TIGHT
from sim.batch.moment import COLD, form, moment_at, pressures_after
from sim.batch.rig_arrays import RigArrays
from sim.batch.rows import rig_row, table_of
from sim.statics.equations import tangent_axes
from sim.statics.equilibria import FLAT_STIFFNESS, INDIFFERENT

AT_REST: Final = 0
INDIFFERENT_RIG: Final = 1
RING: Final = 2
UNCONVERGED: Final = 3

ARRIVED: Final = 1e-10  # rad: the last step; quadratic, so that the answer is better than this
QUIET: Final = 2e-11  # N m, what rounding leaves of moments of some 100 N m
REACH: Final = 0.5  # rad, the longest step of Newton's; halved where one made the moment larger
SWING: Final = 0.5  # rad, the longest step of the map
PATIENCE: Final = 6  # steps of the map in a row before its direction is followed further at a time
STRIDE: Final = 0.3  # rad, the longest such step
TOUCH: Final = math.radians(0.5)
MOST_TURNS: Final = 300


class Rest(NamedTuple):
    """One rig's answer: status, iterations, up, principal stiffness [N m/rad], gas [m^3], lift [N], moment [N m]."""

    status: int
    turns: int
    ux: float
    uy: float
    uz: float
    low: float
    high: float
    suit_gas: float
    wing_gas: float
    lift: float
    moment: float


@dataclass(frozen=True, eq=False)
class RestArrays:
    """Where B rigs come to rest.

    up : (B, 3) world's up in body axes;  stiffness : (B, 2) principal [N m/rad], smallest first, wing volume frozen
    suit_gas, wing_gas : (B,) [m^3];  net_buoyancy : (B,) [kg], plus floats
    moment : (B,) [N m] left where the answer was last worked out
    status : (B,) AT_REST (a stable rest), INDIFFERENT_RIG (nothing turns it), RING (one of a circle of rests),
        UNCONVERGED (none was found; the last attitude tried is given)
    turns : (B,) attitudes tried
    """

    up: Floats
    stiffness: Floats
    suit_gas: Floats
    wing_gas: Floats
    net_buoyancy: Floats
    moment: Floats
    status: NDArray[np.int8]
    turns: Ints

    @property
    def pitch(self) -> Floats:
        """(B,) [rad], head-up is plus."""
        return np.arcsin(np.clip(self.up[:, 0], -1.0, 1.0))

    @property
    def roll(self) -> Floats:
        """(B,) [rad], left side up is plus; means nothing near pitch +-90 degrees."""
        return np.arctan2(self.up[:, 1], self.up[:, 2])


def rests_from_flat(rigs: RigArrays, start: ArrayLike | None = None, *, threads: int | None = None) -> RestArrays:
    """Rest of each rig let go flat, or with world's up at ``start`` (3,) or (B, 3), roll and pitch both free.

    A wing of no fixed volume is kept neutral. ``threads`` None uses every core this process may use.
    """
    n = len(rigs)
    first = np.array([0.0, 0.0, 1.0]) if start is None else np.asarray(start, dtype=float)
    up = np.array(np.broadcast_to(first, (n, 3)), order="C")
    length = np.linalg.norm(up, axis=1)
    if not (length > 0.0).all():
        raise ValueError("each start must be a direction, not (0, 0, 0) or NaN")
    up /= length[:, None]
    numbers, status, turns = np.empty((n, 6)), np.empty(n, dtype=np.int8), np.empty(n, dtype=np.int64)
    table = table_of(rigs)
    over_blocks(lambda a, b: _rests(table, a, b, up, numbers, status, turns), n, threads)
    low, high, suit, wing, lift, moment = np.ascontiguousarray(numbers.T)
    stiffness = np.stack([low, high], axis=1)
    return RestArrays(up, stiffness, suit, wing, lift / rigs.gravity, moment, status, turns)


@loop
def _rests(table: Any, begin: int, end: int, up: Floats, numbers: Floats, status: Any, turns: Any) -> None:
    for i in range(begin, end):
        rest = rest_of(rig_row(table, i), up[i, 0], up[i, 1], up[i, 2])
        up[i, 0], up[i, 1], up[i, 2] = rest.ux, rest.uy, rest.uz
        numbers[i, 0], numbers[i, 1] = rest.low, rest.high
        numbers[i, 2], numbers[i, 3] = rest.suit_gas, rest.wing_gas
        numbers[i, 4], numbers[i, 5] = rest.lift, rest.moment
        status[i], turns[i] = rest.status, rest.turns


class Slope(NamedTuple):
    """In the two tangent axes: residual [N m]; stiffness with the wing frozen (a, b; b, c) and what a wing kept
    neutral adds to it (p, q; r, s) [N m/rad]; principal stiffness, smallest first, and the softer one's direction."""

    first: float
    second: float
    a: float
    b: float
    c: float
    p: float
    q: float
    r: float
    s: float
    low: float
    high: float
    soft_first: float
    soft_second: float


@part
def slope_of(m: Any, ux: float, uy: float, uz: float, e: Any) -> Any:
    """``Slope`` of a ``Moment`` at up in the tangent axes ``e`` (6,)."""
    ax, ay, az, bx, by, bz = e
    pendulum = -(ux * m.dx + uy * m.dy + uz * m.dz)
    a = pendulum + form(m.bends, ax, ay, az, ax, ay, az)
    b = form(m.bends, ax, ay, az, bx, by, bz)
    c = pendulum + form(m.bends, bx, by, bz, bx, by, bz)
    wa, wb = (ax * m.wing.mx + ay * m.wing.my + az * m.wing.mz), (bx * m.wing.mx + by * m.wing.my + bz * m.wing.mz)
    sa, sb = (ax * m.suit.mx + ay * m.suit.my + az * m.suit.mz), (bx * m.suit.mx + by * m.suit.my + bz * m.suit.mz)
    f = m.refilling
    half = 0.5 * (a - c)
    radius = math.sqrt(half * half + b * b)
    mean = 0.5 * (a + c)
    # of (half, b; b, -half) the eigenvector of -radius, from the larger of two equal forms
    x, y = (-b, half + radius) if half >= 0.0 else (radius - half, -b)
    size = math.sqrt(x * x + y * y)
    x, y = (x / size, y / size) if size > 0.0 else (1.0, 0.0)
    return Slope(
        ax * m.dx + ay * m.dy + az * m.dz, bx * m.dx + by * m.dy + bz * m.dz,
        a, b, c, f * wa * sa, f * wa * sb, f * wb * sa, f * wb * sb, mean - radius, mean + radius, x, y,
    )  # fmt: skip


@part
def _newton(k: Any) -> tuple[float, float, bool]:
    """Newton's step along the two axes [rad], and whether the stiffness lets one trust it."""
    a, b, c, d = k.a + k.p, k.b + k.q, k.b + k.r, k.c + k.s
    det = a * d - b * c
    if not (k.low > FLAT_STIFFNESS * k.high and det > 0.0):
        return 0.0, 0.0, False
    return (b * k.second - d * k.first) / det, (c * k.first - a * k.second) / det, True


@part
def _stride(k: Any, cap: float) -> tuple[float, float]:
    """A step downhill [rad] along both principal directions, Newton's in size, each no longer than ``cap``."""
    x, y = k.soft_first, k.soft_second
    along, across = x * k.first + y * k.second, x * k.second - y * k.first
    least = FLAT_STIFFNESS * max(abs(k.low), abs(k.high)) + 1e-300
    soft = min(max(-along / max(abs(k.low), least), -cap), cap)
    hard = min(max(-across / max(abs(k.high), least), -cap), cap)
    return soft * x - hard * y, soft * y + hard * x


@part
def rest_of(rig: Any, ux: float, uy: float, uz: float) -> Any:
    """Rest of one rig let go at (ux, uy, uz)."""
    suit_x = wing_x = COLD
    before = math.inf  # moment before the last step of Newton's
    reach, cap, slow, touches = REACH, STRIDE, 0, 0
    last_step = REACH
    last_x = last_y = last_z = 0.0
    loose = LOOSE
    status = UNCONVERGED
    turn = 0
    while True:
        turn += 1
        m = moment_at(rig, ux, uy, uz, suit_x, wing_x, rig.wing.gas, loose)
        e = tangent_axes(ux, uy, uz)
        k = slope_of(m, ux, uy, uz, e)
        residual = math.sqrt(k.first * k.first + k.second * k.second)
        size = math.sqrt(m.dx * m.dx + m.dy * m.dy + m.dz * m.dz)
        calm = abs(m.suit.gap) <= TIGHT * rig.suit.scale and abs(m.wing.gap) <= TIGHT * rig.wing.scale
        if not residual < math.inf or turn == MOST_TURNS:
            break
        if size <= INDIFFERENT and abs(k.low) <= INDIFFERENT and abs(k.high) <= INDIFFERENT:
            status = INDIFFERENT_RIG
            break
        p, q, trusted = _newton(k)
        step = math.sqrt(p * p + q * q)
        at_zero = residual <= QUIET
        if calm and trusted and (step <= ARRIVED or at_zero):
            status = AT_REST
        elif calm and at_zero and abs(k.low) <= FLAT_STIFFNESS * abs(k.high):
            status, p, q = RING, 0.0, 0.0
        nx, ny, nz = ux, uy, uz
        if not calm and (at_zero or (trusted and step <= ARRIVED)):
            loose = TIGHT
        if not residual <= before:
            reach = 0.5 * min(reach, last_step)
        if trusted and step <= reach and (residual <= before or status == AT_REST):
            before, slow, last_step = residual, 0, step
        elif at_zero and k.low < 0.0:
            if touches == 3:
                break
            touches += 1
            side = e[1] * k.soft_first + e[4] * k.soft_second
            way = TOUCH if side >= 0.0 else -TOUCH
            p, q = way * k.soft_first, way * k.soft_second
            before, slow = math.inf, PATIENCE
        elif slow < PATIENCE and size > 0.0:
            before = math.inf
            slow += 1
            # to -d/|d|, or SWING of the way there along the sphere; what moment there is points down the same way
            turned = math.atan2(residual, -(ux * m.dx + uy * m.dy + uz * m.dz))
            if turned <= SWING:
                nx, ny, nz = -m.dx / size, -m.dy / size, -m.dz / size
                p = q = 0.0
            else:
                far = -math.tan(SWING) / residual if residual > 0.0 else 0.0
                p, q = far * k.first, far * k.second
        else:
            before = math.inf
            p, q = _stride(k, cap)
        sx, sy, sz = p * e[0] + q * e[3], p * e[1] + q * e[4], p * e[2] + q * e[5]
        if slow >= PATIENCE and sx * last_x + sy * last_y + sz * last_z < 0.0:
            cap = max(0.5 * cap, 1e-3)
        last_x, last_y, last_z = sx, sy, sz
        nx, ny, nz = nx + sx, ny + sy, nz + sz
        length = math.sqrt(nx * nx + ny * ny + nz * nz)
        nx, ny, nz = nx / length, ny / length, nz / length
        suit_x, wing_x = pressures_after(rig, m, nx - ux, ny - uy, nz - uz)
        ux, uy, uz = nx, ny, nz
        if status != UNCONVERGED:
            break
    return Rest(status, turn, ux, uy, uz, k.low, k.high, m.suit.volume, m.wing.volume, m.lift, residual)
