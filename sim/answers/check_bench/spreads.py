"""What careful readings of ordinary tools are good for, where a file states no spread."""

from __future__ import annotations

from typing import Final

READING: Final = {
    "dry_mass": 0.05,
    "wet_mass": 0.1,
    "balance_point": 0.01,
    "time_to_30": 0.5,
}  # kg, kg, m, s; assumed
TIME_MODEL: Final = 0.2  # of a time: added inertia is good for 20 %, and the speed of the suit's gas is assumed
LEAD_SPREAD: Final = 0.4  # kg, of a float's lead: a breath and the steps of the lead (common practice)
MOMENT_SPREAD: Final = 2.0  # N m: a drift too slow to be seen within 5 s (assumed)
