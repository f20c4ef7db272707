"""How a settled rig ended, in plain words."""

from __future__ import annotations

from typing import Final

import numpy as np

from sim.said import Sentence, note
from sim.settling.settle import Outcome, Settled

PLAIN: Final[dict[Outcome, Sentence]] = {
    "indifferent": note("nothing turns this diver in any attitude: they stay as they are put"),
    "poised": note("no stable attitude was found: the diver hangs balanced like a stick on its end"),
    "risen": note("the diver drifted up before coming to rest"),
    "sunk": note("the diver sank before coming to rest"),
    "time ran out": note("the diver was still moving when the simulated time was over"),
    "steps ran out": note("the motion was too lively to follow to its end"),
}


def outcome_words(settled: Settled) -> Sentence:
    """One sentence, without full stop, on whether and how a rig came to rest; angles in degrees."""
    pitch, roll = float(np.degrees(settled.pitch)), float(np.degrees(settled.roll))
    time = note("{time:.0f} s", time=settled.time)
    after = note("at least {time}", time=time) if settled.outlasted else time
    if settled.outcome == "past the vertical":
        way = note("head-up") if pitch > 0.0 else note("head-down")
        return note(
            "kept from rolling the diver tips {way} past the vertical and rests on the back, "
            "{pitch:.0f} degrees {way}, {after} after letting go",
            way=way,
            pitch=180.0 - abs(pitch),
            after=after,
        )
    if settled.outcome != "at rest":
        return note("{how} (after {time})", how=PLAIN[settled.outcome], time=time)
    words = note("at rest {after} after letting go, pitch {pitch:.1f} degrees", after=after, pitch=pitch)
    if settled.roll_rule == "free":
        words = note("{words}, roll {roll:.1f} degrees", words=words, roll=roll)
    if settled.time_to_30_roll is None:
        return words
    time = note("{time:.0f} s", time=settled.time_to_30_roll)
    if settled.turned_over:
        return note(
            "{words}; left to themselves the diver would turn over, 30 degrees of roll in {time}",
            words=words,
            time=time,
        )
    return note(
        "{words}; left to themselves the diver would roll, 30 degrees of roll in {time}", words=words, time=time
    )
