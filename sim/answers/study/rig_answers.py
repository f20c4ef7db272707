"""Answers of many rigs at once, by the name of their column; worked out by ``sim.batch``."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from meshes.mesh import Floats
from sim.batch.rig_arrays import RigArrays, stacked
from sim.rig import Pocket, Rig

if TYPE_CHECKING:
    from sim.batch.flat import FlatArrays
    from sim.batch.rest import RestArrays

LITRES: Final = 1e3


@dataclass(frozen=True, eq=False)
class ManyRigs:
    """B rigs as the solvers need them, with what these do not need.

    mass [kg], volume [m^3] : (B,) of the rigid parts;  suit_density, wing_density : (B,) of the gas in them [kg/m^3]
    """

    arrays: RigArrays
    mass: Floats
    volume: Floats
    suit_density: Floats
    wing_density: Floats

    @cached_property
    def flat(self) -> FlatArrays:
        """Held flat."""
        from sim.batch.flat import flat_answers

        return flat_answers(self.arrays, threads=1)

    @cached_property
    def rest(self) -> RestArrays:
        """Let go flat, pitch and roll free."""
        from sim.batch.rest import rests_from_flat

        return rests_from_flat(self.arrays, threads=1)

    @cached_property
    def found(self) -> Floats:
        """(B,) 1 where the rest was found, else NaN."""
        from sim.batch.rest import UNCONVERGED

        return np.where(self.rest.status == UNCONVERGED, np.nan, 1.0)


def many_rigs(rigs: Sequence[Rig]) -> ManyRigs:
    """Single rigs side by side."""
    return ManyRigs(
        stacked(rigs),
        np.array([r.whole.mass for r in rigs]),
        np.array([r.whole.volume for r in rigs]),
        np.array([_density(r.suit) for r in rigs]),
        np.array([_density(r.wing) for r in rigs]),
    )


def rig_answers(rigs: ManyRigs, wanted: Collection[str]) -> dict[str, Floats]:
    """Each wanted column (B,); what is not wanted is not worked out."""
    return {column: np.asarray(_ANSWERS[column](rigs), dtype=float) for column in wanted}


def _density(pocket: Pocket | None) -> float:
    return 0.0 if pocket is None else pocket.gas_density


def _held_pitch(rigs: ManyRigs) -> Floats:
    from sim.batch.held import held_pitches

    turned = held_pitches(rigs.arrays, threads=1).from_flat
    return np.asarray(np.clip(np.degrees(turned), -90.0, 90.0))


def _rest_turn(rigs: ManyRigs) -> Floats:
    x, y, z = rigs.rest.up.T
    return np.asarray(rigs.found * np.degrees(np.arctan2(np.hypot(x, y), z)))


def _mass(rigs: ManyRigs) -> Floats:
    return rigs.mass + rigs.suit_density * rigs.flat.suit_gas + rigs.wing_density * rigs.flat.wing_gas


_ANSWERS: Final[dict[str, Callable[[ManyRigs], Floats]]] = {
    "trimming_moment_nm": lambda r: r.flat.pitch_moment,
    "roll_moment_nm": lambda r: r.flat.roll_moment,
    "pitch_stiffness_nm_per_rad": lambda r: r.flat.pitch_stiffness,
    "roll_stiffness_nm_per_rad": lambda r: r.flat.roll_stiffness,
    "held_pitch_deg": _held_pitch,
    "rest_pitch_deg": lambda r: r.found * np.degrees(r.rest.pitch),
    "rest_roll_deg": lambda r: r.found * np.degrees(r.rest.roll),
    "rest_turn_deg": _rest_turn,
    "wing_gas_l": lambda r: LITRES * r.flat.wing_gas,
    "suit_gas_l": lambda r: LITRES * r.flat.suit_gas,
    "mass_kg": _mass,
    "volume_l": lambda r: LITRES * (r.volume + r.flat.suit_gas + r.flat.wing_gas),
    "net_buoyancy_kg": lambda r: r.flat.net_buoyancy,
}
