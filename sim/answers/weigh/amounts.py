"""Amounts as a weighing tells them."""

from __future__ import annotations

from typing import Final

from sim.telling.language import quantity

LITRE: Final = 1e-3
LEAST_SHOWN: Final = 0.05  # kg, below the shown digits


def litres(volume: float) -> str:
    """A volume [m^3] in the reader's unit."""
    return quantity(volume / LITRE + 0.0, "l", 1)


def kilograms(mass: float) -> str:
    """A mass [kg] in the reader's unit."""
    return quantity(mass, "kg", 1)
