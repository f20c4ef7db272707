"""How a settled rig ended, in plain words."""

from __future__ import annotations

from typing import Final

import numpy as np

from sim.settling.settle import Outcome, Settled

PLAIN: Final[dict[Outcome, str]] = {
    "indifferent": "nothing turns this diver in any attitude: they stay as they are put",
    "poised": "no stable attitude was found: the diver hangs balanced like a stick on its end",
    "risen": "the diver drifted up before coming to rest",
    "sunk": "the diver sank before coming to rest",
    "time ran out": "the diver was still moving when the simulated time was over",
    "steps ran out": "the motion was too lively to follow to its end",
}


def outcome_words(settled: Settled) -> str:
    """One sentence, without full stop, on whether and how a rig came to rest; angles in degrees."""
    pitch, roll = np.degrees(settled.pitch), np.degrees(settled.roll)
    if settled.outcome == "past the vertical":
        way = "head-up" if pitch > 0.0 else "head-down"
        return (
            f"kept from rolling the diver tips {way} past the vertical and rests on the back, "
            f"{180.0 - abs(pitch):.0f} degrees {way}, {'at least ' if settled.outlasted else ''}{settled.time:.0f} s "
            "after letting go"
        )
    if settled.outcome != "at rest":
        return f"{PLAIN[settled.outcome]} (after {settled.time:.0f} s)"
    least = "at least " if settled.outlasted else ""
    words = f"at rest {least}{settled.time:.0f} s after letting go, pitch {pitch:.1f} degrees"
    if settled.roll_rule == "free":
        words += f", roll {roll:.1f} degrees"
    if settled.time_to_30_roll is not None:
        over = "would turn over" if settled.turned_over else "would roll"
        words += f"; left to themselves the diver {over}, 30 degrees of roll in {settled.time_to_30_roll:.0f} s"
    return words
