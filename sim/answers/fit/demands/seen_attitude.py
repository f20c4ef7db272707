"""What looking straight ahead costs, and how the diver comes to rest: told, and failing nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.answers.fit import limits
from sim.answers.fit.found import Found
from sim.answers.fit.verdict import Verdict
from sim.said import amount, note, word
from sim.telling.lead_words import like_lead_note


@dataclass(frozen=True)
class SeenAttitude:
    """How head-up the diver is seen, and what turns them there and flat."""

    name: str = word("seen attitude")

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        """Neither passes nor fails."""
        a = found.look_ahead
        if a.rest_pitch is None:
            rest = note("letting go, kept from rolling, they tip over onto the back")
        else:
            rest = note("letting go, kept from rolling, they rest {pitched}", pitched=_pitched(a.rest_pitch))
        if a.head_up < np.radians(0.5):
            sentence = note(
                "looking straight ahead costs no head-up: flat, {turning}; {rest}",
                turning=_turning(a.flat_moment),
                rest=rest,
            )
        else:
            sentence = note(
                "to look straight ahead the trunk is held {pitched}, where {held}; flat, {flat}; {rest}",
                pitched=_pitched(a.head_up),
                held=_turning(a.hold_moment),
                flat=_turning(a.flat_moment),
                rest=rest,
            )
        limit = note("trimmed means less than {least} (assumed)", least=amount(limits.TRIMMED, "N m", 0))
        return (Verdict(self.name, None, sentence, None, limit),)

    def failing(self, found: Found) -> tuple[str, ...]:
        """Never."""
        return ()


def _turning(moment: float) -> str:
    if abs(moment) < limits.TRIMMED:
        return note("nearly nothing turns them")
    size, like = amount(abs(moment), "N m", 0), like_lead_note(moment)
    if moment > 0.0:
        return note("{size} turn them head-up{like}", size=size, like=like)
    return note("{size} turn them head-down{like}", size=size, like=like)


def _pitched(pitch: float) -> str:
    degrees = np.degrees(pitch)
    if abs(degrees) < 0.5:
        return note("flat")
    if pitch > 0.0:
        return note("{angle:.0f} degrees head-up", angle=degrees)
    return note("{angle:.0f} degrees head-down", angle=-degrees)


SEEN_ATTITUDE: Final = SeenAttitude()
