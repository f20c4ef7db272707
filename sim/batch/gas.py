r"""The gas pressure of one pocket at one direction of up: the scalar twin of ``sim.statics.gas``.

Pressures near the root are found by Newton from the last direction's. Further off, Newton's leaps are taken in the
pressure of a level bag that holds as much (all cells at one height), in which the law's bends straighten out; and a
bracket that only ever shrinks is kept all along.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, Final, NamedTuple

import numpy as np
from numba import types
from numba.extending import overload

from meshes.mesh import Floats
from sim.batch.compiled import part
from sim.batch.precision import in_single
from sim.cell_laws import garment_cell, garment_held, garment_ready, loaded, logistic_cell
from sim.statics.equations import Sums, excess_gas

LEAP: Final = 0.5  # of the law's scale: a Newton step longer than this is taken by the level bag instead
LOOSE: Final = 0.25  # of the law's scale: gas solved thus far, the rest to first order, loses no step of Newton's
TIGHT: Final = 1e-10  # and where the answer must be right: the next order is nothing
CLOSE: Final = 1e-13  # of the pocket's capacity: where a double has no more to give
EDGE: Final = 1e-12  # of its span: how near to its ends a level bag is taken for filled
VACUUM: Final = 1.0 - 1e-9  # of the ambient pressure: how far below it the gas can be
FAR: Final = 2.5e4  # Pa, 2.5 m of water: no leap into the unknown goes further, beside 40 times the scale
TURNS: Final = 90
BEYOND: Final = 1e30  # Pa, at which every cell is as full (or empty) as it gets


class Balance(NamedTuple):
    """A pocket's pressure [Pa], what Newton would still add to it [Pa], and the cells' sums there."""

    x: float
    gap: float
    sums: Any


def _sums_by(number: Any, full: bool, cell: Callable[..., Any]) -> Any:
    """Sums over the cells of a pocket in the precision of ``number``, with what one ``cell`` holds; the second
    moments only if ``full``."""

    def sums(cells: Floats, scale: float, offset: float, wx: float, wy: float, wz: float) -> Any:
        scale, offset, wx, wy, wz = number(scale), number(offset), number(wx), number(wy), number(wz)
        softer = number(1.0) / scale
        v = k = vx = vy = vz = kx = ky = kz = kxx = kxy = kxz = kyy = kyz = kzz = number(0.0)
        for j in range(cells.shape[1]):
            x, y, z = cells[0, j], cells[1, j], cells[2, j]
            volume, slope = cell(offset + (x * wx + y * wy + z * wz), cells, j, scale, softer)
            v += volume
            vx += volume * x
            vy += volume * y
            vz += volume * z
            sx, sy, sz = slope * x, slope * y, slope * z
            k += slope
            kx += sx
            ky += sy
            kz += sz
            if full:
                kxx += sx * x
                kxy += sx * y
                kxz += sx * z
                kyy += sy * y
                kyz += sy * z
                kzz += sz * z
        d = np.float64
        return Sums(
            d(v), d(k), d(vx), d(vy), d(vz), d(kx), d(ky), d(kz), d(kxx), d(kxy), d(kxz), d(kyy), d(kyz), d(kzz)
        )

    return part(sums, inlined=False)


@part
def _logistic(difference: float, cells: Floats, j: int, scale: float, softer: float) -> Any:
    """By the logistic law, pressures in units of its softness: one division less."""
    volume, slope = logistic_cell(difference * softer, 1.0, cells[3, j], cells[4, j])
    return volume, slope * softer


@part
def _garment(difference: float, cells: Floats, j: int, scale: float, softer: float) -> Any:
    on_cell, stiffness = loaded(difference, cells[5, j], scale)
    return garment_cell(on_cell, stiffness, cells[3, j], cells[4, j])


def _rough_garment(difference: float, cells: Floats, j: int, scale: float, softer: float) -> Any:
    return garment_ready(difference + cells[5, j], cells[6, j], cells[7, j], cells[3, j], cells[4, j], cells[8, j])


_, _rough_logistic, _, _, _rough_garment = in_single(
    logistic_cell, _logistic, garment_held, garment_ready, _rough_garment
)


def _by_precision(full: bool, cell: Callable[..., Any], rough_cell: Callable[..., Any]) -> Any:
    """Sums in the precision in which the cells are given."""
    in_double, in_single = _sums_by(np.float64, full, cell), _sums_by(np.float32, full, rough_cell)

    def sums(cells: Floats, scale: float, offset: float, wx: float, wy: float, wz: float) -> Any:
        chosen = in_single if cells.dtype == np.float32 else in_double
        return chosen(cells, scale, offset, wx, wy, wz)

    @overload(sums, strict=False)
    def _compiled(cells: Any, scale: Any, offset: Any, wx: Any, wy: Any, wz: Any) -> Any:
        return in_single if cells.dtype == types.float32 else in_double

    return sums


_logistic_sums, _logistic_first = (_by_precision(full, _logistic, _rough_logistic) for full in (True, False))
_garment_sums, _garment_first = (_by_precision(full, _garment, _rough_garment) for full in (True, False))


@part
def sums_at(rig: Any, pocket: Any, x: float, ux: float, uy: float, uz: float, full: bool) -> Any:
    """Sums over the cells at pressure ``x`` [Pa] at the held point's level, levers from the body's origin."""
    cells, scale, weight = pocket.cells, pocket.scale, pocket.weight
    wx, wy, wz = weight * ux, weight * uy, weight * uz
    offset = x - (rig.held_x * wx + rig.held_y * wy + rig.held_z * wz)
    if full:
        if pocket.garment:
            return _garment_sums(cells, scale, offset, wx, wy, wz)
        return _logistic_sums(cells, scale, offset, wx, wy, wz)
    if pocket.garment:
        return _garment_first(cells, scale, offset, wx, wy, wz)
    return _logistic_first(cells, scale, offset, wx, wy, wz)


@part
def about_held(rig: Any, s: Any) -> Any:
    """The same sums with levers from the held point."""
    x, y, z, v, k = rig.held_x, rig.held_y, rig.held_z, s.volume, s.give
    kx, ky, kz = s.kx - k * x, s.ky - k * y, s.kz - k * z
    return Sums(
        v, k, s.vx - v * x, s.vy - v * y, s.vz - v * z, kx, ky, kz,
        s.kxx - x * s.kx - x * kx, s.kxy - y * s.kx - x * ky, s.kxz - z * s.kx - x * kz,
        s.kyy - y * s.ky - y * ky, s.kyz - z * s.ky - y * kz, s.kzz - z * s.kz - z * kz,
    )  # fmt: skip


@part
def most_gas(pocket: Any) -> Any:
    """Gas [m^3] at which every cell is taut."""
    return pocket.first + pocket.second


@part
def least_gas(pocket: Any) -> Any:
    """Gas [m^3] that no pressure squeezes out."""
    return 0.0 if pocket.garment else pocket.first


@part
def level_pressure(pocket: Any, volume: float) -> tuple[float, float]:
    """Pressure difference [Pa] of a level bag that holds ``volume`` [m^3], and its derivative by it [Pa/m^3]."""
    first, second, scale = pocket.first, pocket.second, pocket.scale
    if pocket.garment:
        held = max(volume, EDGE * first)
        if held < first:
            cube = first * first * first / (held * held * held)
            return scale * (1.0 - cube), 3.0 * scale * cube / held
        left = max(1.0 - (held - first) / second, EDGE)
        bend = 3.0 * scale * second / first
        return -bend * math.log(left), bend / (left * second)
    fill = min(max((volume - first) / max(second, 1e-300), EDGE), 1.0 - EDGE)
    return scale * math.log(fill / (1.0 - fill)), scale / max(second * fill * (1.0 - fill), 1e-300)


@part
def first_guess(rig: Any, pocket: Any, target: float, ux: float, uy: float, uz: float) -> Any:
    """Pressure [Pa] of a level bag at the middle of the cells."""
    level = level_pressure(pocket, target)[0]
    mx, my, mz = pocket.middle_x - rig.held_x, pocket.middle_y - rig.held_y, pocket.middle_z - rig.held_z
    guess = level - pocket.weight * (mx * ux + my * uy + mz * uz)
    return max(guess, -0.9 / pocket.compliance) if pocket.compliance > 0.0 else guess


@part
def _leap(pocket: Any, x: float, sums: Any, target: float, newton: float) -> float:
    """A long step of Newton's [Pa], in the level bag's pressure where the bag gives more than the gas and is not at
    one of its ends; else Newton's own is as good."""
    stretch = 1.0 + pocket.compliance * x
    goal, here = target / stretch, sums.volume
    least, span = least_gas(pocket), most_gas(pocket) - least_gas(pocket)
    inside = min(goal, here) - least > EDGE * span and least + span - max(goal, here) > EDGE * span
    if not inside or stretch * sums.give < pocket.compliance * here:
        return newton
    there, slope = level_pressure(pocket, here)
    per_pascal = slope * (sums.give + pocket.compliance * here / stretch)
    return (level_pressure(pocket, goal)[0] - there) / per_pascal if per_pascal > 0.0 else newton


@part
def balanced(
    rig: Any, pocket: Any, x: float, target: float, ux: float, uy: float, uz: float, loose: float, full: bool
) -> Any:
    """Balance at which the cells hold ``target`` [m^3], to within a Newton step of ``loose`` scales; from ``x``."""
    low = -VACUUM / pocket.compliance if pocket.compliance > 0.0 else -math.inf
    high = math.inf
    far = FAR + 40.0 * pocket.scale
    width = math.inf
    sums = sums_at(rig, pocket, x, ux, uy, uz, full)
    gap = 0.0
    for turn in range(TURNS):
        excess, steepness = excess_gas(x, sums.volume, sums.give, pocket.compliance, target)
        gap = -excess / steepness if steepness > 0.0 else math.copysign(far, -excess)
        if abs(gap) <= loose * pocket.scale or abs(excess) <= CLOSE * most_gas(pocket):
            return Balance(x, gap, sums)
        if excess > 0.0:
            high = x
        else:
            low = x
        step = gap if abs(gap) <= LEAP * pocket.scale else _leap(pocket, x, sums, target, gap)
        new = x + min(max(step, -far), far)
        if turn % 3 == 2:  # Newton may creep in from one side: insist on a halved bracket every third turn
            if not high - low < 0.5 * width:
                new = math.nan
            width = high - low
        if not low < new < high:
            if high - low < math.inf:
                new = 0.5 * (low + high)
                if high - low <= 1e-14 * (abs(low) + abs(high)):
                    return Balance(x, 0.0, sums)
            else:
                new = x + math.copysign(far, gap)
                far *= 4.0
        x = new
        sums = sums_at(rig, pocket, x, ux, uy, uz, full)
    return Balance(x, math.nan, sums)
