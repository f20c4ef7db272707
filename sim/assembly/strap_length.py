"""How low the rig hangs and how long the shoulder straps are: the same thing said in two ways."""

from __future__ import annotations

from typing import Final

from meshes.plate.back_plate import Plate
from sim.assembly.seat import seated
from sim.assembly.strap_paths import strap_paths
from sim.person.posed_body import PosedBody

DROPS: Final = (-0.20, 0.30)  # m, the range of ``harness.drop``; the least only where the shoulders are higher
TOLERANCE: Final = 1e-5  # m of drop


def strap_length(drop: float, plate: Plate, body: PosedBody, padding: float, under_straps: float) -> float:
    """Length [m] of one shoulder strap, slot to slot, of a rig that hangs ``drop`` [m] below the natural waist."""
    return strap_paths(plate, seated(plate, body, padding, drop), body, under_straps).shoulder_length


def drop_of_strap(length: float, plate: Plate, body: PosedBody, padding: float, under_straps: float) -> float:
    """The drop [m] at which shoulder straps of ``length`` [m] are tight; longer straps hang the rig lower.

    padding, under_straps : clothing squeezed under the plate and under webbing [m]
    Looked for from where the shoulder slots are level with the shoulders (higher up straps cannot pull down). Raises
    ValueError, saying which lengths there are, for one that no such drop gives.
    """
    from scipy.optimize import brentq

    def lacking(drop: float) -> float:
        return strap_length(drop, plate, body, padding, under_straps) - length

    highest = max(DROPS[0], slots_below_shoulders(plate, body))
    short, long = (lacking(drop) + length for drop in (highest, DROPS[1]))
    if not short <= length <= long:
        raise ValueError(
            f"a shoulder strap of {100.0 * length:.1f} cm hangs this plate on this diver nowhere between its slots "
            f"being level with the shoulders and its waist strap {100.0 * DROPS[1]:.0f} cm below the natural waist: "
            f"give {100.0 * short:.1f} to {100.0 * long:.1f} cm, measured from the slot over the shoulder and under "
            "the arm to the waist slot, or give drop"
        )
    return float(brentq(lacking, highest, DROPS[1], xtol=TOLERANCE))


def slots_below_shoulders(plate: Plate, body: PosedBody) -> float:
    """The drop [m] at which the plate's shoulder slots are level with the acromia, the plate taken as upright."""
    heights = body.person.skeleton.heights
    above_waist = float(plate.shoulder_slots[:, 0].mean() - plate.waist_slots[:, 0].mean())
    return heights["waist"] + above_waist - heights["acromion"]
