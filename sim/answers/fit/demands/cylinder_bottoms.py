"""Cylinders and boots press no more into the buttocks than these and the suit give."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.cloud import least, none_below
from sim.answers.fit.demands.demand import Demand, Flags, Look, Reason, centimetres
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.hung_rig import HungRig
from sim.answers.fit.verdict import Verdict
from sim.said import note, word


class CylinderBottoms(Demand):
    """How much deeper they could press in; inf where they end above the buttocks, or there are none."""

    def asked_of(self, rig: HungRig) -> bool:
        return len(rig.low.points) > 0

    def margin(self, found: Found) -> float:
        off = found.sits.buttocks
        return np.inf if off is None else off + limits.BUTTOCKS_GIVE

    def margins(self, hung: Hung) -> Floats:
        return least(hung.rig.low, *hung.hanging, hung.who.behind) - hung.who.clothing + limits.BUTTOCKS_GIVE

    def met(self, hung: Hung) -> Flags:
        return none_below(hung.rig.low, *hung.hanging, hung.who.behind, hung.who.clothing - limits.BUTTOCKS_GIVE)

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        on, margin = found.on_back, self.margin(found)
        if on.cylinder_end is None:
            return ()
        limit = note(
            "no more than {give} into suit and buttocks, which give so much (assumed)",
            give=centimetres(limits.BUTTOCKS_GIVE),
        )
        if on.buttocks is None:
            return (Verdict(self.name, True, note("the cylinders end above the buttocks"), None, limit),)
        above = on.cylinder_end - on.buttock
        if above > 0.0:
            end = note("they end {size} above the fullest of the buttocks", size=centimetres(above))
        else:
            end = note("they end {size} below the fullest of the buttocks", size=centimetres(above))
        size = centimetres(on.buttocks)
        if on.buttocks >= 0.0:
            sentence = note("the cylinders pass {size} clear of the clothed buttocks; {end}", size=size, end=end)
        else:
            sentence = note(
                "the cylinders rest on the buttocks, {size} into suit and flesh; {end}", size=size, end=end
            )
        return (Verdict(self.name, margin >= 0.0, sentence, margin, limit),)


CYLINDER_BOTTOMS: Final = CylinderBottoms(
    name=word("cylinder bottoms"),
    reason=Reason(
        "cylinder bottoms", word("cylinders on the buttocks"), 2,
        Look("#7a3b66", "**", word("cylinders on the buttocks"), 5),
    ),
    place=7, cost=4, by_bands=True, set_up=True,
)  # fmt: skip
