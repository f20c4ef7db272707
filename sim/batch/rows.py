"""The arrays of many rigs as compiled loops take them, and one rig's row of them."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from sim.batch.compiled import part
from sim.batch.rig_arrays import PocketArrays, RigArrays


class PocketTable(NamedTuple):
    """The arrays of a ``PocketArrays``."""

    cells: Floats
    garment: NDArray[np.bool_]
    totals: Floats
    which: Ints
    scale: Floats
    weight: Floats
    compliance: Floats
    gas: Floats


class RigTable(NamedTuple):
    """``RigArrays`` with its two pockets' tables."""

    rigid: Floats
    spare: Floats
    gravity: Floats
    held: Floats
    suit: PocketTable
    wing: PocketTable


class PocketRow(NamedTuple):
    """One rig's pocket: its cells (6, n), law, totals of the two volumes [m^3], middle of the cells [m], numbers.

    there : the rig has this pocket, with gas in it or room for some
    """

    there: bool
    cells: Floats
    garment: bool
    first: float
    second: float
    middle_x: float
    middle_y: float
    middle_z: float
    scale: float
    weight: float
    compliance: float
    gas: float


class RigRow(NamedTuple):
    """One rig: rigid parts [N m], spare [kg], gravity [m/s^2], held point [m], pockets."""

    dx: float
    dy: float
    dz: float
    spare: float
    gravity: float
    held_x: float
    held_y: float
    held_z: float
    suit: PocketRow
    wing: PocketRow


def table_of(rigs: RigArrays) -> RigTable:
    """Arrays of ``rigs`` in the order the loops take them; only what does not lie in a row in memory is copied."""
    d, spare, gravity, held = map(read_only, (rigs.rigid, rigs.spare, rigs.gravity, rigs.held))
    return RigTable(d, spare, gravity, held, _pocket_table(rigs.suit), _pocket_table(rigs.wing))


def read_only(array: Any) -> Any:
    """The same numbers in a row in memory, not to be written to.

    A loop is compiled anew for arrays of another layout or that may be written to, and another compilation may take
    its sums in another order: with one kind of array there is one compilation, and one answer to the last bit.
    """
    view = np.ascontiguousarray(array).view()
    view.flags.writeable = False
    return view


def _pocket_table(p: PocketArrays) -> PocketTable:
    each: Any = (p.sets.cells, p.sets.garment, p.sets.totals, p.which, p.scale, p.weight, p.compliance, p.gas)
    return PocketTable(*map(read_only, each))


@part
def pocket_row(table: Any, i: int, needs_gas: bool) -> Any:
    """Row ``i`` of a ``PocketTable``; a suit is not there without gas."""
    chosen = table.which[i]
    s = max(chosen, 0)
    totals = table.totals
    there = chosen >= 0 and not (needs_gas and not table.gas[i] > 0.0)
    return PocketRow(
        there,
        table.cells[s],
        table.garment[s],
        totals[s, 0],
        totals[s, 1],
        totals[s, 2],
        totals[s, 3],
        totals[s, 4],
        table.scale[i],
        table.weight[i],
        table.compliance[i],
        table.gas[i],
    )


@part
def rig_row(table: Any, i: int) -> Any:
    """Row ``i`` of a ``RigTable``."""
    d, held = table.rigid, table.held
    return RigRow(
        d[i, 0],
        d[i, 1],
        d[i, 2],
        table.spare[i],
        table.gravity[i],
        held[i, 0],
        held[i, 1],
        held[i, 2],
        pocket_row(table.suit, i, True),
        pocket_row(table.wing, i, False),
    )
