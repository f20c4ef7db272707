r"""The attitude in which each free rig comes to rest when it is let go, flat or otherwise.

The energy at the gas's own balance is concave in u (it is a minimum over gas states of functions linear in u), so

    u <- -d/|d|     "freeze the gas, let the diver swing to that pendulum's rest, let the gas settle, and again"

never raises it and is drawn to minima alone. Near a minimum Newton takes over, with the exact Jacobian and with the
gas's pressures stepping along (they are solved only as far as first order can make good the rest). A rig poised on a
saddle, as a symmetric one may be, is touched by half a degree to its left side up and let go again.

All of this is first done with the cells in single precision, which is only a better start: what decides and what is
answered is worked out in double precision, in two attitudes where the first part went well.
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
from sim.batch.rows import rig_row, rough_cells, rough_row, table_of
from sim.statics.equations import tangent_axes
from sim.statics.equilibria import FLAT_STIFFNESS, INDIFFERENT

AT_REST: Final = 0
INDIFFERENT_RIG: Final = 1
RING: Final = 2
UNCONVERGED: Final = 3

ARRIVED: Final = 1e-10  # rad: the last step; quadratic, so that the answer is better than this
QUIET: Final = 2e-11  # N m, what rounding leaves of moments of some 100 N m
REACH: Final = 0.5  # rad, the longest step of Newton's; halved where one made the moment larger
SWING: Final = 0.75  # rad, the longest step of the map
LONGEST: Final = math.tan(SWING)
SWINGS: Final = 20
PATIENCE: Final = 6  # steps of the map in a row before its direction is followed further at a time
STRIDE: Final = 0.3  # rad, the longest such step; halved where one turns back, down to SHORTEST
SHORTEST: Final = 1e-3
TOLD: Final = 3e-7  # m: a moment of the gas's lift at this arm is what rounding to single precision may hide
FLAT_IN_SINGLE: Final = 1e-3  # of the largest stiffness: below, single precision cannot tell whether a rest is stable
FREE: Final = 1.0  # of the law's scale: gas solved thus far, the rest to first order, while far from rest
NEARLY: Final = 1.5e-3  # rad: after such a step of Newton's single precision has no more to give
TOUCH: Final = math.radians(0.5)
MOST_TOUCHES: Final = 3
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
    suit, wing = rough_cells(table)
    for i in range(begin, end):
        rig = rig_row(table, i)
        rest = rest_of(rig, rough_row(rig, suit, wing), up[i, 0], up[i, 1], up[i, 2])
        up[i, 0], up[i, 1], up[i, 2] = rest.ux, rest.uy, rest.uz
        numbers[i, 0], numbers[i, 1] = rest.low, rest.high
        numbers[i, 2], numbers[i, 3] = rest.suit_gas, rest.wing_gas
        numbers[i, 4], numbers[i, 5] = rest.lift, rest.moment
        status[i], turns[i] = rest.status, rest.turns


class Slope(NamedTuple):
    """In the two tangent axes: residual [N m]; stiffness with the wing frozen (a, b; b, c) and what a wing kept
    neutral adds to it (p, q; r, s) [N m/rad]."""

    first: float
    second: float
    a: float
    b: float
    c: float
    p: float
    q: float
    r: float
    s: float


class Principal(NamedTuple):
    """Principal stiffness [N m/rad], smallest first, and the softer one's direction in the two tangent axes."""

    low: float
    high: float
    first: float
    second: float


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
    first, second = ax * m.dx + ay * m.dy + az * m.dz, bx * m.dx + by * m.dy + bz * m.dz
    return Slope(first, second, a, b, c, f * wa * sa, f * wa * sb, f * wb * sa, f * wb * sb)


@part
def principal_of(k: Any) -> Any:
    """``Principal`` of a ``Slope``, wing volume frozen."""
    half, mean = 0.5 * (k.a - k.c), 0.5 * (k.a + k.c)
    radius = math.sqrt(half * half + k.b * k.b)
    # of (half, b; b, -half) the eigenvector of -radius, from the larger of two equal forms
    x, y = (-k.b, half + radius) if half >= 0.0 else (radius - half, -k.b)
    size = math.sqrt(x * x + y * y)
    x, y = (x / size, y / size) if size > 0.0 else (1.0, 0.0)
    return Principal(mean - radius, mean + radius, x, y)


@part
def _newton(k: Any, flat: float) -> tuple[float, float, bool]:
    """Newton's step along the two axes [rad], and whether the stiffness is past ``flat`` and lets one trust it."""
    a, b, c, d = k.a + k.p, k.b + k.q, k.b + k.r, k.c + k.s
    det, trace = a * d - b * c, k.a + k.c
    # the smaller principal stiffness is about det / trace
    if not (trace > 0.0 and k.a * k.c - k.b * k.b > flat * trace * trace and det > 0.0):
        return 0.0, 0.0, False
    return (b * k.second - d * k.first) / det, (c * k.first - a * k.second) / det, True


@part
def _stride(k: Any, axes: Any, cap: float) -> tuple[float, float]:
    """A step downhill [rad] along both principal directions, Newton's in size, each no longer than ``cap``."""
    x, y = axes.first, axes.second
    along, across = x * k.first + y * k.second, x * k.second - y * k.first
    least = FLAT_STIFFNESS * max(abs(axes.low), abs(axes.high)) + 1e-300
    soft = min(max(-along / max(abs(axes.low), least), -cap), cap)
    hard = min(max(-across / max(abs(axes.high), least), -cap), cap)
    return soft * x - hard * y, soft * y + hard * x


@part
def _stepped(ux: float, uy: float, uz: float, e: Any, p: float, q: float) -> tuple[float, float, float]:
    """Up after a step (p, q) [rad, nearly] along its tangent axes ``e``."""
    x, y, z = ux + p * e[0] + q * e[3], uy + p * e[1] + q * e[4], uz + p * e[2] + q * e[5]
    length = math.sqrt(x * x + y * y + z * z)
    return x / length, y / length, z / length


@part
def _mapped(first: float, second: float, pendulum: float) -> tuple[float, float]:
    """Step to -d/|d| along the tangent axes, or SWING of the way there: the energy falls all along it."""
    residual = math.sqrt(first * first + second * second)
    share = LONGEST / max(residual, 1e-300)
    if pendulum * share > 1.0:
        share = 1.0 / pendulum
    return -share * first, -share * second


@part
def _swung(rig: Any, ux: float, uy: float, uz: float) -> Any:
    """Up, pressures of suit and wing [Pa] and steps taken, once the map alone has come within SWING of its goal.

    Further off than that, Newton's step would be longer than REACH (no stiffness exceeds the pendulum's), so that
    the gas's second moments need not be worked out.
    """
    suit_x = wing_x = COLD
    for turn in range(SWINGS):
        m = moment_at(rig, ux, uy, uz, suit_x, wing_x, rig.wing.gas, FREE, False)
        e = tangent_axes(ux, uy, uz)
        told = _told(rig, m)
        first = _nil_below(told, e[0] * m.dx + e[1] * m.dy + e[2] * m.dz)
        second = _nil_below(told, e[3] * m.dx + e[4] * m.dy + e[5] * m.dz)
        pendulum = -(ux * m.dx + uy * m.dy + uz * m.dz)
        residual = math.sqrt(first * first + second * second)
        if not residual > INDIFFERENT:
            return ux, uy, uz, suit_x, wing_x, turn
        p, q = _mapped(first, second, pendulum)
        nx, ny, nz = _stepped(ux, uy, uz, e, p, q)
        suit_x, wing_x = pressures_after(rig, m, nx - ux, ny - uy, nz - uz)
        ux, uy, uz = nx, ny, nz
        if residual <= LONGEST * pendulum:
            return ux, uy, uz, suit_x, wing_x, turn + 1
    return ux, uy, uz, suit_x, wing_x, SWINGS


@part
def _neared(rig: Any, ux: float, uy: float, uz: float, suit_x: float, wing_x: float, turn: int) -> Any:
    """The same after steps of Newton's, of the map where the stiffness is too near nil to be told, until one is
    NEARLY there or single precision helps no further."""
    before, slow = math.inf, 0
    while turn < SWINGS and slow < PATIENCE:
        turn += 1
        m = moment_at(rig, ux, uy, uz, suit_x, wing_x, rig.wing.gas, FREE, True)
        e = tangent_axes(ux, uy, uz)
        k = slope_of(m, ux, uy, uz, e)
        told = _told(rig, m)
        first, second = _nil_below(told, k.first), _nil_below(told, k.second)
        residual = math.sqrt(first * first + second * second)
        p, q, trusted = _newton(k, FLAT_IN_SINGLE)
        step = math.sqrt(p * p + q * q)
        sure = trusted and step <= REACH and residual <= before
        if sure:
            before, slow = residual, 0
        else:
            if not residual > INDIFFERENT:
                break
            before, slow = math.inf, slow + 1
            p, q = _mapped(first, second, -(ux * m.dx + uy * m.dy + uz * m.dz))
        nx, ny, nz = _stepped(ux, uy, uz, e, p, q)
        suit_x, wing_x = pressures_after(rig, m, nx - ux, ny - uy, nz - uz)
        ux, uy, uz = nx, ny, nz
        if sure and step <= NEARLY:
            break
    return ux, uy, uz, suit_x, wing_x, turn


@part
def _told(rig: Any, m: Any) -> Any:
    """Moment [N m] that single precision can tell from nil."""
    return TOLD * (rig.suit.weight * m.suit.volume + rig.wing.weight * m.wing.volume)


@part
def _nil_below(least: float, value: float) -> Any:
    """Nil in place of what is too small to be told: a symmetric rig must not be pushed off its plane by rounding."""
    return value if abs(value) > least else 0.0


class Pace(NamedTuple):
    """How boldly to step: moment before the last step of Newton's [N m], that step [rad], the longest that may be
    taken of Newton's and of strides [rad], steps of the map in a row, touches given, the last step [rad]."""

    before: float
    last: float
    reach: float
    cap: float
    slow: int
    touches: int
    x: float
    y: float
    z: float


@part
def _unhurried(k: Any, pendulum: float, at_zero: bool, e: Any, pace: Any) -> Any:
    """A step where Newton's cannot be trusted: a touch off a saddle, the map, or strides after much of the map."""
    if at_zero:
        axes = principal_of(k)
        way = TOUCH if e[1] * axes.first + e[4] * axes.second >= 0.0 else -TOUCH
        now = Pace(math.inf, pace.last, pace.reach, pace.cap, PATIENCE, pace.touches + 1, 0.0, 0.0, 0.0)
        return way * axes.first, way * axes.second, now
    if pace.slow < PATIENCE:
        p, q = _mapped(k.first, k.second, pendulum)
        return p, q, Pace(math.inf, pace.last, pace.reach, pace.cap, pace.slow + 1, pace.touches, 0.0, 0.0, 0.0)
    p, q = _stride(k, principal_of(k), pace.cap)
    x, y, z = p * e[0] + q * e[3], p * e[1] + q * e[4], p * e[2] + q * e[5]
    back = x * pace.x + y * pace.y + z * pace.z < 0.0
    cap = max(0.5 * pace.cap, SHORTEST) if back else pace.cap
    return p, q, Pace(math.inf, pace.last, pace.reach, cap, pace.slow, pace.touches, x, y, z)


@part
def rest_of(rig: Any, rough: Any, ux: float, uy: float, uz: float) -> Any:
    """Rest of one rig let go at (ux, uy, uz); ``rough`` : the same with cells in single precision."""
    ux, uy, uz, suit_x, wing_x, turn = _swung(rough, ux, uy, uz)
    ux, uy, uz, suit_x, wing_x, turn = _neared(rough, ux, uy, uz, suit_x, wing_x, turn)
    pace = Pace(math.inf, REACH, REACH, STRIDE, 0, 0, 0.0, 0.0, 0.0)
    loose = LOOSE
    status = UNCONVERGED
    while True:
        turn += 1
        m = moment_at(rig, ux, uy, uz, suit_x, wing_x, rig.wing.gas, loose, True)
        e = tangent_axes(ux, uy, uz)
        k = slope_of(m, ux, uy, uz, e)
        residual = math.sqrt(k.first * k.first + k.second * k.second)
        pendulum = -(ux * m.dx + uy * m.dy + uz * m.dz)
        if not residual < math.inf or turn >= MOST_TURNS or pace.touches > MOST_TOUCHES:
            break
        p, q, trusted = _newton(k, FLAT_STIFFNESS)
        step = math.sqrt(p * p + q * q)
        at_zero = residual <= QUIET
        if at_zero or (trusted and step <= ARRIVED):
            if abs(m.suit.gap) > TIGHT * rig.suit.scale or abs(m.wing.gap) > TIGHT * rig.wing.scale:
                loose = TIGHT
            elif trusted:
                status = AT_REST
            else:
                axes = principal_of(k)
                if max(abs(pendulum), abs(axes.low), abs(axes.high)) <= INDIFFERENT:
                    status = INDIFFERENT_RIG
                elif abs(axes.low) <= FLAT_STIFFNESS * abs(axes.high):
                    status = RING
        if status in (INDIFFERENT_RIG, RING):
            break
        reach = pace.reach if residual <= pace.before else 0.5 * min(pace.reach, pace.last)
        if trusted and (status == AT_REST or (step <= reach and residual <= pace.before)):
            pace = Pace(residual, step, reach, pace.cap, 0, pace.touches, 0.0, 0.0, 0.0)
        else:
            pace = Pace(pace.before, pace.last, reach, pace.cap, pace.slow, pace.touches, pace.x, pace.y, pace.z)
            p, q, pace = _unhurried(k, pendulum, at_zero, e, pace)
        nx, ny, nz = _stepped(ux, uy, uz, e, p, q)
        if status == AT_REST:
            ux, uy, uz = nx, ny, nz
            break
        suit_x, wing_x = pressures_after(rig, m, nx - ux, ny - uy, nz - uz)
        ux, uy, uz = nx, ny, nz
    axes = principal_of(k)
    return Rest(status, turn, ux, uy, uz, axes.low, axes.high, m.suit.volume, m.wing.volume, m.lift, residual)
