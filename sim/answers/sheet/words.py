"""What a hand-out prints, as words in the order of telling: plain data for the template, which adds no answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any, Final

import numpy as np

from scenarios.errors import without_middle
from sim.answers.change.answer import AdvisedSet, ChangeAnswer
from sim.answers.change.text import (
    balance_words,
    end_words,
    none_words,
    short_words,
    start_words,
    step_words,
    told_spare,
)
from sim.answers.fit.verdict import Verdict
from sim.answers.posture.posture import Posture
from sim.answers.posture.told import NOTHING, drift_words, knee_words, lever_words, posture_headline
from sim.answers.settle.answer import Item
from sim.answers.settle.text import settled_words
from sim.answers.settle.told import settle_answer
from sim.answers.sheet.handout import DiverAnswers
from sim.answers.weigh.answer import WeighAnswer
from sim.answers.weigh.failures_text import left_words
from sim.answers.weigh.text import band, headline
from sim.answers.weigh.waters_text import waters_table
from sim.said import word
from sim.telling.common_lines import moment_lines
from sim.telling.drawn_plate import notes_not_told
from sim.telling.language import quantity, say, say_count, told
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.words import attitude_words, moment_words, unbroken

Row = tuple[str, str]
TURNERS: Final = 8  # items that are named; what is left is added up
LONGEST: Final = 120  # letters of a title
NOTES: Final = 4  # notes that are printed; further ones are in the answers of the commands
PARTS: Final = word(
    "This file tells a rig by numbers, not a person with gear: fit, posture and what to change cannot be said of it."
)
NO_PLATE: Final = word("No plate is worn: there is no fit to draw.")


def diver_words(diver: DiverAnswers) -> dict[str, Any]:
    """All that is printed of one diver; a section that cannot be told is None."""
    made = diver.case.assembled
    notes = notes_not_told(diver.settle.notes, diver.why.drawn_plate)
    return {
        "name": diver.name,
        "title": title_of(diver),
        "headline": lead_sentence(diver),
        "let_go": let_go(diver),
        "turning": turning(diver.why.items, diver.why.flat.pitch_moment),
        "posture": None if diver.posture is None else _pairs(_posture(diver.posture)),
        "change": None if diver.change is None else change(diver.change),
        "weighing": weighing(diver.weigh),
        "fit": None if diver.fit is None else fit(diver.fit.verdicts),
        "left_out": [] if diver.fit else [told(PARTS if diver.posture is None else NO_PLATE)],
        "notes": [unbroken(told(note)) for note in notes[:NOTES]],
        "more_notes": _more_notes(len(notes) - NOTES),
        "estimated": ", ".join(map(told, made.estimated)),
    }


def title_of(diver: DiverAnswers) -> str:
    """The scenario's own title, or the file's name."""
    title = without_middle(diver.case.assembled.title or diver.name, LONGEST)
    return title[:1].upper() + title[1:]


def lead_sentence(diver: DiverAnswers) -> str:
    """The sentence that matters."""
    if diver.posture is not None:
        return unbroken(posture_headline(diver.posture))
    return unbroken(" ".join(moment_lines(diver.why.flat.pitch_moment)))


def let_go(diver: DiverAnswers) -> str:
    """Where letting go from flat leads, and when."""
    settled = settle_answer(diver.settle).settled
    if settled is None:
        return say("Let go: stays as put; nothing turns the diver in any attitude.")
    return unbroken(say("Let go, {settled}.", settled=settled_words(settled)))


def rests(diver: DiverAnswers) -> str:
    """The attitude at the end of that."""
    settled = settle_answer(diver.settle).settled
    return say("as put") if settled is None else attitude_words(*np.degrees((settled.pitch, settled.roll)).tolist())


def turning(items: Sequence[Item], total: float) -> dict[str, Any]:
    """Items by what they turn with, the largest first; shares are of the largest, plus head-up."""
    named, rest = list(items[:TURNERS]), list(items[TURNERS:])
    rows = [(told(i.name), i.apparent_weight, i.moment) for i in named]
    if rest:
        words = say_count("{n} further thing", "{n} further things", len(rest))
        rows.append((words, sum(i.apparent_weight for i in rest), sum(i.moment for i in rest)))
    largest = max((abs(m) for *_, m in rows), default=0.0) or 1.0
    return {
        "rows": [
            {
                "name": name,
                "weight": _signed(weight, "kg"),
                "moment": _signed(moment, "N m"),
                "share": moment / largest,
            }
            for name, weight, moment in rows
        ],
        "total": unbroken(moment_words(total) + like_lead(total)),
    }


def _signed(value: float, unit: str) -> str:
    """To a tenth, with a true minus."""
    return quantity(round(value, 1) + 0.0, unit, 1, sign=True, bare=True, dash=True)


def _more_notes(more: int) -> str:
    """How many notes are not printed; nothing where all are."""
    if more <= 0:
        return ""
    return say_count("{n} more with the command settle.", "{n} more with the command settle.", more)


def _posture(p: Posture) -> Iterator[Row]:
    """What each lever makes up, those that make up nothing in one line, and what follows from it."""
    levers = list(lever_words(p))
    nothing = told(NOTHING)
    idle = [name for name, text in levers if text == nothing]
    yield from ((name, text) for name, text in levers if text != nothing)
    if idle:
        yield ", ".join(idle), nothing
    yield say("hangs flat"), knee_words(p)
    yield say("a drift"), drift_words(p)


def change(answer: ChangeAnswer) -> dict[str, Any]:
    """What to change first, and what it comes to."""
    advised = [one for one in (answer.advice, answer.with_gear) if one is not None]
    sets = [_set(one, answer) for one in advised]
    for one, other in pairwise(sets):  # what goes for both is told once
        if one["short"] == other["short"]:
            one["short"] = ""
        other["mind"] = [note for note in other["mind"] if note not in one["mind"]]
    for one in sets:
        one["then"] = " ".join(filter(None, (one["then"], one.pop("short"))))
    return {"sets": sets, "now": unbroken(_why_none(answer, bool(sets)))}


def _why_none(answer: ChangeAnswer, any_set: bool) -> str:
    if any_set:
        return ""
    if answer.balanced:
        moment, balance = moment_words(answer.pitch_moment), balance_words(answer)
        if spare := told_spare(answer.surplus_lead):
            return say(
                "Nothing: {moment} turns the diver, {spare} more lead than is asked for is little, and {balance}.",
                moment=moment,
                spare=spare,
                balance=balance,
            )
        return say(
            "Nothing: {moment} turns the diver, the lead is right, and {balance}.", moment=moment, balance=balance
        )
    return none_words(answer)


def _set(advice: AdvisedSet, answer: ChangeAnswer) -> dict[str, Any]:
    then = say(
        "Then, at the start, {start}. At {end}.",
        start=start_words(advice.then, answer),
        end=end_words(advice.then, answer),
    )
    return {
        "heading": say("With other gear") if advice is answer.with_gear else say("With the gear at hand"),
        "steps": [unbroken(step_words(step)) for step in advice.steps],
        "then": unbroken(then),
        "short": "" if advice.reaches else unbroken(short_words(advice)),
        "mind": [unbroken(told(note)) for note in (*advice.costs, *advice.notes)],
    }


def weighing(weighed: WeighAnswer) -> dict[str, Any]:
    """How much lead, how sure that is, what it leaves in each water, and when the wing fails."""
    names, table = waters_table(weighed)
    torn = next((f for f in weighed.failures if f.lost == "wing"), None)
    lost = [] if torn is None else [say("With the wing torn at the start: {left}.", left=left_words(torn.start))]
    heavy = say("heavy at the start, wing empty")
    return {
        "sentences": [
            unbroken(s) for s in (headline(weighed), *([band(weighed.sure)] if weighed.sure else []), *lost)
        ],
        "waters": names,
        "rows": [{"name": n, "cells": [unbroken(c) for c in cells]} for n, cells in table if n != heavy],
    }


def fit(verdicts: Sequence[Verdict]) -> dict[str, Any]:
    """Findings: what fails first, then what passes, then what is only told."""
    return {
        key: [_finding(v) for v in verdicts if v.passes is passes]
        for key, passes in (("fails", False), ("passes", True), ("told", None))
    }


def _finding(verdict: Verdict) -> dict[str, str]:
    subject = _headed(told(verdict.subject))
    if verdict.passes is None:
        heading = f"{subject}:"
    elif verdict.passes:
        heading = say("{subject}: passes.", subject=subject)
    else:
        heading = say("{subject}: fails.", subject=subject)
    return {"heading": heading, "sentence": unbroken(_ended(told(verdict.sentence)))}


def _headed(words: str) -> str:
    return words[:1].upper() + words[1:]


def _ended(sentence: str) -> str:
    words = _headed(sentence)
    return words if words.endswith(".") else words + "."


def flat_alt(diver: DiverAnswers) -> str:
    """What the picture of the diver held flat shows, for who cannot see it."""
    moment = diver.why.flat.pitch_moment
    if abs(moment) < NO_MOMENT:
        turned = say("nothing turns them")
    else:
        turned = say("an arc at the head shows {moment}", moment=moment_words(moment))
    return say(
        "{title}, held flat, seen from the side with the head to the right. One arrow points down from "
        "the centre of mass, weight; one up from the centre of buoyancy; {turned}.",
        title=title_of(diver),
        turned=turned,
    )


def rest_alt(diver: DiverAnswers) -> str:
    """Likewise of the attitude that letting go leads to."""
    return say("The same diver let go, in the end: {rests}; a dashed line is the horizon.", rests=rests(diver))


def fit_alt(diver: DiverAnswers, *, named: bool) -> str:
    """Likewise of the fit drawing, heights ``named`` in it or not."""
    fails = [] if diver.fit is None else [told(v.subject) for v in diver.fit.verdicts if v.passes is False]
    found = say("Failing: {names}.", names=", ".join(fails)) if fails else say("Nothing fails.")
    if named:
        return say(
            "{title}, standing in the rig, from behind and from the left side, with the heights of neck bone, "
            "shoulders, waist, waist strap, hip bones and buttocks, where hands reach and where the eyes look. "
            "{found}",
            title=title_of(diver),
            found=found,
        )
    return say(
        "{title}, standing in the rig, from behind and from the left side, "
        "where hands reach and where the eyes look. {found}",
        title=title_of(diver),
        found=found,
    )


def _pairs(rows: Iterator[Row]) -> list[dict[str, str]]:
    return [{"name": name, "text": unbroken(text)} for name, text in rows]
