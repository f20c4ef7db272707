"""What one check is: ours, theirs, and how far apart they may be."""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final, Literal

Kind = Literal["published", "computed elsewhere", "common practice", "memory"]
Theme = Literal[
    "Water", "Breathing gas", "Gear", "Moving water", "Statics", "Motion", "Afloat", "The body's shape",
    "The body at rest", "Lungs and floating", "The plate's bench", "Fitted to one diver", "What is seen",
    "The whole against practice",
]  # fmt: skip

TIE: Final = 1e-6  # of the allowed: cases this equally bad are told by the first, whatever the machine's last digit


@dataclass(frozen=True)
class Compared:
    """One number held against another, both in the unit of its check.

    low, high : what passes;  theirs : the source's own value, None where it gives only a range
    case : which entry of a table this is
    """

    ours: float
    low: float
    high: float
    theirs: float | None = None
    case: str = ""

    @property
    def passes(self) -> bool:
        """False for NaN too."""
        return self.low <= self.ours <= self.high

    @property
    def strain(self) -> float:
        """Distance from the middle of what is allowed over half its width: above 1 fails; infinite for NaN."""
        half = 0.5 * (self.high - self.low)
        distance = abs(self.ours - 0.5 * (self.low + self.high))
        return distance / half if distance >= 0.0 and half > 0.0 else float("inf")


@dataclass(frozen=True)
class Check:
    """One row of the evidence.

    name : what is compared;  source : who says so, with the year
    decimals : how many are shown, few enough to be the same on every machine
    compute : works the cases out with the package as it is; the worst of them is shown
    doubt : what the comparison does not show, e.g. that the model was fitted to this very number
    """

    theme: Theme
    name: str
    source: str
    kind: Kind
    unit: str
    decimals: int
    compute: Callable[[], Sequence[Compared]]
    doubt: str = ""


@dataclass(frozen=True)
class Row:
    """A check that was worked out: its worst case, how many cases there were and how many of them pass."""

    check: Check
    worst: Compared
    cases: int
    passing: int

    @property
    def passes(self) -> bool:
        return self.passing == self.cases


def worked_out(check: Check) -> Row:
    """Compute a check now. Raises ValueError for a check without cases."""
    cases = list(check.compute())
    if not cases:
        raise ValueError(f"the check '{check.name}' compares nothing")
    largest = max(c.strain for c in cases)
    worst = next(c for c in cases if c.strain >= largest * (1.0 - TIE))
    return Row(check, worst, len(cases), sum(c.passes for c in cases))


def near(ours: float, theirs: float, allowed: float, case: str = "") -> Compared:
    """Within ``allowed`` of the source's value."""
    return Compared(float(ours), theirs - allowed, theirs + allowed, theirs, case)


def within(ours: float, low: float, high: float, case: str = "", theirs: float | None = None) -> Compared:
    """Between two bounds."""
    return Compared(float(ours), low, high, theirs, case)


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """Rows of a table shipped beside this module, by its column heads, which name the units."""
    text = files("sim.answers.evidence").joinpath(f"data/{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
