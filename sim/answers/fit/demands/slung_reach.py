"""A hand gets to the valve of each cylinder that hangs, with enough to spare to turn it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sim.answers.fit import limits
from sim.answers.fit.demands.valve_reach import WORDS, hand_words, reach_words
from sim.answers.fit.found import Found
from sim.answers.fit.reach import HandReach
from sim.answers.fit.verdict import Verdict
from sim.said import amount, known, note, word

BARS = {**WORDS, "what is in the way": word("trunk, head and cylinders, past which the arm has to come")}


@dataclass(frozen=True)
class SlungReach:
    """Told of one diver; it hangs on the body and not on the plate, so that no plate or height mends it."""

    name: str = "slung valves"

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        """Of each valve."""
        return tuple(_verdict(hand) for hand in found.slung)

    def failing(self, found: Found) -> tuple[str, ...]:
        """Valves that no hand turns."""
        return tuple(v.subject for v in self.verdicts(found) if not v.passes)


def _verdict(h: HandReach) -> Verdict:
    why = known(BARS[h.limited_by])
    if not np.isfinite(h.margin):
        sentence = note("neither hand has a way to it; what bars the {hand} is {why}", hand=hand_words(h), why=why)
        return Verdict(
            h.valve, False, sentence, None, note("a hand turns every valve that is worn (common practice)")
        )
    least = amount(100.0 * limits.EASY_REACH, "cm", 0)
    limit = note("{least} to spare, to turn it and not only touch it (assumed)", least=least)
    sentence = note("{found} from below; what ends the reach is {why}", found=reach_words(h), why=why)
    return Verdict(h.valve, h.margin >= limits.EASY_REACH, sentence, h.margin - limits.EASY_REACH, limit)


SLUNG_REACH = SlungReach()
