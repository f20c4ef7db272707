"""How a trunk lies in a picture, from points that were clicked: hip, shoulder, and the water line or a plumb line.

Only the points come here, never the picture. They are in its pixels, x to the right and y down. A camera that looks
along the water and across the diver shows the angle as it is; looked at slantwise it shows more or less: a doubt that
is told.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

Point = Sequence[float]
Kind = Literal["level", "plumb"]
NEAR: Final = 8.0  # pixels between two points, below which a click's slip turns the line by more than 10 degrees
SLIP: Final = 3.0  # pixels that a click is off (assumed)


@dataclass(frozen=True)
class TrunkAngle:
    """The trunk's elevation from hip to shoulder [deg], head-up is plus; ``slip`` : what clicks may be off by."""

    pitch: float
    slip: float

    @property
    def typed(self) -> str:
        """As ``hangflat seen --attitude`` takes it."""
        size = round(abs(self.pitch))
        return "flat" if not size else f"{size} deg head-{'up' if self.pitch > 0.0 else 'down'}"


def trunk_angle(hip: Point, shoulder: Point, line: tuple[Point, Point], kind: Kind) -> TrunkAngle:
    """The angle between the trunk and the level.

    line : two points of the water line (``level``), or of a line that hangs (``plumb``), in any order
    Raises ValueError, in words for people, for points that are none or too near to one another.
    """
    trunk, along = _between(hip, shoulder, "hip and shoulder"), _between(*line, "the two points of the line")
    if kind == "plumb":
        along = (-along[1], along[0])
    size = math.hypot(*along)
    up = (along[1] / size, -along[0] / size)  # of the picture, y down
    if up[1] > 0.0 or (up[1] == 0.0 and up[0] < 0.0):
        up = (-up[0], -up[1])
    if up[1] > -0.5:
        raise ValueError(
            "the line stands more than 60 degrees off the picture's own level; turn the picture, or choose the other "
            "kind of line"
        )
    risen = trunk[0] * up[0] + trunk[1] * up[1]
    long = math.hypot(*trunk)
    slip = math.degrees(SLIP * math.hypot(1.0 / long, 1.0 / size) * math.sqrt(2.0))
    return TrunkAngle(math.degrees(math.asin(max(-1.0, min(1.0, risen / long)))), slip)


def _between(first: Point, second: Point, names: str) -> tuple[float, float]:
    numbers = [float(v) for v in (*first, *second)]
    if len(numbers) != 4 or not all(abs(v) < 1e6 for v in numbers):
        raise ValueError(f"{names}: two numbers are needed for each point")
    across, down = numbers[2] - numbers[0], numbers[3] - numbers[1]
    if not math.hypot(across, down) >= NEAR:
        raise ValueError(f"{names} lie on one another; click them further apart")
    return across, down
