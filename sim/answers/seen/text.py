"""What was seen, told as an instructor would: what it most likely is, what else fits, and the test that decides."""

from __future__ import annotations

from collections.abc import Iterator

from sim.answers.seen.answer import CauseTold, NextTest, SeenAnswer
from sim.answers.seen.typed import CHECKS, Outcome, Sight, attitude_words
from sim.answers.seen.words import balance_words
from sim.said import word
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.language import comma, quantity, reader, say, set_apart, told
from sim.telling.words import GLUE, moment_words, rows, wrapped

RARE = 0.005  # probability below which a cause is told with the others that hardly fit


DOING = {"still": word("still"), "finning": word("finning")}
FINS = {"up": word("fins up"), "even": word("fins even"), "down": word("fins down")}


def seen_text(answer: SeenAnswer) -> str:
    """First what it most likely is, or that it cannot be told yet; the test next; the caution last."""
    lines = [
        *wrapped(headline(answer)),
        *([] if answer.far is None else wrapped(told(answer.far))),
        *diver_lines(answer.title),
        *rows(say("What was seen"), _seen(answer)),
        *rows(say("What fits, likeliest first"), _causes(answer)),
        *_test_lines(answer.test, answer.apart),
        *ending_lines(answer.notes, answer.estimated, answer.caution),
    ]
    return "\n".join(lines)


def in_100(probability: float) -> str:
    """As "62 in 100"."""
    shown = 100.0 * probability
    if shown < 1.0:
        return say("under 1 in 100")
    return say("over 99 in 100") if shown > 99.0 else say("{n:.0f} in 100", n=shown)


def headline(answer: SeenAnswer) -> str:
    """What it most likely is, or that it cannot be told yet, in one sentence."""
    first, second = answer.causes[:2]
    if not answer.fits:
        return say(
            "None of the causes known here fits what was seen, with this file: look again, and at what the file "
            "says. What follows means little."
        )
    if answer.flat:
        return say("That is flat: there is nothing to explain. What would fit it all the same is told below.")
    if answer.apart:
        return say("Most likely: {cause} ({n}).", cause=told(first.finding), n=in_100(first.probability))
    if answer.explained:
        balance = next(c for c in answer.causes if c.name == "balance")
        return say(
            "What the file tells explains it by itself: {balance}, {moment} when flat. Other causes fit as well and "
            "are not ruled out.",
            balance=told(balance_words(balance.moment)),
            moment=moment_words(balance.moment),
        )
    both = {
        "first": told(first.finding),
        "n_first": in_100(first.probability),
        "second": told(second.finding),
        "n_second": in_100(second.probability),
    }
    if len(answer.sights) + len(answer.outcomes) > 1:
        return say(
            "This does not tell the causes apart: {first} ({n_first}) and {second} ({n_second}) fit it alike.", **both
        )
    return say(
        "This one sight does not tell the causes apart: {first} ({n_first}) and {second} ({n_second}) fit it alike.",
        **both,
    )


def _seen(answer: SeenAnswer) -> Iterator[tuple[str, str]]:
    for sight in answer.sights:
        yield told(DOING[sight.doing]), _sight(sight)
    for outcome in answer.outcomes:
        yield told(outcome.test), _outcome(outcome)


def _sight(sight: Sight) -> str:
    words = [attitude_words(sight.attitude)]
    words += [] if sight.fins is None else [told(FINS[sight.fins])]
    words += (
        []
        if sight.pressure is None
        else [say("{pressure} in the cylinders", pressure=quantity(sight.pressure / 1e5, "bar", 0))]
    )
    words += [] if sight.depth is None else [say("at {depth}", depth=depth_words(sight.depth))]
    words += [] if sight.gaiters is None else [say("with gaiters") if sight.gaiters else say("without gaiters")]
    return ", ".join(words)


def depth_words(depth: float) -> str:
    """A depth [m] as it was typed."""
    return quantity(depth, "m", 1) if reader().units != "metric" else comma(f"{depth:g} m")


def _outcome(outcome: Outcome) -> str:
    if outcome.as_told is not None:
        return told(CHECKS[outcome.test][0 if outcome.as_told else 1])
    if outcome.attitude is not None:
        return attitude_words(outcome.attitude)
    if outcome.way == "stays":
        return say("stays as they are")
    up = outcome.way == "head-up"
    if outcome.time is None:
        return say("drifts head-up") if up else say("drifts head-down")
    if up:
        return say("drifts head-up, by 30 degrees in {time:g} s", time=outcome.time)
    return say("drifts head-down, by 30 degrees in {time:g} s", time=outcome.time)


def _causes(answer: SeenAnswer) -> Iterator[tuple[str, str]]:
    for cause in answer.causes:
        if cause.probability >= RARE:
            yield f"{in_100(cause.probability):>14}", _cause(cause)
    rare = [told(cause.finding) for cause in answer.causes if cause.probability < RARE]
    if rare:
        yield f"{say('hardly'):>14}", set_apart(rare)


def _cause(cause: CauseTold) -> str:
    finding, why = told(cause.finding), _sentence(told(cause.why))
    return say(
        "{finding}. {why} Held flat: {moment}. To mend it: {mend}.",
        finding=finding,
        why=why,
        moment=moment_words(cause.moment),
        mend=told(cause.mend),
    )


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('?') else '.'}"


def _test_lines(test: NextTest | None, apart: bool) -> list[str]:
    if test is None:
        return ["", *wrapped(say("None of the tests known here would tell more."))]
    two = len(test.if_it_is) == 2
    head = say("The test that would make sure") if apart else say("The test that tells them apart")
    lines = rows(
        head if two else say("No test tells the first two apart; of the others tells most"),
        [(told(test.name), _sentence(told(test.how)))],
    )
    lines += ["", *wrapped(say("If it is"), later="  ")]
    for each in test.if_it_is:
        lines += wrapped(
            f"{told(each.cause)}: {told(each.words)}".replace(" in 100", f"{GLUE}in{GLUE}100"), "  - ", "    "
        )
    return [*lines, *wrapped(say('Then go on with --test "{typed}", as it came out.', typed=test.typed_like))]
