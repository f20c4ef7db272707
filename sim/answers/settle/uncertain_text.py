"""How sure the answers are, as plain text."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sim.answers.settle.uncertain import Uncertain, Unknown
from sim.telling.words import bullets, pitch_words, rows, wrapped

NEARLY_NONE: Final = 0.005  # share of the draws or of a band, below the shown digits


def uncertain_lines(uncertain: Uncertain | None) -> list[str]:
    """Lines of it; none where it was not asked for."""
    if uncertain is None:
        return []
    heading = f"How sure this is: 5 to 95 % bands of {uncertain.samples} draws"
    lines = [*rows(heading, _band_rows(uncertain)), *rows("What matters most for the moment", _named(uncertain))]
    if uncertain.matter_most:
        lines += wrapped(
            "Percent of the moment's variance, and what its band would lose on average if this alone were known.",
            "  ",
        )
    return [*lines, *bullets("On these bands", uncertain.notes)]


def _band_rows(uncertain: Uncertain) -> Iterator[tuple[str, str]]:
    moment, stiffness, gas = uncertain.pitch_moment, uncertain.pitch_stiffness, uncertain.wing_gas
    yield "moment when flat", f"{_moment(moment.p5)} to {_moment(moment.p95)}"
    yield "turned to, roll held", _turned(uncertain)
    yield "pitch stiffness", f"{stiffness.p5:+.1f} to {stiffness.p95:+.1f} N m/rad"
    yield "gas in the wing", f"{1e3 * gas.p5:.1f} to {1e3 * gas.p95:.1f} l"


def _moment(moment: float) -> str:
    return f"{abs(moment):.1f} N m head-{'up' if moment > 0.0 else 'down'}"


def _turned(uncertain: Uncertain) -> str:
    """Where the turning from flat ends, and in how many draws it does not end before the vertical."""
    low, high = (math.degrees(p) for p in (uncertain.turned_to_pitch.p5, uncertain.turned_to_pitch.p95))
    down, up = uncertain.share_over_head_down, uncertain.share_over_head_up
    over = [
        f"head-{w} past the vertical in {100.0 * s:.0f} %" for w, s in (("down", down), ("up", up)) if s > NEARLY_NONE
    ]
    if down + up > 1.0 - NEARLY_NONE:
        return f"{' and '.join(over)} of draws"
    mostly = "up" if up > down else "down"
    ends = [pitch_words(p) if math.isfinite(p) else f"past the vertical head-{mostly}" for p in (low, high)]
    if math.isinf(low) and math.isinf(high):
        ends = ["past the vertical head-down", "past the vertical head-up"]
    return f"{ends[0]} to {ends[1]}" + (f"; {' and '.join(over)} of draws" if over else "")


def _named(uncertain: Uncertain) -> Iterator[tuple[str, str]]:
    for unknown in uncertain.matter_most:
        yield unknown.name, f"{_share(unknown)}. {unknown.spread[:1].upper()}{unknown.spread[1:]}"
    together = uncertain.body_measures_together
    if together is not None and together.share_of_variance > NEARLY_NONE:
        yield together.name, _share(together)


def _share(unknown: Unknown) -> str:
    return (
        f"{100.0 * unknown.share_of_variance:.0f} %; if known, the band would be "
        f"{100.0 * unknown.band_saved_if_known:.0f} % narrower"
    )
