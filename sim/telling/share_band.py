"""What a share of all people may be, judged from those that were drawn."""

from __future__ import annotations

import math
from typing import Final

NINETY: Final = 1.6448536269514722  # SDs of a normal number on either side, within which 90 % lie


def share_band(passing: int, people: int) -> tuple[float, float]:
    """What the share of all such people may be: Wilson's 90 % band (1927, J Am Stat Assoc 22:209), wider than need be
    for quasi-random draws; (0, 1) without people."""
    if people == 0:
        return 0.0, 1.0
    p, square = passing / people, NINETY**2
    middle = (2.0 * passing + square) / (2.0 * (people + square))
    half = NINETY * math.sqrt(4.0 * people * p * (1.0 - p) + square) / (2.0 * (people + square))
    return 0.0 if passing == 0 else middle - half, 1.0 if passing == people else middle + half
