"""Whom plates suit, in words."""

from __future__ import annotations

from collections.abc import Iterator

from sim.answers.plate.suits.told import CheckTold, GroupTold, PeopleTold, PlateSuits, ShareTold, off_in_words
from sim.telling.language import say, say_count, set_apart, told
from sim.telling.words import bullets, rows, wrapped

RARE = 0.005  # of the people: reasons rarer than that are left to the JSON
MOST_LISTED = 40  # people that the text names one by one


def suits_text(people: PeopleTold) -> str:
    """The whole answer for people."""
    lines: list[str] = []
    for plate in people.plates:
        lines += rows(told(plate.plate), _plate_rows(plate))
    if people.persons:
        names = [told(plate.plate) for plate in people.plates]
        listed = (_person_row(one.name, one.ends, names) for one in people.persons[:MOST_LISTED])
        lines += rows(say("Each"), listed)
        if len(people.persons) > MOST_LISTED:
            more = say("... and {number} more: --table FILE.csv lists all", number=len(people.persons) - MOST_LISTED)
            lines += wrapped(more, "  ")
    return "\n".join([*lines, *bullets(say("How"), _notes(people))])


def _notes(people: PeopleTold) -> Iterator[str]:
    yield say("People: {source}.", source=told(people.source))
    yield say("They wear {wears}.", wears=told(people.wears))
    yield say("Rule: {rule}.", rule=told(people.rule))
    yield told(people.how)
    if people.left_out:
        yield say_count(
            "{n} body could not be built and is left out.",
            "{n} bodies could not be built and are left out.",
            people.left_out,
        )


def _person_row(name: str, ends: tuple[str, ...], plates: list[str]) -> tuple[str, str]:
    return name, set_apart(f"{plate}: {told(end)}" for plate, end in zip(plates, ends, strict=True))


def _plate_rows(plate: PlateSuits) -> Iterator[tuple[str, str]]:
    for who, group in ((say("women"), plate.female), (say("men"), plate.male)):
        if group.people:
            yield who, _group(group)
    if plate.checked is not None:
        yield say("guess"), _guess(plate.checked)


def _guess(check: CheckTold) -> str:
    return say(
        "tells {passing:.1f} % rightly whether the plate passes as banded, and {ends:.1f} % how it ends; its margins "
        "are off by {off} (RMS).",
        passing=100.0 * check.passing_right,
        ends=100.0 * check.ends_right,
        off=off_in_words(check),
    )


def _group(group: GroupTold) -> str:
    suits, more = _share(group.suits), _share(group.suits_with_bands)
    failing = sorted(((s.share or 0.0, s, reason) for reason, s in group.fails.items()), key=lambda f: -f[0])
    listed = ", ".join(f"{told(reason)} {_share(share)}" for size, share, reason in failing if size >= RARE)
    if not listed:
        return say(
            "suits {suits} of {people} as banded, {more} more with the bands set for each.",
            suits=suits,
            people=group.people,
            more=more,
        )
    return say(
        "suits {suits} of {people} as banded, {more} more with the bands set for each; what stops the others: "
        "{reasons}.",
        suits=suits,
        people=group.people,
        more=more,
        reasons=listed,
    )


def _share(of: ShareTold) -> str:
    low, high = (100.0 * s for s in of.band)
    return say("{share:.1f} % ({low:.1f} to {high:.1f})", share=100.0 * (of.share or 0.0), low=low, high=high)
