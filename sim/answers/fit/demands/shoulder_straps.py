"""The shoulder straps cross the shoulders between the neck and the ball of the joint, above their slots."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.demands.demand import Demand, Look, Reason, centimetres
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.straps import Crossing, crossing
from sim.answers.fit.verdict import Verdict
from sim.assembly.strap_paths import front_of_armpit, over_shoulder
from sim.said import note, word


class ShoulderStraps(Demand):
    """What is left before a strap is on the joint's ball, on the neck or lower than its slot."""

    def margin(self, found: Found) -> float:
        return found.sits.straps.crossing.margin

    def margins(self, hung: Hung) -> Floats:
        rig, who = hung.rig, hung.who
        armpit = front_of_armpit(who.person, rig.under_straps)
        runs = (over_shoulder(rig.plate, seat, armpit, rig.under_straps, who.skin) for seat in hung.seats)
        return np.array([crossing(run, who.person).margin for run in runs])[hung.seat]

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        across = found.on_back.straps.crossing
        if across.share > 1.0:
            sentence = note("the straps miss the shoulders: the slots are too far apart for this body")
        else:
            sentence = note(
                "they cross {share:.0f} % of the way from neck to shoulder bone, {edges}",
                share=100.0 * across.share,
                edges=_edges(across),
            )
        limit = note(
            "outer edge off the ball of the shoulder joint (common practice), inner edge off the neck (assumed), "
            "slots below the shoulders"
        )
        return (Verdict(self.name, across.margin >= 0.0, sentence, across.margin, limit),)


def _edges(c: Crossing) -> str:
    if c.above_slot < 0.0:
        return note(
            "but their slots lie {size} above the shoulders, from where straps hold nothing down",
            size=centimetres(c.above_slot),
        )
    if c.ball < 0.0:
        return note(
            "{size} onto the ball of the joint: the slots are far apart for it, and straps slide off",
            size=centimetres(c.ball),
        )
    if c.inner < limits.STRAP_OFF_NECK:
        return note(
            "their inner edge {size} onto the neck: the slots are close together for it", size=centimetres(c.inner)
        )
    return note("{size} inside the ball of the joint", size=centimetres(c.ball))


SHOULDER_STRAPS: Final = ShoulderStraps(
    name=word("shoulder straps"),
    reason=Reason(
        "shoulder straps", word("straps too far out or on the neck"), 6,
        Look("#b59bd8", "|||", word("straps too far out or on the neck"), 8),
    ),
    place=1, cost=3,
)  # fmt: skip
