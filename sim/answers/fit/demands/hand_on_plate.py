"""Whether a hand over the shoulder touches the plate's top edge: a rule of thumb that fails nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.answers.fit.demands.demand import centimetres
from sim.answers.fit.found import Found
from sim.answers.fit.verdict import Verdict
from sim.said import note, word


@dataclass(frozen=True)
class HandOnPlate:
    """A rule of thumb for setting the height: missing it fails nothing, the valves' reach decides."""

    name: str = word("hand on plate")

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        """Passes, or nothing is said of passing."""
        spare = found.on_back.top_touched
        if spare >= 0.0:
            sentence = note(
                "a hand over the shoulder touches the plate's top edge, with {size} to spare", size=centimetres(spare)
            )
        else:
            sentence = note(
                "a hand over the shoulder stays {size} short of the plate's top edge: no "
                "failing, since the valves decide and it is a rule of thumb",
                size=centimetres(spare),
            )
        limit = note("a hand over the shoulder touches it: a rule of thumb for the rig's height (common practice)")
        return (Verdict(self.name, True if spare >= 0.0 else None, sentence, spare, limit),)

    def failing(self, found: Found) -> tuple[str, ...]:
        """Never."""
        return ()


HAND_ON_PLATE: Final = HandOnPlate()
