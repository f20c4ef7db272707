"""Pitch and roll of an attitude, by one rule wherever they are told."""

from __future__ import annotations

import math
from typing import Final

from meshes.mesh import Floats

ROUNDING: Final = 1e-8  # rad: more than the search for rests leaves of half a turn, far less than is ever told


def pitch_and_roll(up: Floats) -> tuple[float, float]:
    """Pitch, -pi/2 to pi/2, and roll as of ``within_a_turn`` [rad], of world-up (3,), a unit vector in body axes."""
    return math.asin(min(1.0, max(-1.0, float(up[0])))), within_a_turn(math.atan2(float(up[1]), float(up[2])))


def within_a_turn(angle: float) -> float:
    """The same angle [rad], above -pi and up to pi.

    What rounding puts on one side or the other of half a turn is pi: one attitude is not told in two ways.
    """
    turned = math.remainder(angle, 2.0 * math.pi)
    return turned if turned > ROUNDING - math.pi else math.pi
