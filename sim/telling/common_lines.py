"""Lines that several answers share: whose diver, the moment in a sentence, what every answer ends with."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sim.telling.lead_words import NO_MOMENT, kilograms_at_half_a_metre
from sim.telling.words import bullets, wrapped


def moment_lines(moment: float) -> list[str]:
    """The trimming moment [N m], plus turns head-up, as a sentence over two lines."""
    if abs(moment) < NO_MOMENT:
        return [f"When you hold flat and stop moving you are in balance: the moment is {abs(moment):.2f} N m."]
    way, end = ("head-up", "feet") if moment > 0 else ("head-down", "head")
    return [
        f"When you hold flat and stop moving you are turned {way} with {abs(moment):.1f} N m:",
        f"like {kilograms_at_half_a_metre(moment):.2f} kg moved half a metre toward the {end}.",
    ]


def diver_lines(title: str) -> list[str]:
    """The scenario's own title, where it has one."""
    return ["", *wrapped(f"Diver: {title}", later="  ")] if title else []


def ending_lines(notes: Iterable[str], estimated: Sequence[str], caution: str) -> list[str]:
    """What every report ends with: notes, what was estimated, the caution."""
    lines = bullets("Notes", notes)
    if estimated:
        lines += ["", *wrapped("Estimated, not given: " + ", ".join(estimated) + ".", later="  ")]
    return [*lines, "", *wrapped("Caution: " + caution, later="  ")]
