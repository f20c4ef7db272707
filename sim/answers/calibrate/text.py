"""What a calibration says, as plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.calibrate.answer import POOL_CARE, CalibrationTold, ToldReading
from sim.answers.calibrate.learnt import CARRIES
from sim.telling.caution import told_caution
from sim.telling.language import number, quantity, say, told
from sim.telling.lead_words import like_lead
from sim.telling.words import bullets, moment_words, rows, wrapped

NAMED: Final = 3
WORTH: Final = 0.02  # of the moment's variance: a measurement that takes less is not recommended


def calibration_text(answer: CalibrationTold) -> str:
    """Plain text, at most 100 columns wide."""
    day = f", {answer.measured_on}" if answer.measured_on else ""
    lines = [*wrapped(_first(answer)), ""]
    lines += wrapped(say("Scenario: {title} ({file})", title=answer.title, file=answer.scenario), "", "  ")
    lines += wrapped(say("Measured: {file}{day}", file=answer.measurements, day=day), "", "  ")
    lines += _reading_table(answer)
    if answer.contradicted:
        lines += bullets(say("Contradicted: likeliest broken, taken one by one"), _suspected(answer))
    else:
        lines += rows(say("Moment when flat, 5 to 95 %"), _band_rows(answer))
        lines += rows(say("Learnt"), _learnt(answer))
        lines += bullets(say("Not from this"), _not_from_this(answer))
        lines += bullets(say("What would help most next"), _next(answer))
    lines += bullets(say("Notes"), map(told, answer.notes))
    return "\n".join(
        [*lines, "", *wrapped(say("Caution: {caution}", caution=told_caution(answer.caution)), "", "  ")]
    )


def _first(answer: CalibrationTold) -> str:
    if answer.pitch_moment.after is None:
        return say(
            "These measurements contradict the model: together they lie beyond what it can do in 99 of 100 cases. "
            "Nothing was fitted and no file was written."
        )
    before, after = answer.pitch_moment.before, answer.pitch_moment.after
    was, now = before.p95 - before.p5, after.p95 - after.p5
    return say(
        "Learnt: the moment of the diver held flat is now known to {now}, before to {was} "
        "(5 to 95 %); its middle is {middle}{like}, before {before}.",
        now=quantity(now, "N m", 1),
        was=quantity(was, "N m", 1),
        middle=moment_words(after.p50),
        like=like_lead(after.p50),
        before=moment_words(before.p50),
    )


def _reading_table(answer: CalibrationTold) -> Iterator[str]:
    yield ""
    head, wide = (say("measured"), say("expected before"), say("model now")), (17, 20, 14)
    one, two, three = (max(w, len(name) + 2) for name, w in zip(head, wide, strict=True))
    yield f"{'':<44}{head[0]:>{one}}{head[1]:>{two}}{head[2]:>{three}}"
    yield "-" * (44 + one + two + three)
    for r in answer.readings:
        unit = r.unit
        measured = f"{quantity(r.measured, unit, 1, sign=True, bare=True)} +- {quantity(r.spread, unit, 1)}"
        expected = f"{quantity(r.expected, unit, 1, sign=True, bare=True)} +- {quantity(r.expected_sd, unit, 1)}"
        now = "-" if r.now is None else quantity(r.now, unit, 1, sign=True)
        yield f"{_reading_name(r):<44}{measured:>{one}}{expected:>{two}}{now:>{three}}"


def _reading_name(reading: ToldReading) -> str:
    if reading.name.startswith("freeze"):
        time = "" if reading.time is None else f", {number(reading.time, 1)} s"
        return f"{told(reading.name)} ({told(str(reading.drift))}{time})"
    return told(reading.name)


def _suspected(answer: CalibrationTold) -> Iterator[str]:
    for s in answer.suspects[:NAMED]:
        yield say(
            "{name}: it would have to be off by {amount} ({weight:.0f} % of the weight)",
            name=told(s.name),
            amount=told(s.amount),
            weight=100.0 * s.weight,
        )
    yield say(
        "Check the file against what was worn, weigh what is worn, and measure again before you believe either."
    )


def _band_rows(answer: CalibrationTold) -> Iterator[tuple[str, str]]:
    for name, band in ((say("before"), answer.pitch_moment.before), (say("after"), answer.pitch_moment.after)):
        if band is not None:
            yield (
                name,
                say(
                    "{least} to {greatest}, middle {middle}",
                    least=moment_words(band.p5),
                    greatest=moment_words(band.p95),
                    middle=moment_words(band.p50),
                ),
            )


def _learnt(answer: CalibrationTold) -> Iterator[tuple[str, str]]:
    learnt = [u for u in answer.unknowns if u.learnt]
    for u in learnt:
        yield told(u.name), say("{now}; before {before}", now=told(u.now), before=told(u.before))
    if not learnt:
        yield say("nothing"), say("no unknown moved by half its spread, or is known much better than before")


def _not_from_this(answer: CalibrationTold) -> Iterator[str]:
    for pair in answer.together[:NAMED]:
        one, other = map(told, pair.unknowns)
        if pair.correlation < 0.0:
            yield say(
                "{one} and {other} are told only together: as much of one as less of the other", one=one, other=other
            )
        else:
            yield say(
                "{one} and {other} are told only together: as much of one as of the other", one=one, other=other
            )
    left = [u for u in answer.unknowns if not u.learnt and u.share >= CARRIES]
    for u in sorted(left, key=lambda u: -u.share)[:NAMED]:
        yield say(
            "{name}: not told by these; carries {share:.0f} % of what is left open",
            name=told(u.name),
            share=100.0 * u.share,
        )


def _next(answer: CalibrationTold) -> Iterator[str]:
    worth = [n for n in answer.next if n.share >= WORTH]
    for i, n in enumerate(worth[:2]):
        worth_it = say(
            "{name}: expected to take {share:.0f} % of the moment's variance that is left",
            name=told(n.name),
            share=100.0 * n.share,
        )
        yield worth_it + ("" if i else f". {told(POOL_CARE)}")
    if not worth:
        yield say("none of the usual measurements: what is left open lies within what they can tell")
