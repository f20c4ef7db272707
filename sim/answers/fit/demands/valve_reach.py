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

WORDS: Final = {
    "shoulder flexion": "how far the shoulder lets the upper arm be raised",
    "turn of the upper arm": "how far the upper arm turns about itself",
    "elbow flexion": "how far the elbow bends",
    "length of the arm": "the length of the arm",
    "what is in the way": "head and cylinders, past which the arm has to come",
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
        sentence = f"the {h.hand} hand has no way to it over the shoulder; what bars it is {WORDS[h.limited_by]}"
        return Verdict(h.valve, False, sentence, None, "the hand comes over the shoulder (common practice)")
    sentence = f"{reach_words(h)}; what ends the reach is {WORDS[h.limited_by]}"
    if (h.stiff >= limits.EASY_REACH) != (h.supple >= limits.EASY_REACH):
        sentence += (
            f"; shoulders decide: {_signed(h.stiff)} with the stiffest of 20 people, {_signed(h.supple)} with the "
            "most supple"
        )
    limit = f"{100.0 * limits.EASY_REACH:.0f} cm to spare, to turn it and not only touch it (assumed)"
    return Verdict(h.valve, h.margin >= limits.EASY_REACH, sentence, h.margin - limits.EASY_REACH, limit)


def reach_words(h: HandReach) -> str:
    """How near the hand comes, where there is a way."""
    if h.margin < 0.0:
        return f"the {h.hand} hand stays {_cm(h.margin)} short of it"
    found = f"the {h.hand} hand reaches it with {_cm(h.margin)} to spare"
    return found if h.margin >= limits.EASY_REACH else f"{found}, too little to turn it"


def _signed(margin: float) -> str:
    return f"{_cm(margin)} {'to spare' if margin >= 0.0 else 'short'}"


def _cm(length: float) -> str:
    """Size of a length, to the millimetre near the limit."""
    return f"{100.0 * abs(length):.{1 if abs(length) < 0.03 else 0}f} cm"


VALVE_REACH: Final = ValveReach(
    name="reach",
    reason=Reason("reach", "valves out of reach", 0, Look("#8a6d1f", "...", "valves out of reach", 4)),
    place=5, cost=6, by_bands=True, set_up=True, traded=True,
)  # fmt: skip
