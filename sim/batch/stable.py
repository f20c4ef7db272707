"""Every stable attitude of each of many free rigs that letting go from many attitudes finds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from sim.batch.blocks import over_blocks
from sim.batch.compiled import loop
from sim.batch.rest import AT_REST, INDIFFERENT_RIG, RING, rest_of
from sim.batch.rig_arrays import RigArrays
from sim.batch.rows import rig_row, rough_cells, rough_row, table_of
from sim.statics.sphere import icosphere

MOST: Final = 12  # rests kept of one rig
SAME: Final = 1e-6  # rad: closer than this two rests are one; each is known to 1e-9


@dataclass(frozen=True, eq=False)
class StableArrays:
    """Stable rests of B rigs: the one reached from flat first, then in the order found; NaN beyond ``count`` (B,).

    up : (B, M, 3);  stiffness : (B, M, 2) principal [N m/rad];  wing_gas : (B, M) [m^3]
    status : (B,) the worst of all starts', as in ``sim.batch.rest``; a RING keeps one rest for each start that met it
    """

    up: Floats
    stiffness: Floats
    wing_gas: Floats
    count: Ints
    status: NDArray[np.int8]


def stable_attitudes(rigs: RigArrays, *, fineness: int = 1, threads: int | None = None) -> StableArrays:
    """Stable rests of B rigs, let go flat and from every corner of an icosahedron split ``fineness`` times.

    12, 42 or 162 starts for 0, 1 or 2. Unlike ``sim.statics.equilibria`` it does not prove that none is missing: a
    rest whose basin of attraction holds no start is not found.
    """
    n = len(rigs)
    starts = np.concatenate([[[0.0, 0.0, 1.0]], icosphere(fineness)[0]])
    up = np.full((n, MOST, 3), np.nan)
    numbers = np.full((n, MOST, 3), np.nan)
    count, status = np.zeros(n, dtype=np.int64), np.zeros(n, dtype=np.int8)
    table = table_of(rigs)
    over_blocks(lambda a, b: _stables(table, a, b, starts, up, numbers, count, status), n, threads)
    most = max(1, int(count.max(initial=0)))
    return StableArrays(up[:, :most].copy(), numbers[:, :most, :2].copy(), numbers[:, :most, 2].copy(), count, status)


@loop
def _stables(
    table: Any, begin: int, end: int, starts: Floats, up: Floats, numbers: Floats, count: Ints, status: Any
) -> None:
    suit, wing = rough_cells(table)
    for i in range(begin, end):
        rig = rig_row(table, i)
        rough = rough_row(rig, suit, wing)
        found = 0
        for j in range(len(starts)):
            rest = rest_of(rig, rough, starts[j, 0], starts[j, 1], starts[j, 2])
            status[i] = max(status[i], rest.status)
            if rest.status == INDIFFERENT_RIG:
                break
            new = (rest.status == AT_REST or rest.status == RING) and found < MOST
            for other in range(found):
                dx, dy, dz = up[i, other, 0] - rest.ux, up[i, other, 1] - rest.uy, up[i, other, 2] - rest.uz
                if dx * dx + dy * dy + dz * dz < SAME * SAME:
                    new = False
            if new:
                up[i, found, 0], up[i, found, 1], up[i, found, 2] = rest.ux, rest.uy, rest.uz
                numbers[i, found, 0], numbers[i, found, 1] = rest.low, rest.high
                numbers[i, found, 2] = rest.wing_gas
                found += 1
        count[i] = found
