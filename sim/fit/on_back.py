"""Where the rig sits: waist strap, plate, slots and cylinder bottoms against the diver's own landmarks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sim.assembly.assembled import Worn
from sim.assembly.placement import point_at
from sim.fit.limits import STRAP_HALF_WIDTH
from sim.fit.verdict import Verdict

Place = Literal["above the waist", "on the waist", "on the hips"]


@dataclass(frozen=True)
class OnBack:
    """Heights x in body axes [m].

    waist_strap : middle of the strap where it leaves the plate;  crest : top of the hip bones
    tenth_rib : lowest rib at the side;  place : of the strap between them
    verdicts : the same in words
    """

    waist_strap: float
    crest: float
    tenth_rib: float
    place: Place
    verdicts: tuple[Verdict, ...]


def on_back(worn: Worn) -> OnBack:
    """Where the rig sits on the standing trunk."""
    heights = worn.body.person.skeleton.heights
    strap = float(np.mean(point_at(worn.seat, worn.plate.waist_slots)[:, 0]))
    crest, rib = heights["iliac crest"], heights["tenth rib"]
    place: Place = "on the waist"
    if strap < crest:
        place = "on the hips"
    elif strap > rib:
        place = "above the waist"
    margin = min(strap - crest, rib - strap)
    sentence = (
        f"the waist strap runs {place}: its middle is {100 * abs(strap - crest):.1f} cm "
        f"{'above' if strap > crest else 'below'} the top of the hip bones"
    )
    limit = f"between hip bones and lowest rib (common practice); the strap is {200 * STRAP_HALF_WIDTH:.0f} cm wide"
    return OnBack(
        strap, crest, rib, place, (Verdict("waist strap", place == "on the waist", sentence, margin, limit),)
    )
