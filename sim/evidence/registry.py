"""All checks, in the order in which they are told."""

from __future__ import annotations

from sim.evidence.check import Check


def all_checks() -> tuple[Check, ...]:
    """Every check; nothing is computed yet."""
    from sim.evidence import (
        body,
        divers_afloat,
        floating,
        gear,
        lungs,
        motion,
        movement,
        people,
        postures,
        solids,
        standing,
        tissue,
        water_and_gas,
    )  # fmt: skip

    parts = (
        water_and_gas,
        gear,
        movement,
        motion,
        floating,
        divers_afloat,
        people,
        solids,
        body,
        postures,
        standing,
        tissue,
        lungs,
    )
    return tuple(c for part in parts for c in part.checks())
