"""The object of ``settle --uncertain`` as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sim.telling.words import bullets, pitch_words, rows, wrapped

Object = Mapping[str, Any]
NEARLY_NONE: Final = 0.005  # share of the draws or of a band, below the shown digits


def uncertain_lines(uncertain: Object | None) -> list[str]:
    """Lines of an ``uncertain`` object; none where it was not asked for."""
    if uncertain is None:
        return []
    heading = f"How sure this is: 5 to 95 % bands of {uncertain['samples']} draws"
    lines = [*rows(heading, _band_rows(uncertain)), *rows("What matters most for the moment", _named(uncertain))]
    if uncertain["matter_most"]:
        lines += wrapped(
            "Percent of the moment's variance, and what its band would lose on average if this alone were known.",
            "  ",
        )
    return [*lines, *bullets("On these bands", uncertain["notes"])]


def _band_rows(uncertain: Object) -> Iterator[tuple[str, str]]:
    moment, stiffness, gas = (uncertain[k] for k in ("pitch_moment_nm", "pitch_stiffness_nm_per_rad", "wing_gas_l"))
    yield "moment when flat", f"{_moment(moment['p5'])} to {_moment(moment['p95'])}"
    yield "turned to, roll held", _turned(uncertain)
    yield "pitch stiffness", f"{stiffness['p5']:+.1f} to {stiffness['p95']:+.1f} N m/rad"
    yield "gas in the wing", f"{gas['p5']:.1f} to {gas['p95']:.1f} l"


def _moment(moment: float) -> str:
    return f"{abs(moment):.1f} N m head-{'up' if moment > 0.0 else 'down'}"


def _turned(uncertain: Object) -> str:
    """Where the turning from flat ends, and in how many draws it does not end before the vertical."""
    pitch = uncertain["turned_to_pitch_deg"]
    down, up = uncertain["share_over_head_down"], uncertain["share_over_head_up"]
    over = [
        f"head-{w} past the vertical in {100.0 * s:.0f} %" for w, s in (("down", down), ("up", up)) if s > NEARLY_NONE
    ]
    if down + up > 1.0 - NEARLY_NONE:
        return f"{' and '.join(over)} of draws"
    mostly = "up" if up > down else "down"
    ends = [f"past the vertical head-{mostly}" if p is None else pitch_words(p) for p in (pitch["p5"], pitch["p95"])]
    if pitch["p5"] is None and pitch["p95"] is None:
        ends = ["past the vertical head-down", "past the vertical head-up"]
    return f"{ends[0]} to {ends[1]}" + (f"; {' and '.join(over)} of draws" if over else "")


def _named(uncertain: Object) -> Iterator[tuple[str, str]]:
    for unknown in uncertain["matter_most"]:
        yield unknown["name"], f"{_share(unknown)}. {unknown['spread'][:1].upper()}{unknown['spread'][1:]}"
    together = uncertain["body_measures_together"]
    if together is not None and together["share_of_variance"] > NEARLY_NONE:
        yield together["name"], _share(together)


def _share(unknown: Object) -> str:
    return (
        f"{100.0 * unknown['share_of_variance']:.0f} %; if known, the band would be "
        f"{100.0 * unknown['band_saved_if_known']:.0f} % narrower"
    )
