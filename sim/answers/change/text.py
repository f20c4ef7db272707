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
from sim.said import word
from sim.telling.common_lines import chart_lines, diver_lines, ending_lines, moment_lines
from sim.telling.language import quantity, say, say_count, told
from sim.telling.waters import WATERS
from sim.telling.words import bullets, light_or_heavy, moment_words, rows, wrapped

BAR: Final = 1e5
LITRE: Final = 1e-3
COMMAND: Final = "hangflat settle"
NAMES: Final = 50  # letters that a change gets
COLUMNS: Final = (12, 11, 11)  # letters that the moments get at least: at the start, the change, at the end
ASKED: Final[dict[Held, str]] = {
    "hangs by itself": word("you hang by yourself"),
    "a small shift of the knees holds it": word("a small shift of the knees holds it"),
    "has to be held": word("it has to be held"),
    "cannot be held": word("no posture holds it"),
}
GROUPS: Final = (
    (word("With the gear at hand"), AT_HAND),
    (word("In another pose"), ("pose",)),
    (word("With other gear"), ("gear",)),
)


def change_text(answer: ChangeAnswer) -> str:
    """The moment now, what to change first, then every change by itself."""
    lines = [*moment_lines(answer.pitch_moment), *diver_lines(answer.title), *_advised(answer)]
    shown = [c for c in answer.changes if _felt(c, answer)]
    for heading, kinds in GROUPS:
        lines += _table(told(heading), [c for c in shown if c.kind in kinds], answer.now)
    note = say("With that change alone, held flat; plus turns head-up. Nearest to balance at the start first.")
    if hidden := len(answer.changes) - len(shown):
        least = quantity(SMALLEST, "N m", 1)
        left_out = say_count(
            "Left out: {n} change that moves it by less than {least}.",
            "Left out: {n} changes that move it by less than {least}.",
            hidden,
            least=least,
        )
        note = f"{note} {left_out}"
    lines += ["", *wrapped(note)]
    lines += rows(say("Cannot be"), ((told(left.what), told(left.why)) for left in answer.left_out))
    lines += ending_lines(answer.notes, answer.estimated, answer.caution)
    return "\n".join([*lines, *chart_lines(answer.chart)])


def _felt(change: ToldChange, answer: ChangeAnswer) -> bool:
    later = change.nearly_empty.moment - answer.now.nearly_empty.moment
    return max(abs(change.difference), abs(later)) >= SMALLEST


def _advised(answer: ChangeAnswer) -> Iterator[str]:
    labels = (say("now, at the start"), say("now, at the end"))
    now = list(_held_rows(labels, answer.now, answer, answer.surplus_lead))
    now += [(say("now, in {water}", water=water), text) for water, text in _elsewhere(answer.now)]
    if answer.balanced:
        spare, balance = told_spare(answer.surplus_lead), balance_words(answer)
        if spare:
            well = say("{spare} more lead than is asked for is little, and {balance}.", spare=spare, balance=balance)
        else:
            well = say("The lead is right, and {balance}.", balance=balance)
        yield from rows(say("What to change"), [*now, (say("nothing"), well)])
        return
    if answer.advice is None:
        yield from rows(say("What to change"), [*now, (say("nothing"), none_words(answer))])
    else:
        yield from rows(say("What to change"), [*now, *_set_rows(answer.advice, answer)])
        yield from _after(answer.advice, answer)
    if answer.with_gear is not None:
        yield from rows(say("Or, with other gear"), _set_rows(answer.with_gear, answer))
        yield from _after(answer.with_gear, answer)


def told_spare(surplus: float) -> str:
    """Lead worn [kg] beyond what is asked for, where that is more than the lightest block's half; else nothing."""
    return quantity(surplus, "kg", 1) if surplus >= LIGHT else ""


def balance_words(answer: ChangeAnswer) -> str:
    """Why so small a moment is balance, as a clause."""
    return say(
        "with up to {within}, whoever stops moving drifts by 30 degrees in 4 s or later, as divers in balance do "
        "(common practice)",
        within=quantity(answer.within, "N m", 1),
    )


def short_words(advice: AdvisedSet) -> str:
    """What a set that does not reach says of itself."""
    within = quantity(advice.within, "N m", 1)
    return say(
        "No set of up to three changes was found that comes to {within} or less throughout; that is this rig's own "
        "limit of balance (30 degrees of drift in 4 s or later), which differs from rig to rig.",
        within=within,
    )


def none_words(answer: ChangeAnswer) -> str:
    """Why nothing is advised where not all is well."""
    said = [say("No set of up to three changes at hand was found that does better.")]
    if answer.surplus_lead > SPARE:
        said.append(say("Taking off the lead beyond what is asked for was tried, and counted no better."))
    if -answer.surplus_lead > SPARE:
        said.append(
            say(
                "{short} more lead is asked for than is worn, and no one place here can take it: see hangflat weigh, "
                "and put that right first.",
                short=quantity(-answer.surplus_lead, "kg", 1),
            )
        )
    if answer.left_out:
        said.append(say("Some could not be tried, see below."))
    return " ".join(said)


def _set_rows(advice: AdvisedSet, answer: ChangeAnswer) -> Iterator[tuple[str, str]]:
    for number, step in enumerate(advice.steps, start=1):
        yield f"{number}.", step_words(step)
    labels = (say("then, at the start"), say("then, at the end"))
    yield from _held_rows(labels, advice.then, answer, advice.surplus_lead)
    for water, text in _elsewhere(advice.then):
        yield say("then, in {water}", water=water), text
    if advice.surplus_lead > SPARE:
        yield (
            "",
            say(
                "The lead beyond that is left on: no set without it was found that is better, moment and lead "
                "counted together."
            ),
        )
    if not advice.reaches:
        yield "", short_words(advice)


def step_words(step: AdvisedStep) -> str:
    """What is done, and what it brings by itself."""
    return f"{told(step.said)} {say('By itself: {moment}.', moment=moment_words(step.turns))}"


def _held_rows(
    labels: tuple[str, str], found: HeldFlat, answer: ChangeAnswer, surplus: float
) -> Iterator[tuple[str, str]]:
    """At the start and at the end."""
    at_start, at_end = labels
    yield at_start, start_words(found, answer)
    lead = lead_words(surplus, found.nearly_empty)
    yield at_end, say("{end}; {lead}", end=end_words(found, answer), lead=lead)


def _elsewhere(found: HeldFlat) -> Iterator[tuple[str, str]]:
    """Each other water, and what turns the diver there."""
    for other in found.elsewhere:
        start, end = moment_words(other.start.moment), moment_words(other.end.moment)
        if other.lead >= LIGHT:
            text = say(
                "{start} at the start and {end} at the end, with the {lead} of lead that are right there",
                start=start,
                end=end,
                lead=quantity(other.lead, "kg", 1),
            )
        else:
            text = say(
                "{start} at the start and {end} at the end, without any lead, of which none is needed there",
                start=start,
                end=end,
            )
        yield told(WATERS[other.water]), text


def start_words(found: HeldFlat, answer: ChangeAnswer) -> str:
    """The moment at the start, what it asks for, wing and buoyancy."""
    return say(
        "{moment}: {asked}; {wing}",
        moment=moment_words(found.full.moment),
        asked=told(ASKED[found.held]),
        wing=_wing(found.full, answer),
    )


def end_words(found: HeldFlat, answer: ChangeAnswer) -> str:
    """The same at the last stop."""
    where = say(
        "{depth} with {pressure} left in every cylinder",
        depth=quantity(answer.last_stop, "m", 0),
        pressure=quantity(answer.nearly_empty / BAR, "bar", 0),
    )
    return say(
        "{where}, {moment}: {asked}",
        where=where,
        moment=moment_words(found.nearly_empty.moment),
        asked=told(ASKED[found.held_nearly_empty]),
    )


def lead_words(surplus: float, end: Outcome) -> str:
    """Lead worn [kg] beyond what the last stop asks for, minus is missing, as ``hangflat weigh`` has it."""
    if abs(surplus) < LIGHT:
        left = end.wing_gas / LITRE  # kg of water that the wing still holds
        if left > SPARE:
            return say("{size} too heavy without any lead", size=quantity(left, "kg", 1))
        return say("lead right for that")
    size = quantity(abs(surplus), "kg", 1)
    if surplus < 0.0:
        return say("{size} less lead than that asks for", size=size)
    if surplus <= SPARE:
        return say("{size} more lead than that asks for, which is little", size=size)
    return say("{size} more lead than that asks for", size=size)


def _wing(found: Outcome, answer: ChangeAnswer) -> str:
    weight = light_or_heavy(found.net_buoyancy)
    if answer.wing is None:
        return weight
    return say("{gas} in the wing and {weight}", gas=quantity(found.wing_gas / LITRE, "l", 1), weight=weight)


def _after(advice: AdvisedSet, answer: ChangeAnswer) -> Iterator[str]:
    """Costs, notes, and the command on a line of its own, to be copied."""
    costs = [told(cost) for cost in advice.costs] or [say("Nothing was found that it costs.")]
    yield from bullets(say("What it costs elsewhere"), costs)
    yield from bullets(say("Mind"), (told(note) for note in advice.notes))
    command = " ".join([COMMAND, _quoted(answer.file), *(f"--set {_quoted(s)}" for s in advice.settings)])
    yield from ("", say("Look at it with:"), command)


def _quoted(text: str) -> str:
    """In double quotes, which every shell knows, unless that would change its meaning."""
    return shlex.quote(text) if any(letter in text for letter in "\"$\\`'!") else f'"{text}"'


def _table(heading: str, changes: Sequence[ToldChange], now: HeldFlat) -> list[str]:
    if not changes:
        return []
    heads = (say("at the start"), say("change"), say("at the end"))
    moments = [_moments(c) for c in changes]
    wide = [max(n, *map(len, column)) for n, column in zip(COLUMNS, zip(heads, *moments, strict=True), strict=True)]
    head = f"  {heading:<{NAMES}}{_cells(heads, wide)}"
    lines = ["", head, "  " + "-" * (len(head) - 2)]
    for change, cells in zip(changes, moments, strict=True):
        lines += _row(change, _cells(cells, wide), now.full)
    return lines


def _moments(change: ToldChange) -> tuple[str, ...]:
    """At the start, the change, at the end."""
    values = (change.then.moment, change.difference, change.nearly_empty.moment)
    return tuple(quantity(value, "N m", 1, sign=True) for value in values)


def _cells(texts: Sequence[str], wide: Sequence[int]) -> str:
    return "".join(f"  {text:>{n}}" for text, n in zip(texts, wide, strict=True))


def _row(change: ToldChange, cells: str, now: Outcome) -> Iterator[str]:
    first, *more = textwrap.wrap(told(change.what), NAMES, break_on_hyphens=False)
    yield f"  {first:<{NAMES}}{cells}"
    yield from (f"    {line}" for line in more)
    if change.fails:
        yield f"    {say('but then fails: {names}', names=', '.join(map(told, change.fails)))}"
    if change.mends:
        yield f"    {say('and then passes: {names}', names=', '.join(map(told, change.mends)))}"
    if change.unbalanced:
        then, before = (light_or_heavy(held.net_buoyancy) for held in (change.then, now))
        yield f"    {say('but then {then}, now {before}', then=then, before=before)}"
