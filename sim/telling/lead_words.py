"""A moment as what an instructor can picture: lead moved half a metre."""

from __future__ import annotations

from typing import Final

from sim.rig import STANDARD_GRAVITY
from sim.said import amount, note
from sim.telling.language import told

NO_MOMENT: Final = 0.05  # N m, 10 g at half a metre: below what anyone can feel


def kilograms_at_half_a_metre(moment: float) -> float:
    """Mass [kg] in standard gravity whose weight half a metre away makes ``moment`` [N m]."""
    return abs(moment) / (0.5 * STANDARD_GRAVITY)


def like_lead_note(moment: float) -> str:
    """A moment [N m] as lead that is moved, to stand behind its number; nothing where nobody could feel it."""
    mass = kilograms_at_half_a_metre(moment)
    return "" if f"{mass:.1f}" == "0.0" else note(" (like {mass} moved half a metre)", mass=amount(mass, "kg", 1))


def like_lead(moment: float) -> str:
    """The same in the reader's language."""
    return told(like_lead_note(moment))
