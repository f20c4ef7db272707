"""How thick what is worn on the trunk is, free and squeezed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from scenarios.suit import DrySuit, Wetsuit

PRESSED: Final = 0.35  # of an undergarment's loft left between plate and back (assumed)
UNDER_STRAPS: Final = 0.5  # of loft and slack left under the harness's webbing (assumed)
BARE_FOLDS: Final = 0.001  # m, of a shell worn with nothing under it (assumed)


@dataclass(frozen=True)
class Clothing:
    """Thickness [m] of what is worn on the trunk, not squeezed, and of the hood; 0 where there is none."""

    thickness: float
    hood: float

    @property
    def under_plate(self) -> float:
        """[m], squeezed between plate and back."""
        return PRESSED * self.thickness

    @property
    def under_straps(self) -> float:
        """[m], squeezed under webbing."""
        return UNDER_STRAPS * self.thickness


def clothing_of(suit: DrySuit | Wetsuit | None) -> Clothing:
    """What a suit puts between the diver and the rest."""
    if suit is None:
        return Clothing(0.0, 0.0)
    if isinstance(suit, Wetsuit):
        return Clothing(suit.thickness, suit.hood_thickness)
    under = suit.undergarment
    return Clothing(suit.thickness + (BARE_FOLDS if under is None else under.loft), suit.hood_thickness)
