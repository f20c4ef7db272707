"""The file that a user fills in beside scale and pool."""

from __future__ import annotations

from typing import Final

TEMPLATE: Final = """\
# Measurements of one diver's gear, to be held against the model: hangflat check-bench THIS-FILE
# Replace the numbers (they are invented), delete what you did not measure, add [[item]]s as you like.
# "+- 0.02 kg" is the spread of repeated readings (standard deviation); leave it out if you have none.
format = "bench/1"
scenario = "student.toml"           # the diver's file, beside this one

[water]                             # of the weighings in water
kind = "fresh"                      # or "sea", or density = "998 kg/m^3"
temperature = "20 °C"

[[item]]
name = "plate"                      # as "hangflat why student.toml" calls it
dry_mass = "2.62 +- 0.02 kg"        # in air
wet_mass = "2.29 +- 0.05 kg"        # hung in water, no air trapped; minus for what floats
balance_point = "20.5 +- 0.5 cm"    # where it lies level across a bar, along the body ...
balance_from = "foot end"           # ... from its foot end, its head end, or the diver's "hips"

[[item]]
name = "cylinders as dived"         # several parts on the scale together
parts = [
    "left cylinder", "right cylinder", "air in left cylinder", "air in right cylinder",
    "bands", "manifold with valves",
]
dry_mass = "26.9 +- 0.2 kg"
wet_mass = "7.0 +- 0.2 kg"

[freeze]                            # neutral, held flat, then still; a buddy films from the side
drift = "head-down"                 # the way the trunk turned: head-up, head-down or none
time_to_30 = "1.6 +- 0.3 s"         # until it had turned by 30 degrees
"""
