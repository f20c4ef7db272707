"""The plate is no wider than the back under it."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.demands.demand import Demand, Look, Reason, centimetres
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.verdict import Verdict
from sim.answers.fit.width import width_left
from sim.said import note, word


class PlateWidth(Demand):
    """By how much the back is wider than the plate, each side, where least."""

    def margin(self, found: Found) -> float:
        return min(found.sits.flank, found.sits.armpit) + limits.WIDER_THAN_BACK

    def margins(self, hung: Hung) -> Floats:
        person, widths = hung.who.person, hung.rig.widths
        half, along = 0.5 * person.measures["interscyei"], hung.on_plate(widths.middle)[..., 0]
        flank, armpit = width_left(widths.half, along, person.skeleton.heights, half, hung.who.flanks)
        return np.asarray(np.minimum(flank, armpit) + limits.WIDER_THAN_BACK)

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        on, margin = found.on_back, self.margin(found)
        narrow = note("between the armpits") if on.armpit < on.flank else note("at the flanks")
        size = centimetres(margin)
        if margin >= 0.0:
            sentence = note(
                "the back is wider than the plate, by {size} a side {narrow}, where least", size=size, narrow=narrow
            )
        else:
            sentence = note("the plate stands out {size} a side {narrow}", size=size, narrow=narrow)
        limit = note("no wider than the back under it (assumed)")
        return (Verdict(self.name, margin >= 0.0, sentence, margin, limit),)


PLATE_WIDTH: Final = PlateWidth(
    name=word("plate width"),
    reason=Reason(
        "plate width", word("plate wider than the back"), 3,
        Look("#6f5aa3", "oo", word("plate wider than the back"), 6),
    ),
    place=2, cost=2,
)  # fmt: skip
