"""Moment, its Jacobian and the gas of many rigs, each at its own direction of up: the twin of ``statics.field``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.batch.blocks import over_blocks
from sim.batch.compiled import loop
from sim.batch.gas import TIGHT
from sim.batch.moment import COLD, moment_at
from sim.batch.rig_arrays import RigArrays
from sim.batch.rows import read_only, rig_row, table_of


@dataclass(frozen=True, eq=False)
class FieldArrays:
    """Moments of B rigs about the held point, body axes.

    d : (B, 3) [N m], torque = up x d;  bend : (B, 3, 3) d(d)/du with the wing's volume frozen, symmetric [N m]
    refill : (B, 3, 3) what a wing kept neutral adds to ``bend`` [N m]
    suit_gas, wing_gas : (B,) [m^3];  net_buoyancy : (B,) [kg], plus floats
    """

    d: Floats
    bend: Floats
    refill: Floats
    suit_gas: Floats
    wing_gas: Floats
    net_buoyancy: Floats


def fields(rigs: RigArrays, up: ArrayLike, *, threads: int | None = None) -> FieldArrays:
    """Field of each rig at its unit vector ``up`` (B, 3) or (3,), body axes; ``threads`` None uses every core."""
    n = len(rigs)
    at = read_only(np.broadcast_to(np.asarray(up, dtype=float), (n, 3)))
    d, bend, refill, gas = np.empty((n, 3)), np.empty((n, 3, 3)), np.empty((n, 3, 3)), np.empty((n, 3))
    table = table_of(rigs)
    over_blocks(lambda a, b: _fields(table, a, b, at, d, bend, refill, gas), n, threads)
    return FieldArrays(d, bend, refill, gas[:, 0].copy(), gas[:, 1].copy(), gas[:, 2] / rigs.gravity)


@loop
def _fields(
    table: Any, begin: int, end: int, up: Floats, d: Floats, bend: Floats, refill: Floats, gas: Floats
) -> None:
    for i in range(begin, end):
        rig = rig_row(table, i)
        m = moment_at(rig, up[i, 0], up[i, 1], up[i, 2], COLD, COLD, rig.wing.gas, TIGHT, True)
        d[i, 0], d[i, 1], d[i, 2] = m.dx, m.dy, m.dz
        b = m.bends
        bend[i, 0, 0], bend[i, 0, 1], bend[i, 0, 2] = b.xx, b.xy, b.xz
        bend[i, 1, 0], bend[i, 1, 1], bend[i, 1, 2] = b.xy, b.yy, b.yz
        bend[i, 2, 0], bend[i, 2, 1], bend[i, 2, 2] = b.xz, b.yz, b.zz
        wing, suit = (m.wing.mx, m.wing.my, m.wing.mz), (m.suit.mx, m.suit.my, m.suit.mz)
        for row in range(3):
            for column in range(3):
                refill[i, row, column] = m.refilling * wing[row] * suit[column]
        gas[i, 0], gas[i, 1], gas[i, 2] = m.suit.volume, m.wing.volume, m.lift
