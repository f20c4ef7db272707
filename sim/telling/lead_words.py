"""A moment as what an instructor can picture: lead moved half a metre, or 20 in to those who measure so."""

from __future__ import annotations

from typing import Final

from sim.rig import STANDARD_GRAVITY
from sim.said import Amount, amount, by_units, note
from sim.telling.imperial import FOOT
from sim.telling.language import told

NO_MOMENT: Final = 0.05  # N m, 10 g at half a metre: below what anyone can feel
HALF_A_METRE: Final = 0.5  # m
TWENTY_INCHES: Final = FOOT * 20.0 / 12.0  # m


def lead_at(moment: float, away: float, digits: int) -> Amount:
    """Mass [kg] in standard gravity whose weight so far ``away`` [m] makes ``moment`` [N m]."""
    return amount(abs(moment) / (away * STANDARD_GRAVITY), "kg", digits)


def like_lead_note(moment: float) -> str:
    """A moment [N m] as lead that is moved, to stand behind its number; nothing where nobody could feel it."""
    mass = lead_at(moment, HALF_A_METRE, 1)
    if mass == "0.0 kg":
        return ""
    return by_units(
        note(" (like {mass} moved half a metre)", mass=mass),
        note(" (like {mass} moved 20 in)", mass=lead_at(moment, TWENTY_INCHES, 1)),
    )


def like_lead(moment: float) -> str:
    """The same in the reader's language."""
    return told(like_lead_note(moment))
