"""The file that a user fills in beside scale and pool: every value blank, with how it is taken and with what care."""

from __future__ import annotations

from typing import Final

TEMPLATE: Final = """\
# Measurements of one diver and gear, held against the model by:
#     hangflat check-bench THIS-FILE                                   what agrees and what does not
#     hangflat calibrate SCENARIO THIS-FILE -o KNOWN.toml              what it says of this diver
# Fill in what you measured; delete what you did not, line by line or whole tables. A blank left ("") is refused.
# "6 +- 0.4 kg" tells the spread of your own repeats (standard deviation); leave "+- 0.4" out if you have none.
#
# In the water: confined water, standing depth beside it, a buddy within reach and a qualified instructor who agrees;
# breathe all the time, never hold the breath; end a try at once when anything is not as it should be. Lead that is
# added is lead that can be dropped or handed up. None of this is a dive plan.
format = "bench/1"
scenario = ""                       # the diver's file, beside this one, like "student.toml"
measured_on = ""                    # the day, like "2025-05-31"; leave names out

[water]                             # in which it was weighed and tried
kind = ""                           # "fresh" (pool), "sea" or "brackish"
temperature = ""                    # like "27 °C"

# 1. Neutral float. At 3 to 5 m, suit gas as you dive it, wing EMPTY, as flat as is easy, breathing quietly: add or
# take lead until you just begin to sink. The buddy holds the spare lead.
[[float]]
lead = ""                           # all the lead you wear then, together, like "6 +- 0.4 kg"
depth = ""                          # like "4 m"
pressure = ""                       # in the cylinders, as the gauge shows, like "60 bar"

# 2. Balancing lead. Trimmed neutral with the wing, held flat by the buddy, arms and legs as on a dive; let go and
# stop moving. Add lead until nothing turns you for 5 seconds (at ankles or tail if the feet rise, else higher up).
# No lead that does it? Give the two that turn you either way: between = ["1 kg", "2 kg"] in place of lead.
[[balance]]
worn = "as worn"
lead = ""                           # ADDED there, "0 kg" if you hung flat as you were
place = ""                          # "ankles", "tail", "belt", "between cylinders", "upper band", "plate channel"
taken_from = ""                     # if that lead was moved, not added: where it had been; delete the line otherwise
pressure = ""                       # in the cylinders

# The same again with straps or gaiters round the lower legs (drysuit), trimmed neutral anew.
[[balance]]
worn = "lower legs strapped"
lead = ""
place = ""
pressure = ""

# The same again with the legs stretched out straight, the straps off.
[[balance]]
worn = "legs straight"
lead = ""
place = ""
pressure = ""

# 3. Freeze test. As worn, no lead added, neutral, held flat, let go, still; the buddy films from the side. Up to five
# tries: seconds until the trunk had turned by 30 degrees. The buddy stops the turn there.
[freeze]
drift = ""                          # the way the trunk turned: "head-up", "head-down", "none" (then no times)
times_to_30 = ["", "", "", "", ""]  # like "2.4 s"
depth = ""
pressure = ""

# 4. At home: what scale and bar say of the gear.
[[item]]
name = ""                           # as "hangflat why" calls it, like "plate"; several together: see below
dry_mass = ""                       # in air, like "2.62 +- 0.02 kg"
wet_mass = ""                       # hung in water, no air trapped; minus for what floats
balance_point = ""                  # where it lies level across a bar, along the body, like "20.5 +- 0.5 cm" ...
balance_from = "foot end"           # ... from its "foot end", its "head end", or the diver's "hips"

[[item]]
name = ""                           # your own name for several parts on the scale together, ...
parts = [""]                        # ... like ["left cylinder", "air in left cylinder", "bands"]
dry_mass = ""
wet_mass = ""
"""
