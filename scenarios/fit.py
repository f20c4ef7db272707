"""How freely the diver moves in what they wear: what ``hangflat fit`` takes off the joints' ranges.

No range of a joint in a drysuit has been published, as far as is known: the defaults are assumed. ``settle`` does
not look at them.
"""

from __future__ import annotations

from typing import Annotated

from scenarios.quantities import Quantity
from scenarios.table import Table


class Fit(Table):
    """What is taken off the ranges of shoulders, elbows and neck."""

    shoulder_bulk: Annotated[
        float,
        Quantity(
            "angle",
            "what suit and undergarment take off the range of either shoulder",
            "10 deg",
            "0 deg",
            "60 deg",
            "nothing is published on it; 0 to 20 degrees is the usual guess",
        ),
    ] = 0.17453292519943295  # 10 degrees, assumed
    neck_bulk: Annotated[
        float,
        Quantity(
            "angle",
            "what hood and neck seal take off how far the head can be lifted",
            "10 deg",
            "0 deg",
            "60 deg",
            "nothing is published on it",
        ),
    ] = 0.17453292519943295  # 10 degrees, assumed
    stiff_left_shoulder: Annotated[
        float, Quantity("angle", "what a stiff left shoulder lacks besides", "0 deg", "0 deg", "120 deg")
    ] = 0.0
    stiff_right_shoulder: Annotated[
        float, Quantity("angle", "what a stiff right shoulder lacks besides", "0 deg", "0 deg", "120 deg")
    ] = 0.0
    elbow_bulk: Annotated[
        float,
        Quantity(
            "angle",
            "what the sleeves take off how far the elbows bend",
            "5 deg",
            "0 deg",
            "60 deg",
            "nothing is published on it",
        ),
    ] = 0.08726646259971647  # 5 degrees, assumed
