"""How sure the answers are, as plain text."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sim.answers.settle.uncertain import Uncertain, Unknown
from sim.telling.language import quantity, say, set_apart, told
from sim.telling.words import bullets, pitch_words, rows, wrapped

NEARLY_NONE: Final = 0.005  # share of the draws or of a band, below the shown digits


def uncertain_lines(uncertain: Uncertain | None) -> list[str]:
    """Lines of it; none where it was not asked for."""
    if uncertain is None:
        return []
    heading = say("How sure this is: 5 to 95 % bands of {samples} draws", samples=uncertain.samples)
    lines = [*rows(heading, _band_rows(uncertain)), *rows(say("What matters most for the moment"), _named(uncertain))]
    if uncertain.matter_most:
        lines += wrapped(
            say(
                "Percent of the moment's variance, and what its band would lose on average if this alone were known."
            ),
            "  ",
        )
    return [*lines, *bullets(say("On these bands"), map(told, uncertain.notes))]


def _band_rows(uncertain: Uncertain) -> Iterator[tuple[str, str]]:
    moment, stiffness, gas = uncertain.pitch_moment, uncertain.pitch_stiffness, uncertain.wing_gas
    yield (
        say("moment when flat"),
        say("{least} to {most}", least=_moment(moment.p5), most=_moment(moment.p95)),
    )
    yield say("turned to, roll held"), _turned(uncertain)
    yield (
        say("pitch stiffness"),
        say(
            "{least} to {most}",
            least=quantity(stiffness.p5, "N m/rad", 1, sign=True, bare=True),
            most=quantity(stiffness.p95, "N m/rad", 1, sign=True),
        ),
    )
    yield (
        say("gas in the wing"),
        say(
            "{least} to {most}",
            least=quantity(1e3 * gas.p5, "l", 1, bare=True),
            most=quantity(1e3 * gas.p95, "l", 1),
        ),
    )


def _moment(moment: float) -> str:
    size = quantity(abs(moment), "N m", 1)
    return say("{size} head-up", size=size) if moment > 0.0 else say("{size} head-down", size=size)


def _turned(uncertain: Uncertain) -> str:
    """Where the turning from flat ends, and in how many draws it does not end before the vertical."""
    low, high = (math.degrees(p) for p in (uncertain.turned_to_pitch.p5, uncertain.turned_to_pitch.p95))
    down, up = uncertain.share_over_head_down, uncertain.share_over_head_up
    over = [
        *([say("head-down past the vertical in {s:.0f} %", s=100.0 * down)] if down > NEARLY_NONE else ()),
        *([say("head-up past the vertical in {s:.0f} %", s=100.0 * up)] if up > NEARLY_NONE else ()),
    ]
    shares = say("{shares} of draws", shares=say(" and ").join(over))
    if down + up > 1.0 - NEARLY_NONE:
        return shares
    past_down, past_up = say("past the vertical head-down"), say("past the vertical head-up")
    mostly = past_up if up > down else past_down
    ends = [pitch_words(p) if math.isfinite(p) else mostly for p in (low, high)]
    if math.isinf(low) and math.isinf(high):
        ends = [past_down, past_up]
    said = say("{least} to {most}", least=ends[0], most=ends[1])
    return set_apart((said, shares)) if over else said


def _named(uncertain: Uncertain) -> Iterator[tuple[str, str]]:
    for unknown in uncertain.matter_most:
        spread = told(unknown.spread)
        yield told(unknown.name), f"{_share(unknown)}. {spread[:1].upper()}{spread[1:]}"
    together = uncertain.body_measures_together
    if together is not None and together.share_of_variance > NEARLY_NONE:
        yield told(together.name), _share(together)


def _share(unknown: Unknown) -> str:
    return say(
        "{share_of_variance:.0f} %; if known, the band would be {band_saved_if_known:.0f} % narrower",
        share_of_variance=100.0 * unknown.share_of_variance,
        band_saved_if_known=100.0 * unknown.band_saved_if_known,
    )
