"""What no outside number vouches for, and how to measure it oneself. Told with the evidence, in words."""

from __future__ import annotations

from typing import Final

from sim.said import word

NOT_VALIDATED: Final = (
    word(
        "No measured attitude at rest, and no measured trimming moment, of an equipped drysuit diver is known in the"
        " open literature. The parts of the model are held against outside numbers above; the whole of it only "
        "against what divers do every day, which has no source."
    ),
    word(
        "Of five set-ups that divers hold flat, weighed as usual, flat lies within the model's 5 to 95 % band for "
        "two (one cylinder, in a drysuit and in a wetsuit; bands 23 and 14 N m wide). Three with twin cylinders and "
        "a heavy undergarment come out 19 to 21 N m head-down, beyond bands of 22 to 30 N m, and are left with 2 to "
        "5 N m when cylinders are lowered, springs and gaiters worn and a kilogram hung on the ankles. What carries "
        "the bands: how thick the undergarment is, on limbs too, CB over CM of the bare body, and how the suit was "
        "last vented."
    ),
    word(
        "Nor was a measured curve of an undergarment's thickness under small pressures found, nor how a drysuit's "
        "gas is shared between legs and trunk (its volume was weighed once, by one diver), nor a joint's range in a "
        "drysuit. These are assumed; the answers say how much hangs on them."
    ),
    word(
        "Two ways of estimating a body's CB and CM differ by half a centimetre along the body: 3 to 4 N m for 75 kg."
    ),
)
NOT_YET_BELIEVED: Final = (
    "Twin cylinders over a heavy undergarment come out about 20 N m head-down in set-ups that divers hold flat, "
    "outside the model's own band."
)
MEASURE_IT: Final = "Trust first what you measure of your own diver: ten minutes in the pool say more than any table."
PROTOCOL: Final = (
    word(
        "Weigh dry: each item as it is dived (valves on, gas at a noted pressure), on a kitchen or luggage scale, "
        "three times; the spread of the three is the spread."
    ),
    word(
        "Weigh in water: hang it from a luggage scale wholly under water, no air trapped, in water whose kind and "
        "temperature you note. What floats is held down by a known lead, whose own weight in water is taken off."
    ),
    word(
        "Balance point: lay it across a round bar, at right angles to the body's length, and roll it until it tips "
        "neither way. Measure from its end to the bar with a tape."
    ),
    word(
        "In the water: confined water, a buddy within reach, a qualified instructor who agrees; breathe all the "
        "time, never hold the breath; end a try at once when anything is not as it should be."
    ),
    word(
        "Neutral float: at 3 to 5 m, wing empty, breathing quietly, hang still and add or take lead until you just "
        "sink; note all the lead that you wear then, the depth and the pressure in the cylinders."
    ),
    word(
        "Balancing lead: neutral with the wing, held flat by the buddy, let go and still: the lead, and where, with "
        "which nothing turns you for 5 seconds, or the two leads that turn you either way. Again with straps round "
        "the lower legs, and with the legs stretched out."
    ),
    word(
        "Freeze test: in confined water, neutral, with a buddy close by. Hold flat, stop moving, keep the pose, "
        "breathe quietly. A buddy films from the side against the water line; read off which way the trunk turns and"
        " when it has turned by 30 degrees. Five times."
    ),
)
NEXT: Final = word(
    'Write the numbers into a file ("hangflat check-bench --template bench.toml" writes one to fill in, "--sheet" a '
    'sheet to print). "hangflat check-bench bench.toml" says line by line whether they agree with the model, and '
    'which assumption they contradict; "hangflat calibrate student.toml bench.toml -o known.toml" fits the model to '
    "this one diver."
)
