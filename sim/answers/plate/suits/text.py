"""Whom plates suit, in words."""

from __future__ import annotations

from collections.abc import Iterator

from sim.answers.plate.suits.told import GroupTold, PeopleTold, PlateSuits, ShareTold, off_in_words
from sim.telling.words import bullets, rows, wrapped

RARE = 0.005  # of the people: reasons rarer than that are left to the JSON


def suits_text(told: PeopleTold) -> str:
    """The whole answer for people."""
    lines: list[str] = []
    for plate in told.plates:
        lines += rows(plate.plate, _plate_rows(plate))
    if told.persons:
        names = [plate.plate for plate in told.plates]
        listed = (_person_row(one.name, one.ends, names) for one in told.persons[:MOST_LISTED])
        lines += rows("Each", listed)
        if len(told.persons) > MOST_LISTED:
            lines += wrapped(f"... and {len(told.persons) - MOST_LISTED} more: --table FILE.csv lists all", "  ")
    notes = [f"People: {told.source}.", f"They wear {told.wears}.", f"Rule: {told.rule}.", told.how]
    if told.left_out:
        notes.append(f"{told.left_out} bodies could not be built and are left out.")
    return "\n".join([*lines, *bullets("How", notes)])


MOST_LISTED = 40  # people that the text names one by one


def _person_row(name: str, ends: tuple[str, ...], plates: list[str]) -> tuple[str, str]:
    return name, "; ".join(f"{plate}: {end}" for plate, end in zip(plates, ends, strict=True))


def _plate_rows(plate: PlateSuits) -> Iterator[tuple[str, str]]:
    for word, group in (("women", plate.female), ("men", plate.male)):
        if group.people:
            yield word, _group(group)
    if plate.checked is not None:
        check = plate.checked
        yield (
            "guess",
            f"tells {100.0 * check.passing_right:.1f} % rightly whether the plate passes as banded, and "
            f"{100.0 * check.ends_right:.1f} % how it ends; its margins are off by {off_in_words(check)} (RMS).",
        )


def _group(group: GroupTold) -> str:
    words = (
        f"suits {_share(group.suits)} of {group.people} as banded, {_share(group.suits_with_bands)} more with the "
    )
    words += "bands set for each"
    failing = sorted(((s.share or 0.0, s, reason) for reason, s in group.fails.items()), key=lambda f: -f[0])
    listed = [f"{reason} {_share(share)}" for size, share, reason in failing if size >= RARE]
    return f"{words}; what stops the others: {', '.join(listed)}." if listed else f"{words}."


def _share(told: ShareTold) -> str:
    low, high = (100.0 * s for s in told.band)
    return f"{100.0 * (told.share or 0.0):.1f} % ({low:.1f} to {high:.1f})"
