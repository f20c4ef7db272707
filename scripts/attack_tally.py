"""What an attack found: how many inputs were tried and how each ended."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum


class End(Enum):
    """How one input ended. All but the first two are faults."""

    ANSWERED = "answered"
    REFUSED = "refused"
    CRASHED = "crashed"
    SLOW = "slow"
    LARGE = "large"
    LEFT_BEHIND = "left behind"


FAULTS = (End.CRASHED, End.SLOW, End.LARGE, End.LEFT_BEHIND)


@dataclass
class Tally:
    """Counts of one kind of attack, and the first few faults in words (which input, from which seed, what it did)."""

    name: str
    shown: int = 20
    ends: Counter[End] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)

    def add(self, end: End, input_words: str = "") -> None:
        """Count one input; ``input_words`` say how to make it again and are kept when it ended in a fault."""
        self.ends[end] += 1
        if end in FAULTS and len(self.faults) < self.shown:
            self.faults.append(f"{self.name}, {end.value}: {input_words}")

    @property
    def tried(self) -> int:
        return sum(self.ends.values())

    @property
    def sound(self) -> bool:
        """Whether something was tried and nothing ended in a fault."""
        return self.tried > 0 and not any(self.ends[end] for end in FAULTS)


def table(tallies: Iterable[Tally]) -> str:
    """One line a tally: tried, and every end."""
    heads = ["", "tried", *(end.value for end in End)]
    rows = [[t.name, str(t.tried), *(str(t.ends[end]) for end in End)] for t in tallies]
    widths = [max(len(row[i]) for row in [heads, *rows]) for i in range(len(heads))]
    return "\n".join("  ".join(_aligned(row, widths)) for row in [heads, *rows])


def _aligned(row: list[str], widths: list[int]) -> list[str]:
    name, *counts = row
    return [name.ljust(widths[0]), *(count.rjust(width) for count, width in zip(counts, widths[1:], strict=True))]
