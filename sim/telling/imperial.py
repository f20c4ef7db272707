"""What imperial readers measure in, in place of each metric unit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

POUND: Final = 0.45359237  # kg, by the international agreement of 1959, as the foot
FOOT: Final = 0.3048  # m
POUND_FORCE: Final = POUND * 9.80665  # N
FOOT_POUND: Final = POUND_FORCE * FOOT  # N m
CUBIC_FOOT: Final = 1e3 * FOOT**3  # l


@dataclass(frozen=True)
class Other:
    """An imperial unit: its name, how many of the metric one it has, how many digits more it is told with."""

    name: str
    size: float
    digits: int


IMPERIAL: Final[Mapping[str, Other]] = {
    "kg": Other("lb", POUND, 0),
    "g": Other("oz", 1e3 * POUND / 16.0, 1),
    "m": Other("ft", FOOT, 0),
    "cm": Other("in", 100.0 * FOOT / 12.0, 1),
    "mm": Other("in", 1e3 * FOOT / 12.0, 1),
    "cm^2": Other("sq in", (100.0 * FOOT / 12.0) ** 2, 0),
    "l": Other("cu ft", CUBIC_FOOT, 1),
    "bar": Other("psi", POUND_FORCE / (FOOT / 12.0) ** 2 / 1e5, -1),
    "kPa": Other("psi", POUND_FORCE / (FOOT / 12.0) ** 2 / 1e3, 1),
    "N": Other("lbf", POUND_FORCE, 1),
    "N m": Other("lbf ft", FOOT_POUND, 0),
    "N m/rad": Other("lbf ft/rad", FOOT_POUND, 0),
    "N m/kg": Other("lbf ft/lb", FOOT_POUND / POUND, 1),
    "kg/m^3": Other("lb/cu ft", POUND / FOOT**3, 1),
    "m/s": Other("ft/s", FOOT, 0),
    "m/s^2": Other("ft/s^2", FOOT, 0),
    "l/min": Other("cu ft/min", CUBIC_FOOT, 1),
}
