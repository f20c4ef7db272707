"""All checks, in the order in which they are told."""

from __future__ import annotations

from sim.answers.evidence.check import Check


def all_checks() -> tuple[Check, ...]:
    """Every check; nothing is computed yet."""
    from sim.answers.evidence import (
        body,
        calibration,
        causes,
        divers_afloat,
        floating,
        freeze,
        gear,
        gear_in_water,
        lungs,
        motion,
        movement,
        pendulums,
        people,
        plates,
        postures,
        practice,
        solids,
        standing,
        starting_lead,
        tissue,
        water_and_gas,
    )  # fmt: skip

    parts = (
        water_and_gas, gear, gear_in_water, movement, motion, pendulums, freeze, floating, plates, people, solids,
        body, postures, standing, tissue, lungs, calibration, causes, practice, starting_lead, divers_afloat,
    )  # fmt: skip
    return tuple(c for part in parts for c in part.checks())
