"""Many rigs held flat and motionless: what turns each of them, and how stiff that attitude is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from meshes.mesh import Floats
from sim.batch.blocks import over_blocks
from sim.batch.compiled import loop
from sim.batch.gas import TIGHT
from sim.batch.moment import COLD, moment_at
from sim.batch.rig_arrays import RigArrays
from sim.batch.rows import rig_row, table_of


@dataclass(frozen=True, eq=False)
class FlatArrays:
    """B rigs flat (pitch 0, roll 0, face down); each (B,), as in ``sim.statics.flat.FlatAnswer``.

    pitch_moment : [N m], plus turns head-up;  roll_moment : [N m], plus lifts the left side
    pitch_stiffness, roll_stiffness : [N m/rad], wing volume frozen, plus is stable
    pitch_gas, roll_gas : what the moving gas takes off those two stiffnesses [N m/rad], >= 0
    suit_gas, wing_gas : [m^3];  net_buoyancy : [kg], plus floats
    """

    pitch_moment: Floats
    roll_moment: Floats
    pitch_stiffness: Floats
    roll_stiffness: Floats
    pitch_gas: Floats
    roll_gas: Floats
    suit_gas: Floats
    wing_gas: Floats
    net_buoyancy: Floats


def flat_answers(rigs: RigArrays, *, threads: int | None = None) -> FlatArrays:
    """Moments about the held point and stiffnesses of B rigs held flat; ``threads`` None uses every core."""
    numbers = np.empty((len(rigs), 9))
    table = table_of(rigs)
    over_blocks(lambda a, b: _flats(table, a, b, numbers), len(rigs), threads)
    numbers[:, 8] /= rigs.gravity
    return FlatArrays(*np.ascontiguousarray(numbers.T))


@loop
def _flats(table: Any, begin: int, end: int, numbers: Floats) -> None:
    for i in range(begin, end):
        rig = rig_row(table, i)
        m = moment_at(rig, 0.0, 0.0, 1.0, COLD, COLD, rig.wing.gas, TIGHT, True)
        numbers[i, 0], numbers[i, 1] = -m.dx, -m.dy
        numbers[i, 2], numbers[i, 3] = -m.dz + m.bends.xx, -m.dz + m.bends.yy
        numbers[i, 4], numbers[i, 5] = -m.bends.xx, -m.bends.yy
        numbers[i, 6], numbers[i, 7], numbers[i, 8] = m.suit.volume, m.wing.volume, m.lift
