"""What ``hangflat fit --sweep`` can change, and how far by default."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from scenarios.units import UnitError, parse
from sim.answers.fit.limits import BANDS_AT_ENDS
from sim.said import note, word
from sim.telling.record import Kept, Told

STEPS: Final = (2, 101)  # fewest and most values of a sweep


@dataclass(frozen=True)
class SweepKind:
    """One length that can be swept.

    key : of the scenario file;  low, high, step : default values [m]
    """

    name: Annotated[str, Told("what is swept", key="along")]
    key: Kept[str]
    words: Annotated[str, Told("the same as the words of an axis", key="along_words")]
    low: Kept[float]
    high: Kept[float]
    step: Kept[float]


KINDS: Final = (
    SweepKind(word("drop"), "harness.drop", word("how far the rig hangs below the natural waist"), -0.04, 0.14, 0.01),
    SweepKind(word("plate length"), "plate.length", word("length of the plate"), 0.34, 0.46, 0.01),
    SweepKind(word("plate width"), "plate.width", word("greatest width of the plate"), 0.24, 0.32, 0.01),
    SweepKind(
        word("channel depth"), "plate.channel_depth", word("depth of the plate's channel"), 0.035, 0.075, 0.005,
    ),
    SweepKind(
        word("cylinder shift"), "cylinders.shift",
        note("how far the cylinders are from their usual place, plus up; bands reach {low:g} to {high:g} cm",
             low=100.0 * BANDS_AT_ENDS[0], high=100.0 * BANDS_AT_ENDS[1]), *BANDS_AT_ENDS, 0.0075,
    ),
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class Asked:
    """A sweep as asked for: what changes, and its values (n,) [m], rising."""

    kind: Annotated[SweepKind, Told("the length that is swept", beside=True)]
    values: Kept[Floats]


def asked(text: str) -> Asked:
    """Read "drop" or "drop; from=-2 cm; to=10 cm; steps=13". Raises ValueError saying what is allowed."""
    name, *rest = (part.strip() for part in text.split(";"))
    kind = next((k for k in KINDS if k.name == name.lower()), None)
    if kind is None:
        near = difflib.get_close_matches(name.lower(), [k.name for k in KINDS], 1, 0.5)
        hint = f' Did you mean "{near[0]}"?' if near else ""
        known = ", ".join(f'"{k.name}"' for k in KINDS)
        raise ValueError(f'--sweep does not know "{name}".{hint} It changes one of {known}.')
    low, high, steps = kind.low, kind.high, None
    for setting in filter(None, rest):
        key, equals, value = (part.strip() for part in setting.partition("="))
        if key == "from" and equals:
            low = _length(value)
        elif key == "to" and equals:
            high = _length(value)
        elif key == "steps" and equals:
            steps = _count(value)
        else:
            raise ValueError(f'--sweep: "{setting}" is not understood; write "drop; from=2 cm; to=10 cm; steps=9".')
    if not high > low:
        raise ValueError(f"--sweep: from must lie below to, got {100 * low:g} cm to {100 * high:g} cm.")
    count = round((high - low) / kind.step) + 1 if steps is None else steps
    return Asked(kind, np.round(np.linspace(low, high, min(max(count, STEPS[0]), STEPS[1])), 9))


def _length(text: str) -> float:
    try:
        return parse("length", text, "4 cm")
    except UnitError as wrong:
        raise ValueError(f"--sweep: {wrong}") from None


def _count(text: str) -> int:
    if not (text.isdecimal() and STEPS[0] <= int(text[:9]) <= STEPS[1]):
        raise ValueError(f'--sweep: steps is a whole number from {STEPS[0]} to {STEPS[1]}, got "{text}".')
    return int(text)
