"""The arrays of many rigs as compiled loops take them, and one rig's row of them."""

from __future__ import annotations

from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from sim.batch.compiled import part
from sim.batch.precision import in_single
from sim.batch.rig_arrays import PocketArrays, RigArrays
from sim.cell_laws import garment_numbers, garment_sides, loaded

SPECK: Final = 1e-15  # m^3 that a garment's cell in single precision has at least: its formula divides by it
ABREAST: Final = 16  # cells that a processor may do at once in single precision


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


@part
def rough_row(rig: Any, suit: Any, wing: Any) -> Any:
    """The same rig with its cells in single precision, written into ``suit`` and ``wing`` (9, n).

    Below the six rows of ``CellSets`` stand the ``cell_laws.garment_numbers`` of a garment.
    """
    return RigRow(
        rig.dx, rig.dy, rig.dz, rig.spare, rig.gravity, rig.held_x, rig.held_y, rig.held_z,
        _rough_pocket(rig.suit, suit), _rough_pocket(rig.wing, wing),
    )  # fmt: skip


def _numbers(loft: float, slack: float, preload: float, scale: float) -> Any:
    return garment_numbers(loaded(0.0, preload, scale)[1], max(loft, SPECK), max(slack, SPECK))


_, _, _, _numbers_in_single = in_single(loaded, garment_sides, garment_numbers, _numbers)


@part
def _prepared(loft: Any, slack: Any, preload: Any, scale: Any, squeezing: Any, blowing: Any, give: Any) -> None:
    # one row at a time, or the compiler takes one cell at a time
    for j in range(len(loft)):
        squeezing[j] = _numbers_in_single(loft[j], slack[j], preload[j], scale)[0]
    for j in range(len(loft)):
        blowing[j] = _numbers_in_single(loft[j], slack[j], preload[j], scale)[1]
    for j in range(len(loft)):
        give[j] = _numbers_in_single(loft[j], slack[j], preload[j], scale)[2]


@part
def _converted(given: Any, row: Any) -> None:
    for j in range(len(given)):
        row[j] = given[j]


@part
def _rough_pocket(pocket: Any, rough: Any) -> Any:
    cells, scale = pocket.cells, np.float32(pocket.scale)
    for row in range(cells.shape[0]):
        _converted(cells[row], rough[row])
    if pocket.garment:
        _prepared(rough[3], rough[4], rough[5], scale, rough[6], rough[7], rough[8])
    return PocketRow(
        pocket.there, rough, pocket.garment, pocket.first, pocket.second, pocket.middle_x, pocket.middle_y,
        pocket.middle_z, pocket.scale, pocket.weight, pocket.compliance, pocket.gas,
    )  # fmt: skip


@part
def rough_cells(table: Any) -> Any:
    """Room for the cells of one rig's suit and wing in single precision, empty ones at the end."""
    suit = np.zeros((9, -(-table.suit.cells.shape[2] // ABREAST) * ABREAST), np.float32)
    wing = np.zeros((9, -(-table.wing.cells.shape[2] // ABREAST) * ABREAST), np.float32)
    return suit, wing
