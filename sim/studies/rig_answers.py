"""Answers of assembled rigs, by the name of their column."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.rig import Rig
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.turning import rest_pitch

LITRES: Final = 1e3


def rig_answers(rigs: Sequence[Rig], wanted: Collection[str]) -> dict[str, Floats]:
    """Each wanted column (n,) for n rigs."""
    rows = [_one(rig) for rig in rigs]
    return {c: np.array([row[c] for row in rows], dtype=float) for c in wanted}


def _one(rig: Rig) -> dict[str, float]:
    soft = soft_rig(rig)
    flat = flat_answer(soft)
    pitch = rest_pitch(soft, flat.pitch_moment)
    return {
        "trimming_moment_nm": flat.pitch_moment,
        "roll_moment_nm": flat.roll_moment,
        "pitch_stiffness_nm_per_rad": flat.pitch_stiffness,
        "roll_stiffness_nm_per_rad": flat.roll_stiffness,
        "held_pitch_deg": float(np.clip(np.degrees(pitch), -90.0, 90.0)),
        "wing_gas_l": LITRES * flat.wing_gas,
        "suit_gas_l": LITRES * flat.suit_gas,
        "mass_kg": flat.mass,
        "volume_l": LITRES * flat.volume,
        "net_buoyancy_kg": flat.net_buoyancy,
    }
