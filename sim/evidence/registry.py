"""All checks, in the order in which they are told."""

from __future__ import annotations

from sim.evidence.check import Check


def all_checks() -> tuple[Check, ...]:
    """Every check; nothing is computed yet."""
    from sim.evidence import body, gear, lungs, movement, water_and_gas

    return tuple(c for part in (water_and_gas, gear, movement, body, lungs) for c in part.checks())
