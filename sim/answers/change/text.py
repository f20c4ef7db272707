"""What an instructor reads of what to change."""

from __future__ import annotations

import shlex
import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from sim.answers.change.answer import AdvisedSet, AdvisedStep, ChangeAnswer, HeldFlat, ToldChange
from sim.answers.change.candidate import AT_HAND
from sim.answers.change.occasions import Outcome
from sim.answers.change.together import LIGHT, SMALLEST, SPARE
from sim.answers.posture.posture import Held
from sim.telling.common_lines import diver_lines, ending_lines, moment_lines
from sim.telling.words import bullets, light_or_heavy, moment_words, rows, wrapped

BAR: Final = 1e5
LITRE: Final = 1e-3
WITHOUT: Final = "without any lead, of which none is needed there"
NAMES: Final = 50  # letters that a change gets
ASKED: Final[dict[Held, str]] = {
    "hangs by itself": "you hang by yourself",
    "a small shift of the knees holds it": "a small shift of the knees holds it",
    "has to be held": "it has to be held",
    "cannot be held": "no posture holds it",
}
GROUPS: Final = (
    ("With the gear at hand", AT_HAND),
    ("In another pose", ("pose",)),
    ("With other gear", ("gear",)),
)


def change_text(told: ChangeAnswer) -> str:
    """The moment now, what to change first, then every change by itself."""
    lines = [*moment_lines(told.pitch_moment), *diver_lines(told.title), *_advised(told)]
    shown = [c for c in told.changes if _felt(c, told)]
    for heading, kinds in GROUPS:
        lines += _table(heading, [c for c in shown if c.kind in kinds], told.now)
    note = "With that change alone, held flat; plus turns head-up. Nearest to balance at the start first."
    if hidden := len(told.changes) - len(shown):
        note += f" Left out: {hidden} change{'s' if hidden > 1 else ''} that move it by less than {SMALLEST} N m."
    lines += ["", *wrapped(note)]
    lines += rows("Cannot be", ((left.what, left.why) for left in told.left_out))
    return "\n".join([*lines, *ending_lines(told.notes, told.estimated, told.caution)])


def _felt(change: ToldChange, told: ChangeAnswer) -> bool:
    later = change.nearly_empty.moment - told.now.nearly_empty.moment
    return max(abs(change.difference), abs(later)) >= SMALLEST


def _advised(told: ChangeAnswer) -> Iterator[str]:
    now = list(_held_rows("now", told.now, told, told.surplus_lead))
    if told.balanced:
        yield from rows("What to change", [*now, ("nothing", f"The lead is right, and {balance_words(told)}.")])
        return
    if told.advice is None:
        yield from rows("What to change", [*now, ("nothing", none_words(told))])
    else:
        yield from rows("What to change", [*now, *_set_rows(told.advice, told)])
        yield from _after(told.advice, told)
    if told.with_gear is not None:
        yield from rows("Or, with other gear", _set_rows(told.with_gear, told))
        yield from _after(told.with_gear, told)


def balance_words(told: ChangeAnswer) -> str:
    """Why so small a moment is balance, as a clause."""
    return (
        f"with up to {told.within:.1f} N m, whoever stops moving drifts by 30 degrees in 4 s or later, as divers in "
        "balance do (common practice)"
    )


def short_words(advice: AdvisedSet) -> str:
    """What a set that does not reach says of itself."""
    return f"No set of up to three changes was found that comes to {advice.within:.1f} N m or less throughout."


def none_words(told: ChangeAnswer) -> str:
    """Why nothing is advised where not all is well."""
    said = "No set of up to three changes at hand was found that does better."
    if told.surplus_lead > SPARE:
        said += " The lead worn beyond what is asked for trims: less of it would turn the diver more."
    return said + (" Some could not be tried, see below." if told.left_out else "")


def _set_rows(advice: AdvisedSet, told: ChangeAnswer) -> Iterator[tuple[str, str]]:
    for number, step in enumerate(advice.steps, start=1):
        yield f"{number}.", step_words(step)
    yield from _held_rows("then", advice.then, told, advice.surplus_lead)
    if not advice.reaches:
        yield "", short_words(advice)


def step_words(step: AdvisedStep) -> str:
    """What is done, and what it brings by itself."""
    return f"{step.said} By itself: {moment_words(step.turns)}."


def _held_rows(when: str, found: HeldFlat, told: ChangeAnswer, surplus: float) -> Iterator[tuple[str, str]]:
    """At the start and at the end, in each water."""
    yield f"{when}, at the start", start_words(found, told)
    yield f"{when}, at the end", f"{end_words(found, told)}; {lead_words(surplus, found.nearly_empty)}"
    for other in found.elsewhere:
        pair = " and ".join(
            f"{moment_words(outcome.moment)} at the {end}"
            for outcome, end in ((other.start, "start"), (other.end, "end"))
        )
        right = f"with the {other.lead:.1f} kg of lead that are right there" if other.lead >= LIGHT else WITHOUT
        yield f"{when}, in {other.water} water", f"{pair}, {right}"


def start_words(found: HeldFlat, told: ChangeAnswer) -> str:
    """The moment at the start, what it asks for, wing and buoyancy."""
    return f"{moment_words(found.full.moment)}: {ASKED[found.held]}; {_wing(found.full, told)}"


def end_words(found: HeldFlat, told: ChangeAnswer) -> str:
    """The same at the last stop."""
    where = f"{told.last_stop:.0f} m with {told.nearly_empty / BAR:.0f} bar left"
    return f"{where}, {moment_words(found.nearly_empty.moment)}: {ASKED[found.held_nearly_empty]}"


def lead_words(surplus: float, end: Outcome) -> str:
    """Lead worn [kg] beyond what the last stop asks for, minus is missing, as ``hangflat weigh`` has it."""
    if abs(surplus) < LIGHT:
        left = end.wing_gas / LITRE  # kg of water that the wing still holds
        return f"{left:.1f} kg too heavy without any lead" if left > SPARE else "lead right for that"
    told = f"{abs(surplus):.1f} kg {'more' if surplus > 0.0 else 'less'} lead than that asks for"
    return f"{told}, which is little" if 0.0 < surplus <= SPARE else told


def _wing(found: Outcome, told: ChangeAnswer) -> str:
    gas = "" if told.wing is None else f"{found.wing_gas / LITRE:.1f} l in the wing and "
    return gas + light_or_heavy(found.net_buoyancy)


def _after(advice: AdvisedSet, told: ChangeAnswer) -> Iterator[str]:
    """Costs, notes, and the command on a line of its own, to be copied."""
    yield from bullets("What it costs elsewhere", advice.costs or ("Nothing was found that it costs.",))
    yield from bullets("Mind", advice.notes)
    command = " ".join([f"hangflat settle {_quoted(told.file)}", *(f"--set {_quoted(s)}" for s in advice.settings)])
    yield from ("", "Look at it with:", command)


def _quoted(text: str) -> str:
    """In double quotes, which every shell knows, unless that would change its meaning."""
    return shlex.quote(text) if any(letter in text for letter in "\"$\\`'!") else f'"{text}"'


def _table(heading: str, changes: Sequence[ToldChange], now: HeldFlat) -> list[str]:
    if not changes:
        return []
    head = f"  {heading:<{NAMES}}  {'at the start':>12}  {'change':>11}  {'at the end':>11}"
    return ["", head, "  " + "-" * (len(head) - 2), *(line for c in changes for line in _row(c, now.full))]


def _row(change: ToldChange, now: Outcome) -> Iterator[str]:
    first, *more = textwrap.wrap(change.what, NAMES, break_on_hyphens=False)
    cells = (
        f"{change.then.moment:>+8.1f} N m  {change.difference:>+7.1f} N m  {change.nearly_empty.moment:>+7.1f} N m"
    )
    yield f"  {first:<{NAMES}}  {cells}"
    yield from (f"    {line}" for line in more)
    for words, names in (("but then fails", change.fails), ("and then passes", change.mends)):
        if names:
            yield f"    {words}: {', '.join(names)}"
    if change.unbalanced:
        then, before = (light_or_heavy(held.net_buoyancy) for held in (change.then, now))
        yield f"    but then {then}, now {before}"
