"""What an instructor reads of what to change: ``hangflat.change/1`` as plain text."""

from __future__ import annotations

import shlex
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from sim.answers.change.candidate import AT_HAND
from sim.answers.change.together import SMALLEST
from sim.telling.common_lines import closing_lines, moment_lines, title_lines
from sim.telling.lead_words import like_lead
from sim.telling.words import bullets, light_or_heavy, moment_words, rows, wrapped

Object = Mapping[str, Any]
NAMES: Final = 58  # letters that a change gets
GROUPS: Final = (
    ("With the gear at hand", AT_HAND),
    ("In another pose", ("pose",)),
    ("With other gear", ("gear",)),
)


def change_text(told: Object) -> str:
    """The moment now, what to change first, then every change by itself."""
    lines = [*moment_lines(told["pitch_moment_nm"]), *title_lines(told), *_advised(told)]
    shown = [c for c in told["changes"] if abs(c["difference_nm"]) >= SMALLEST]
    for heading, kinds in GROUPS:
        lines += _table(heading, [c for c in shown if c["kind"] in kinds], told["now"])
    note = "Moment: with that change alone, held flat; plus turns head-up. Nearest to balance first."
    if hidden := len(told["changes"]) - len(shown):
        note += f" Left out: {hidden} change{'s' if hidden > 1 else ''} that move it by less than {SMALLEST} N m."
    lines += ["", *wrapped(note)]
    lines += rows("Cannot be", ((left["what"], left["why"]) for left in told["left_out"]))
    return "\n".join([*lines, *closing_lines(told)])


def _advised(told: Object) -> Iterator[str]:
    within, now = told["within_nm"], ("now", _outcome(told["now"], told))
    if abs(told["pitch_moment_nm"]) <= within:
        meaning = f"less than {within:.0f} N m is held without anybody seeing an effort (assumed)"
        yield from rows("What to change", [now, ("nothing", meaning)])
        return
    if told["advice"] is None:
        none = f"no set of up to three changes at hand was found that comes nearer{_why_not(told)}"
        yield from rows("What to change", [now, ("nothing", none)])
    else:
        yield from rows("What to change", [now, *_set_rows(told["advice"], told)])
        yield from _after(told["advice"], told)
    if told["with_gear"] is not None:
        yield from rows("Or, with other gear", _set_rows(told["with_gear"], told))
        yield from _after(told["with_gear"], told)


def _why_not(told: Object) -> str:
    return "; some could not be tried, see below" if told["left_out"] else ""


def _set_rows(advice: Object, told: Object) -> Iterator[tuple[str, str]]:
    for number, words in enumerate(advice["changes"], start=1):
        yield f"{number}.", words
    if advice["reaches"]:
        meaning = "That is held without anybody seeing an effort (assumed)."
    else:
        meaning = f"No set of up to three changes was found that comes to less than {told['within_nm']:.0f} N m."
    then, rest = _outcome(advice, told).split(";", 1)
    yield "then", f"{then}{like_lead(advice['pitch_moment_nm'])};{rest}. {meaning}"


def _outcome(found: Object, told: Object) -> str:
    """Moment, wing and buoyancy now, and nearly empty."""
    words = f"{moment_words(found['pitch_moment_nm'])}; {_wing(found, told)}"
    empty = found["nearly_empty"]
    if empty is None:
        return words
    return f"{words}; nearly empty, at {told['nearly_empty_bar']:.0f} bar, {_wing(empty, told)}"


def _wing(found: Object, told: Object) -> str:
    gas = "" if told["wing"] is None else f"{found['wing_gas_l']:.1f} l in the wing and "
    return gas + light_or_heavy(found["net_buoyancy_kg"])


def _after(advice: Object, told: Object) -> Iterator[str]:
    """Notes, and the command on a line of its own, to be copied."""
    yield from bullets("Mind", advice["notes"])
    command = " ".join(
        [f"hangflat settle {_quoted(told['file'])}", *(f"--set {_quoted(s)}" for s in advice["settings"])]
    )
    yield from ("", "Look at it with:", command)


def _quoted(text: str) -> str:
    """In double quotes, which every shell knows, unless that would change its meaning."""
    return shlex.quote(text) if any(letter in text for letter in "\"$\\`'!") else f'"{text}"'


def _table(heading: str, changes: Sequence[Object], now: Object) -> list[str]:
    if not changes:
        return []
    head = f"  {heading:<{NAMES}}  {'moment':>11}  {'change':>11}"
    return ["", head, "  " + "-" * (len(head) - 2), *(line for c in changes for line in _row(c, now))]


def _row(change: Object, now: Object) -> Iterator[str]:
    first, *more = textwrap.wrap(change["what"], NAMES, break_on_hyphens=False)
    yield f"  {first:<{NAMES}}  {change['pitch_moment_nm']:>+7.1f} N m  {change['difference_nm']:>+7.1f} N m"
    yield from (f"    {line}" for line in more)
    for words, names in (("but then fails", change["then_fails"]), ("and then passes", change["then_passes"])):
        if names:
            yield f"    {words}: {', '.join(names)}"
    if change["no_longer_neutral"]:
        then, before = (light_or_heavy(told["net_buoyancy_kg"]) for told in (change, now))
        yield f"    but then {then}, now {before}"
