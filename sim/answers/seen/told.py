"""What was seen, told as an instructor would: what it most likely is, what else fits, and the test that decides."""

from __future__ import annotations

from collections.abc import Iterator

from sim.answers.seen.answer import CauseTold, NextTest, SeenAnswer
from sim.answers.seen.typed import CHECKS, Outcome, Sight, attitude_words
from sim.answers.seen.words import balance_words
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.words import GLUE, moment_words, rows, wrapped

RARE = 0.005  # probability below which a cause is told with the others that hardly fit


def seen_text(told: SeenAnswer) -> str:
    """First what it most likely is, or that it cannot be told yet; the test next; the caution last."""
    lines = [
        *wrapped(headline(told)),
        *diver_lines(told.title),
        *rows("What was seen", _seen(told)),
        *rows("What fits, likeliest first", _causes(told)),
        *_test_lines(told.test, told.apart),
        *ending_lines(told.notes, told.estimated, told.caution),
    ]
    return "\n".join(lines)


def in_100(probability: float) -> str:
    """As "62 in 100"."""
    shown = 100.0 * probability
    return "under 1 in 100" if shown < 1.0 else "over 99 in 100" if shown > 99.0 else f"{shown:.0f} in 100"


def headline(told: SeenAnswer) -> str:
    """What it most likely is, or that it cannot be told yet, in one sentence."""
    first, second = told.causes[:2]
    if not told.fits:
        return (
            "None of the causes known here fits what was seen, with this file: look again, and at what the file "
            "says. What follows means little."
        )
    if told.flat:
        return "That is flat: there is nothing to explain. What would fit it all the same is told below."
    if told.apart:
        return f"Most likely: {first.finding} ({in_100(first.probability)})."
    if told.explained:
        balance = next(c for c in told.causes if c.name == "balance")
        return (
            f"What the file tells explains it by itself: {balance_words(balance.moment)}, "
            f"{moment_words(balance.moment)} when flat. Other causes fit as well and are not ruled out."
        )
    sights = "This does" if len(told.sights) + len(told.outcomes) > 1 else "This one sight does"
    return (
        f"{sights} not tell the causes apart: {first.finding} ({in_100(first.probability)}) and {second.finding} "
        f"({in_100(second.probability)}) fit it alike."
    )


def _seen(told: SeenAnswer) -> Iterator[tuple[str, str]]:
    for sight in told.sights:
        yield sight.doing, _sight(sight)
    for outcome in told.outcomes:
        yield outcome.test, _outcome(outcome)


def _sight(sight: Sight) -> str:
    words = [attitude_words(sight.attitude)]
    words += [] if sight.fins is None else [f"fins {sight.fins}"]
    words += [] if sight.pressure is None else [f"{sight.pressure / 1e5:.0f} bar in the cylinders"]
    words += [] if sight.depth is None else [f"at {sight.depth:g} m"]
    words += [] if sight.gaiters is None else [f"{'with' if sight.gaiters else 'without'} gaiters"]
    return ", ".join(words)


def _outcome(outcome: Outcome) -> str:
    if outcome.as_told is not None:
        return CHECKS[outcome.test][0 if outcome.as_told else 1]
    if outcome.attitude is not None:
        return attitude_words(outcome.attitude)
    if outcome.way == "stays":
        return "stays as they are"
    inside = "" if outcome.time is None else f", by 30 degrees in {outcome.time:g} s"
    return f"drifts {outcome.way}{inside}"


def _causes(told: SeenAnswer) -> Iterator[tuple[str, str]]:
    for cause in told.causes:
        if cause.probability >= RARE:
            yield f"{in_100(cause.probability):>14}", _cause(cause)
    rare = [cause.finding for cause in told.causes if cause.probability < RARE]
    if rare:
        yield f"{'hardly':>14}", "; ".join(rare)


def _cause(cause: CauseTold) -> str:
    return (
        f"{cause.finding}. {_sentence(cause.why)} Held flat: {moment_words(cause.moment)}. To mend it: {cause.mend}."
    )


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('?') else '.'}"


def _test_lines(test: NextTest | None, apart: bool) -> list[str]:
    if test is None:
        return ["", *wrapped("None of the tests known here would tell more.")]
    two = len(test.if_it_is) == 2
    head = "The test that would make sure" if apart else "The test that tells them apart"
    lines = rows(
        head if two else "No test tells the first two apart; of the others tells most",
        [(test.name, _sentence(test.how))],
    )
    lines += ["", *wrapped("If it is", later="  ")]
    for each in test.if_it_is:
        lines += wrapped(f"{each.cause}: {each.words}".replace(" in 100", f"{GLUE}in{GLUE}100"), "  - ", "    ")
    return [*lines, *wrapped(f'Then go on with --test "{test.typed_like}", as it came out.')]
