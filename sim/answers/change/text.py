"""What an instructor reads of what to change."""

from __future__ import annotations

import shlex
import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from sim.answers.change.answer import AdvisedSet, ChangeAnswer, HeldFlat, ToldChange
from sim.answers.change.candidate import AT_HAND
from sim.answers.change.together import SMALLEST, Outcome
from sim.telling.common_lines import diver_lines, ending_lines, moment_lines
from sim.telling.lead_words import like_lead
from sim.telling.words import bullets, light_or_heavy, moment_words, rows, wrapped

BAR: Final = 1e5
LITRE: Final = 1e-3
RIGHT: Final = 0.25  # kg: half of the lightest block of lead
NAMES: Final = 58  # letters that a change gets
GROUPS: Final = (
    ("With the gear at hand", AT_HAND),
    ("In another pose", ("pose",)),
    ("With other gear", ("gear",)),
)


def change_text(told: ChangeAnswer) -> str:
    """The moment now, what to change first, then every change by itself."""
    lines = [*moment_lines(told.pitch_moment), *diver_lines(told.title), *_advised(told)]
    shown = [c for c in told.changes if abs(c.difference) >= SMALLEST]
    for heading, kinds in GROUPS:
        lines += _table(heading, [c for c in shown if c.kind in kinds], told.now.full)
    note = "Moment: with that change alone, held flat; plus turns head-up. Nearest to balance first."
    if hidden := len(told.changes) - len(shown):
        note += f" Left out: {hidden} change{'s' if hidden > 1 else ''} that move it by less than {SMALLEST} N m."
    lines += ["", *wrapped(note)]
    lines += rows("Cannot be", ((left.what, left.why) for left in told.left_out))
    return "\n".join([*lines, *ending_lines(told.notes, told.estimated, told.caution)])


def _advised(told: ChangeAnswer) -> Iterator[str]:
    now = ("now", f"{outcome_words(told.now, told)}; {lead_words(told.surplus_lead)}")
    if abs(told.pitch_moment) <= told.within:
        meaning = f"less than {told.within:.0f} N m is held without anybody seeing an effort (assumed)"
        yield from rows("What to change", [now, ("nothing", meaning)])
        return
    if told.advice is None:
        none = f"no set of up to three changes at hand was found that comes nearer{_why_not(told)}"
        yield from rows("What to change", [now, ("nothing", none)])
    else:
        yield from rows("What to change", [now, *_set_rows(told.advice, told)])
        yield from _after(told.advice, told)
    if told.with_gear is not None:
        yield from rows("Or, with other gear", _set_rows(told.with_gear, told))
        yield from _after(told.with_gear, told)


def _why_not(told: ChangeAnswer) -> str:
    return "; some could not be tried, see below" if told.left_out else ""


def _set_rows(advice: AdvisedSet, told: ChangeAnswer) -> Iterator[tuple[str, str]]:
    for number, words in enumerate(advice.changes, start=1):
        yield f"{number}.", words
    if advice.reaches:
        meaning = "That is held without anybody seeing an effort (assumed)."
    else:
        meaning = f"No set of up to three changes was found that comes to less than {told.within:.0f} N m."
    then, rest = outcome_words(advice.then, told).split(";", 1)
    lead = lead_words(advice.surplus_lead)
    yield "then", f"{then}{like_lead(advice.then.full.moment)};{rest}; {lead}. {meaning}"


def lead_words(surplus: float) -> str:
    """Lead worn [kg] beyond what the last stop asks for, minus is missing, as ``hangflat weigh`` has it."""
    if abs(surplus) < RIGHT:
        return "lead right for the last stop"
    return f"{abs(surplus):.1f} kg {'more' if surplus > 0.0 else 'less'} lead than the last stop asks for"


def outcome_words(found: HeldFlat, told: ChangeAnswer) -> str:
    """Moment, wing and buoyancy now, and nearly empty."""
    words = f"{moment_words(found.full.moment)}; {_wing(found.full, told)}"
    if found.nearly_empty is None:
        return words
    return f"{words}; nearly empty, at {told.nearly_empty / BAR:.0f} bar, {_wing(found.nearly_empty, told)}"


def _wing(found: Outcome, told: ChangeAnswer) -> str:
    gas = "" if told.wing is None else f"{found.wing_gas / LITRE:.1f} l in the wing and "
    return gas + light_or_heavy(found.net_buoyancy)


def _after(advice: AdvisedSet, told: ChangeAnswer) -> Iterator[str]:
    """Notes, and the command on a line of its own, to be copied."""
    yield from bullets("Mind", advice.notes)
    command = " ".join([f"hangflat settle {_quoted(told.file)}", *(f"--set {_quoted(s)}" for s in advice.settings)])
    yield from ("", "Look at it with:", command)


def _quoted(text: str) -> str:
    """In double quotes, which every shell knows, unless that would change its meaning."""
    return shlex.quote(text) if any(letter in text for letter in "\"$\\`'!") else f'"{text}"'


def _table(heading: str, changes: Sequence[ToldChange], now: Outcome) -> list[str]:
    if not changes:
        return []
    head = f"  {heading:<{NAMES}}  {'moment':>11}  {'change':>11}"
    return ["", head, "  " + "-" * (len(head) - 2), *(line for c in changes for line in _row(c, now))]


def _row(change: ToldChange, now: Outcome) -> Iterator[str]:
    first, *more = textwrap.wrap(change.what, NAMES, break_on_hyphens=False)
    yield f"  {first:<{NAMES}}  {change.then.moment:>+7.1f} N m  {change.difference:>+7.1f} N m"
    yield from (f"    {line}" for line in more)
    for words, names in (("but then fails", change.fails), ("and then passes", change.mends)):
        if names:
            yield f"    {words}: {', '.join(names)}"
    if change.unbalanced:
        then, before = (light_or_heavy(held.net_buoyancy) for held in (change.then, now))
        yield f"    but then {then}, now {before}"
