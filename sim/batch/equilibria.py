"""Every equilibrium of one rig, its field compiled: the search of ``sim.statics.equilibria``, faster.

For processes that have the compiler loaded anyway. Directions found agree with the search by arrays to 1e-9 rad, not
to the last bit, so that what is published of one rig never comes from here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.batch.compiled import loop
from sim.batch.gas import LOOSE, TIGHT
from sim.batch.moment import COLD, moment_at, pressures_after
from sim.batch.rest import slope_of
from sim.batch.rig_arrays import RigArrays, stacked
from sim.batch.rows import RigTable, rig_row, rough_cells, rough_row, table_of
from sim.statics.equations import tangent_axes
from sim.statics.equilibria import ARRIVED, FLAT_STIFFNESS, STEPS, Equilibria, equilibria
from sim.statics.field import Field, Pressures, SoftRig, field

LONGEST: Final = 0.2  # rad, of a step of Newton's
CLOSE_BY: Final = 1e-3  # rad: from such a step on the gas is solved for good


def compiled_equilibria(soft: SoftRig, arrays: RigArrays | None = None) -> Equilibria:
    """As ``sim.statics.equilibria.equilibria``, to 1e-9 rad; ``arrays`` : those of this one rig, where at hand."""
    return equilibria(soft, Compiled(table_of(arrays or stacked([soft.rig]))))


@dataclass(frozen=True, eq=False)
class Compiled:
    """A ``Solver`` for the one rig of ``table``."""

    table: RigTable

    def moments(self, _soft: SoftRig, up: Floats) -> Floats:
        """One direction after another."""
        d = np.empty(up.shape)
        _moments(self.table, np.ascontiguousarray(up), d)
        return d

    def polished(self, _soft: SoftRig, starts: Floats, size: Floats) -> tuple[Floats, NDArray[np.bool_]]:
        """One start after another."""
        up, arrived = np.array(starts, order="C"), np.zeros(len(starts), dtype=bool)
        _polish(self.table, up, np.ascontiguousarray(size), arrived)
        return up, arrived

    def settled(self, soft: SoftRig, up: Floats) -> Field:
        """By the arrays' own equations, from the pressures that compiled code finds."""
        gas = np.empty((2, len(up)))
        _pressures(self.table, np.ascontiguousarray(up), gas)
        suit, wing = (None if bag is None else x for bag, x in zip((soft.suit, soft.wing), gas, strict=True))
        return field(soft, up, near=Pressures(suit, wing))


@loop
def _pressures(table: Any, up: Floats, gas: Floats) -> None:
    rig = rig_row(table, 0)
    for i in range(len(up)):
        m = moment_at(rig, up[i, 0], up[i, 1], up[i, 2], COLD, COLD, rig.wing.gas, TIGHT, False)
        gas[0, i], gas[1, i] = m.suit.x + m.suit.gap, m.wing.x + m.wing.gap


@loop
def _moments(table: Any, up: Floats, d: Floats) -> None:
    suit, wing = rough_cells(table)
    rig = rough_row(rig_row(table, 0), suit, wing)  # near enough to bracket a zero
    for i in range(len(up)):
        m = moment_at(rig, up[i, 0], up[i, 1], up[i, 2], COLD, COLD, rig.wing.gas, LOOSE, False)
        d[i, 0], d[i, 1], d[i, 2] = m.dx, m.dy, m.dz


@loop
def _polish(table: Any, up: Floats, size: Floats, arrived: Any) -> None:
    rig = rig_row(table, 0)
    for i in range(len(up)):
        ux, uy, uz = up[i, 0], up[i, 1], up[i, 2]
        suit_x = wing_x = COLD
        before = last = math.inf
        loose = LOOSE
        for _ in range(STEPS):
            m = moment_at(rig, ux, uy, uz, suit_x, wing_x, rig.wing.gas, loose, True)
            e = tangent_axes(ux, uy, uz)
            k = slope_of(m, ux, uy, uz, e)
            moment = math.sqrt(k.first * k.first + k.second * k.second)
            a, b, c, d = k.a + k.p, k.b + k.q, k.b + k.r, k.c + k.s
            whole = a * a + b * b + c * c + d * d
            det = a * d - b * c
            if abs(det) > FLAT_STIFFNESS * whole:
                p, q = (b * k.second - d * k.first) / det, (c * k.first - a * k.second) / det
            else:  # along a ring of rests the free direction gets no step
                p, q = -(a * k.first + c * k.second) / whole, -(b * k.first + d * k.second) / whole
            step = math.sqrt(p * p + q * q)
            short = min(1.0, LONGEST / max(step, 1e-300))
            x = ux + short * (p * e[0] + q * e[3])
            y = uy + short * (p * e[1] + q * e[4])
            z = uz + short * (p * e[2] + q * e[5])
            length = math.sqrt(x * x + y * y + z * z)
            x, y, z = x / length, y / length, z / length
            suit_x, wing_x = pressures_after(rig, m, x - ux, y - uy, z - uz)
            ux, uy, uz = x, y, z
            off = math.sqrt((x - up[i, 0]) ** 2 + (y - up[i, 1]) ** 2 + (z - up[i, 2]) ** 2)
            if not off < 2.0 * size[i]:
                break
            if step < ARRIVED and loose == TIGHT:
                arrived[i] = True
                break
            if step < CLOSE_BY and loose != TIGHT:
                loose = TIGHT
            elif not moment < 0.5 * before:
                break
            before, last = last, moment
        up[i, 0], up[i, 1], up[i, 2] = ux, uy, uz
