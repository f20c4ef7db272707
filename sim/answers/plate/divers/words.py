"""What each answer on a diver with a plate is called, and how it is written; text and pictures share it."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees
from typing import Final

from sim.answers.plate.divers.worn import WornAnswers
from sim.said import word
from sim.telling.language import in_unit, number


@dataclass(frozen=True)
class Answer:
    """One of ``WornAnswers``: its field, its name, the unit in which it is written, digits behind the point.

    scale : of that unit to SI;  meaning : which way is plus, for the reader of a table
    """

    field: str
    name: str
    unit: str
    scale: float
    digits: int
    meaning: str

    def value(self, of: WornAnswers) -> float | None:
        """In the unit in which it is written."""
        found: float | None = getattr(of, self.field)
        return None if found is None else self.scale * found


ANSWERS: Final = (
    Answer("start_moment", word("moment, start"), "N m", 1.0, 1, word("plus turns the diver held flat head-up")),
    Answer("end_moment", word("moment, end"), "N m", 1.0, 1, word("the same moment with 50 bar left")),
    Answer("lead", word("lead"), "kg", 1.0, 2, word("neutral at the last stop; below 0 too heavy by that much lead")),
    Answer("looks", word("looks ahead"), "degrees", degrees(1.0), 1, word("how high the eyes look, held flat")),
    Answer("reach", word("reach"), "cm", 100.0, 1, word("what the hand has to spare at the valve hardest to reach")),
    Answer("straps", word("straps"), "cm", 100.0, 1, word("what is left before a shoulder strap lies wrong")),
    Answer("length", word("length"), "cm", 100.0, 1, word("what is left before the plate is too long for the back")),
    Answer(
        "width", word("width"), "cm", 100.0, 1, word("what is left on each side before it is wider than the back")
    ),
    Answer("carried", word("carried ashore"), "kg", 1.0, 1, word("rig and lead on the belt")),
    Answer(
        "lean", word("lean ashore"), "degrees", degrees(1.0), 1, word("forward, from the ankles, that balances it")
    ),
)


def cell(answer: Answer, of: WornAnswers | None, *, change: bool = False) -> str:
    """One number of a table, with its sign where it is a change."""
    value = None if of is None else answer.value(of)
    if value is None:
        return "-"
    shown = round(in_unit(value, answer.unit), answer.digits) + 0.0
    if change and not shown:
        return "0"
    return number(shown, answer.digits, sign=change)
