"""Each hand gets to its valve with enough to spare to turn it."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit import limits
from sim.answers.fit.demands.demand import Demand, Flags, Look, Reason
from sim.answers.fit.found import Found
from sim.answers.fit.hands_at_knobs import at_every_knob
from sim.answers.fit.hung import Hung
from sim.answers.fit.hung_rig import HungRig
from sim.answers.fit.many_reaches import Reaches, reach_margins, within_reach
from sim.answers.fit.reach import HandReach
from sim.answers.fit.verdict import Verdict
from sim.said import Sentence, amount, known, note, word

WORDS: Final = {
    "shoulder flexion": word("how far the shoulder lets the upper arm be raised"),
    "turn of the upper arm": word("how far the upper arm turns about itself"),
    "elbow flexion": word("how far the elbow bends"),
    "length of the arm": word("the length of the arm"),
    "what is in the way": word("head and cylinders, past which the arm has to come"),
}


class ValveReach(Demand):
    """What the hand at the valve hardest to reach has to spare, less what turning takes."""

    def asked_of(self, rig: HungRig) -> bool:
        return len(rig.knobs) > 0

    def margin(self, found: Found) -> float:
        return min(found.hands.values(), default=np.inf) - limits.EASY_REACH

    def margins(self, hung: Hung) -> Floats:
        return np.asarray(at_every_knob(hung, reach_margins).max(axis=2).min(axis=1) - limits.EASY_REACH)

    def met(self, hung: Hung) -> Flags:
        def easily(of: Reaches) -> Floats:
            return np.where(within_reach(of, limits.EASY_REACH), 1.0, 0.0)

        return np.asarray((at_every_knob(hung, easily).max(axis=2) > 0.0).all(axis=1))

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        return tuple(_verdict(hand) for hand in found.reach)

    def failing(self, found: Found) -> tuple[str, ...]:
        return tuple(n for n, m in found.hands.items() if not (np.isfinite(m) and m >= limits.EASY_REACH))


def _verdict(h: HandReach) -> Verdict:
    if not np.isfinite(h.margin):
        sentence = note(
            "the {hand} has no way to it over the shoulder; what bars it is {why}",
            hand=hand_words(h),
            why=known(WORDS[h.limited_by]),
        )
        return Verdict(h.valve, False, sentence, None, note("the hand comes over the shoulder (common practice)"))
    sentence = note("{found}; what ends the reach is {why}", found=reach_words(h), why=known(WORDS[h.limited_by]))
    if (h.stiff >= limits.EASY_REACH) != (h.supple >= limits.EASY_REACH):
        sentence = note(
            "{reach}; shoulders decide: {stiff} with the stiffest of 20 people, {supple} with the most supple",
            reach=sentence,
            stiff=_signed(h.stiff),
            supple=_signed(h.supple),
        )
    limit = note(
        "{least} to spare, to turn it and not only touch it (assumed)",
        least=amount(100.0 * limits.EASY_REACH, "cm", 0),
    )
    return Verdict(h.valve, h.margin >= limits.EASY_REACH, sentence, h.margin - limits.EASY_REACH, limit)


def hand_words(h: HandReach) -> Sentence:
    """Which hand it is."""
    return note("left hand") if h.hand == "left" else note("right hand")


def reach_words(h: HandReach) -> Sentence:
    """How near the hand comes, where there is a way."""
    hand, size = hand_words(h), _cm(h.margin)
    if h.margin < 0.0:
        return note("the {hand} stays {size} short of it", hand=hand, size=size)
    if h.margin < limits.EASY_REACH:
        return note("the {hand} reaches it with {size} to spare, too little to turn it", hand=hand, size=size)
    return note("the {hand} reaches it with {size} to spare", hand=hand, size=size)


def _signed(margin: float) -> str:
    if margin >= 0.0:
        return note("{size} to spare", size=_cm(margin))
    return note("{size} short", size=_cm(margin))


def _cm(length: float) -> str:
    """Size of a length, to the millimetre near the limit."""
    return amount(100.0 * abs(length), "cm", 1 if abs(length) < 0.03 else 0)


VALVE_REACH: Final = ValveReach(
    name=word("reach"),
    reason=Reason("reach", word("valves out of reach"), 0, Look("#8a6d1f", "...", word("valves out of reach"), 4)),
    place=5, cost=6, by_bands=True, set_up=True, traded=True,
)  # fmt: skip
