"""What a calibration says, as plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.calibrate.answer import POOL_CARE, CalibrationTold, ToldReading
from sim.answers.calibrate.learnt import CARRIES
from sim.telling.lead_words import like_lead
from sim.telling.words import bullets, moment_words, rows, wrapped

NAMED: Final = 3
WORTH: Final = 0.02  # of the moment's variance: a measurement that takes less is not recommended


def calibration_text(told: CalibrationTold) -> str:
    """Plain text, at most 100 columns wide."""
    day = f", {told.measured_on}" if told.measured_on else ""
    lines = [*wrapped(_first(told)), ""]
    lines += wrapped(f"Scenario: {told.title} ({told.scenario})", "", "  ")
    lines += wrapped(f"Measured: {told.measurements}{day}", "", "  ")
    lines += _reading_table(told)
    if told.contradicted:
        lines += bullets("Contradicted: likeliest broken, taken one by one", _suspected(told))
    else:
        lines += rows("Moment when flat, 5 to 95 %", _band_rows(told))
        lines += rows("Learnt", _learnt(told))
        lines += bullets("Not from this", _not_from_this(told))
        lines += bullets("What would help most next", _next(told))
    lines += bullets("Notes", told.notes)
    return "\n".join([*lines, "", *wrapped(f"Caution: {told.caution}", "", "  ")])


def _first(told: CalibrationTold) -> str:
    if told.pitch_moment.after is None:
        return (
            "These measurements contradict the model: together they lie beyond what it can do in 99 of 100 cases. "
            "Nothing was fitted and no file was written."
        )
    before, after = told.pitch_moment.before, told.pitch_moment.after
    was, now = before.p95 - before.p5, after.p95 - after.p5
    return (
        f"Learnt: the moment of the diver held flat is now known to {now:.1f} N m, before to {was:.1f} N m "
        f"(5 to 95 %); its middle is {moment_words(after.p50)}{like_lead(after.p50)}, before "
        f"{moment_words(before.p50)}."
    )


def _reading_table(told: CalibrationTold) -> Iterator[str]:
    yield ""
    yield f"{'':<44}{'measured':>17}{'expected before':>20}{'model now':>14}"
    yield "-" * 95
    for r in told.readings:
        unit = r.unit
        measured = f"{r.measured:+.1f} +- {r.spread:.1f} {unit}"
        expected = f"{r.expected:+.1f} +- {r.expected_sd:.1f} {unit}"
        now = "-" if r.now is None else f"{r.now:+.1f} {unit}"
        yield f"{_reading_name(r):<44}{measured:>17}{expected:>20}{now:>14}"


def _reading_name(reading: ToldReading) -> str:
    if reading.name.startswith("freeze"):
        time = "" if reading.time is None else f", {reading.time:.1f} s"
        return f"{reading.name} ({reading.drift}{time})"
    return str(reading.name)


def _suspected(told: CalibrationTold) -> Iterator[str]:
    for s in told.suspects[:NAMED]:
        yield f"{s.name}: it would have to be off by {s.amount} ({100.0 * s.weight:.0f} % of the weight)"
    yield "Check the file against what was worn, weigh what is worn, and measure again before you believe either."


def _band_rows(told: CalibrationTold) -> Iterator[tuple[str, str]]:
    for name, band in (("before", told.pitch_moment.before), ("after", told.pitch_moment.after)):
        if band is not None:
            yield name, f"{moment_words(band.p5)} to {moment_words(band.p95)}, middle {moment_words(band.p50)}"


def _learnt(told: CalibrationTold) -> Iterator[tuple[str, str]]:
    learnt = [u for u in told.unknowns if u.learnt]
    for u in learnt:
        yield u.name, f"{u.now}; before {u.before}"
    if not learnt:
        yield "nothing", "no unknown moved by half its spread, or is known much better than before"


def _not_from_this(told: CalibrationTold) -> Iterator[str]:
    for pair in told.together[:NAMED]:
        way = "as much of one as less of the other" if pair.correlation < 0.0 else "as much of one as of the other"
        yield f"{' and '.join(pair.unknowns)} are told only together: {way}"
    left = [u for u in told.unknowns if not u.learnt and u.share >= CARRIES]
    for u in sorted(left, key=lambda u: -u.share)[:NAMED]:
        share = 100.0 * u.share
        yield f"{u.name}: not told by these; carries {share:.0f} % of what is left open"


def _next(told: CalibrationTold) -> Iterator[str]:
    worth = [n for n in told.next if n.share >= WORTH]
    for i, n in enumerate(worth[:2]):
        share = f"{100.0 * n.share:.0f} % of the moment's variance that is left"
        yield f"{n.name}: expected to take {share}" + ("" if i else f". {POOL_CARE}")
    if not worth:
        yield "none of the usual measurements: what is left open lies within what they can tell"
