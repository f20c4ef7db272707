"""The answers a study may ask for: name, column, unit and meaning of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Final

from sim.said import word
from sim.telling.record import Told


@dataclass(frozen=True)
class Output:
    """An answer of a row."""

    name: Annotated[str, Told("the answer")]
    column: Annotated[str, Told("its name in the tables, with the unit")]
    unit: Annotated[str, Told("its unit")]
    meaning: Annotated[str, Told("what it tells, in one plain phrase")]


_ALL: Final = (
    Output(word("trimming moment"), "trimming_moment_nm", "N m",
           "on the motionless diver when flat, plus turns head-up"),
    Output(word("roll moment"), "roll_moment_nm", "N m", "when flat, plus lifts the left side"),
    Output(word("pitch stiffness"), "pitch_stiffness_nm_per_rad", "N m/rad", "when flat, plus is stable"),
    Output(word("roll stiffness"), "roll_stiffness_nm_per_rad", "N m/rad", "when flat, plus is stable"),
    Output(word("held pitch"), "held_pitch_deg", "deg",
           "where the turning from flat ends with roll held level, plus head-up; 90 either way where it never ends"),
    Output(word("rest pitch"), "rest_pitch_deg", "deg", "of the free rest reached from flat, plus head-up"),
    Output(word("rest roll"), "rest_roll_deg", "deg", "of the free rest reached from flat, plus left side up"),
    Output(word("rest turn"), "rest_turn_deg", "deg", "angle from flat to the free rest reached from it, 0 to 180"),
    Output(word("wing gas"), "wing_gas_l", "l", "in the wing when flat"),
    Output(word("suit gas"), "suit_gas_l", "l", "in the suit when flat"),
    Output(word("mass"), "mass_kg", "kg", "of the whole with all gas"),
    Output(word("volume"), "volume_l", "l", "of the whole with all gas, when flat"),
    Output(word("net buoyancy"), "net_buoyancy_kg", "kg", "when flat, plus floats; 0 with a wing kept neutral"),
    Output(word("plate suits"), "plate_suits", "",
           "1 where, height and bands set for the diver, nothing of the fit fails, else 0"),
    Output(word("look-ahead margin"), "look_ahead_margin_deg", "deg",
           "how much further the diver sees ahead than needed, waist strap at the natural waist"),
    Output(word("reach margin"), "reach_margin_cm", "cm",
           "to spare at the valve that is hardest to reach, waist strap at the natural waist"),
    Output(word("shoulder strap margin"), "shoulder_strap_margin_cm", "cm",
           "of the shoulder straps to slipping off, waist strap at the natural waist"),
)  # fmt: skip

OUTPUTS: Final[Mapping[str, Output]] = MappingProxyType({o.name: o for o in _ALL})
FIT_COLUMNS: Final = ("plate_suits", "look_ahead_margin_deg", "reach_margin_cm", "shoulder_strap_margin_cm")
