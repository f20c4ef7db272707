"""What looking straight ahead costs, and how the diver comes to rest: told, and failing nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.answers.fit import limits
from sim.answers.fit.found import Found
from sim.answers.fit.verdict import Verdict
from sim.telling.lead_words import like_lead


@dataclass(frozen=True)
class SeenAttitude:
    """How head-up the diver is seen, and what turns them there and flat."""

    name: str = "seen attitude"

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        """Neither passes nor fails."""
        a = found.look_ahead
        rest = "; letting go, kept from rolling, they "
        rest += "tip over onto the back" if a.rest_pitch is None else f"rest {_pitched(a.rest_pitch)}"
        if a.head_up < np.radians(0.5):
            sentence = f"looking straight ahead costs no head-up: flat, {_turning(a.flat_moment)}{rest}"
        else:
            sentence = (
                f"to look straight ahead the trunk is held {_pitched(a.head_up)}, where {_turning(a.hold_moment)}; "
                f"flat, {_turning(a.flat_moment)}{rest}"
            )
        limit = f"trimmed means less than {limits.TRIMMED:.0f} N m (assumed)"
        return (Verdict(self.name, None, sentence, None, limit),)

    def failing(self, found: Found) -> tuple[str, ...]:
        """Never."""
        return ()


def _turning(moment: float) -> str:
    if abs(moment) < limits.TRIMMED:
        return "nearly nothing turns them"
    return f"{abs(moment):.0f} N m turn them head-{'up' if moment > 0.0 else 'down'}{like_lead(moment)}"


def _pitched(pitch: float) -> str:
    degrees = np.degrees(pitch)
    return "flat" if abs(degrees) < 0.5 else f"{abs(degrees):.0f} degrees head-{'up' if pitch > 0.0 else 'down'}"


SEEN_ATTITUDE: Final = SeenAttitude()
