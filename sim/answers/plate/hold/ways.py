"""How a plate with cylinders on it is carried ashore: what it feels, and where it is held."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from sim.said import word

WayName = Literal["standing", "lifted", "set down", "vehicle"]

G: Final = 9.80665  # m/s^2


@dataclass(frozen=True)
class Way:
    """meaning : a plain phrase;  load : how many times its weight all weighs;  source : of that number."""

    name: WayName
    meaning: str
    load: float
    source: str


VEHICLE: Final = 5.0

WAYS: Final[Mapping[WayName, Way]] = {
    way.name: way
    for way in (
        Way(
            word("standing"),
            word("on a diver who stands: hung on the shoulder straps, leaning on the back at the waist strap"),
            1.0,
            word("at rest"),
        ),
        Way(
            word("lifted"),
            word("lifted by one hand in the straps at the shoulder slots"),
            1.5,
            word("assumed: a brisk lift"),
        ),
        Way(
            word("set down"),
            word("set down on its lower edge, held upright at the shoulder slots"),
            3.0,
            word("assumed: set down hard"),
        ),
        Way(
            word("vehicle"),
            word("lying on the floor of a vehicle, plate down, cylinders on top"),
            VEHICLE,
            word("assumed: a pothole"),
        ),
    )
}
