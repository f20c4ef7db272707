"""Many draws of one uncertain rig as arrays for the compiled statics: the twin of ``UncertainRig.drawn``."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from meshes.mesh import Floats
from sim.batch.rig_arrays import Law, PocketArrays, RigArrays, cell_sets, rig_arrays, suit_arrays, wing_arrays
from sim.fill_laws import FillLaw, GarmentLaw
from sim.rig import Pocket
from sim.statics.venting import BRIM
from sim.uncertainty.rig_numbers import LEAST_LEFT, MASS, VOLUME
from sim.uncertainty.variates import UncertainRig

WATER_AT, HELD_AT, CELLS_AT = slice(8, 11), slice(11, 14), 14
LEAST_SHARE = 0.01  # of the suit's gas, as in UncertainRig.drawn


@dataclass(frozen=True, eq=False)
class Drawn:
    """An uncertain rig made ready for many draws.

    lines : (d, n) change of its numbers for one spread of each unknown;  base : (n,) numbers as told
    log_stiffness, gas_share : (d,) of the suit
    """

    unknown: UncertainRig
    base: Floats
    lines: Floats
    log_stiffness: Floats
    gas_share: Floats

    def rigs(self, z: Floats, *, added: Floats | None = None, wing_empty: bool = False) -> RigArrays:
        """B rigs at values ``z`` (B, d) in units of each spread.

        added : (8,) mass and volume with their first moments, of what hangs on each rig besides [kg, m, m^3]
        """
        like = self.unknown.like
        numbers = self.base + z @ self.lines
        if added is not None:
            numbers[:, :8] += added
        mass, volume = numbers[:, MASS.start], numbers[:, VOLUME.start]
        cm = numbers[:, MASS.start + 1 : MASS.stop] / mass[:, None]
        cb = numbers[:, VOLUME.start + 1 : VOLUME.stop] / volume[:, None]
        density, gravity, pressure = numbers[:, WATER_AT].T
        held = None if np.array_equal(like.held, like.whole.cm) else numbers[:, HELD_AT]
        at, suit, wing = CELLS_AT, None, None
        if like.suit is not None:
            stop = at + (3 + len(_of_cells(like.suit.law))) * len(like.suit.cells) + 3
            suit = self._suit(like.suit, numbers[:, at:stop], z, density, gravity, pressure)
            at = stop
        if like.wing is not None:
            cells, law, scale, gas, gas_density = _columns(like.wing, numbers[:, at:])
            given = np.zeros(len(z)) if wing_empty else np.nan if like.wing.gas is None else gas
            wing = wing_arrays(
                cell_sets(cells, law[0], law[1], _law(like.wing), *law[2:]), which=np.arange(len(z)), scale=scale,
                gas=given, density=density, gas_density=gas_density, gravity=gravity,
            )  # fmt: skip
        return rig_arrays(mass, cm, volume, cb, held=held, density=density, gravity=gravity, suit=suit, wing=wing)

    def _suit(
        self, like: Pocket, numbers: Floats, z: Floats, density: Floats, gravity: Floats, pressure: Floats
    ) -> PocketArrays | None:
        if like.gas is None:
            return None
        cells, law, scale, gas, gas_density = _columns(like, numbers)
        room = (law[0] + law[1]).sum(axis=1) if _law(like) == "garment" else law[1].sum(axis=1)
        kept = _within(np.maximum(gas, LEAST_LEFT * like.gas), room)
        share = np.maximum(1.0 + z @ self.gas_share, LEAST_SHARE)
        return suit_arrays(
            cell_sets(cells, law[0], law[1], _law(like), *law[2:]), which=np.arange(len(z)),
            scale=scale * np.exp(z @ self.log_stiffness), gas=_within(share * kept, room), pressure=pressure,
            density=density, gas_density=gas_density, gravity=gravity,
        )  # fmt: skip


def drawn_from(unknown: UncertainRig) -> Drawn:
    """Make an uncertain rig ready."""
    d = len(unknown.variates)
    lines = np.array([v.numbers for v in unknown.variates]).reshape(d, len(unknown.base))
    stiffness, share = (
        np.array([getattr(v, name) for v in unknown.variates]).reshape(d) for name in ("log_stiffness", "gas_share")
    )
    return Drawn(unknown, unknown.base, lines, stiffness, share)


def _within(gas: Floats, room: Floats) -> Floats:
    """What of the gas there is room for, as ``vented_to_room`` has it."""
    return np.where(gas >= room, BRIM * room, gas)


def _law(pocket: Pocket) -> Law:
    return "garment" if isinstance(pocket.law, GarmentLaw) else "logistic"


def _of_cells(law: FillLaw) -> list[Floats]:
    """What a law holds of each cell, (n,) each, in the order of ``numbers_of``."""
    return [value for value in vars(law).values() if isinstance(value, np.ndarray)]


def _columns(like: Pocket, numbers: Floats) -> tuple[Floats, list[Floats], Floats, Floats, Floats]:
    """Cells (B, n, 3), what the law holds of each cell (B, n), its scale, gas and density of the gas (B,)."""
    n, rigs = len(like.cells), len(numbers)
    told = _of_cells(like.law)
    cells = numbers[:, : 3 * n].reshape(rigs, n, 3)
    law = [numbers[:, (3 + i) * n : (4 + i) * n] for i in range(len(told))]
    if isinstance(like.law, GarmentLaw):
        law[:2] = [np.maximum(column, LEAST_LEFT * least) for column, least in zip(law[:2], told[:2], strict=True)]
    else:
        law[0] = np.maximum(law[0], 0.0)
        law[1] = np.maximum(law[1], law[0])
    scale, gas, gas_density = numbers[:, (3 + len(told)) * n :].T
    return cells, law, np.maximum(scale, LEAST_LEFT * like.law.scale), gas, gas_density
