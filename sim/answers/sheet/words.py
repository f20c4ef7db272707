"""What a hand-out prints, as words in the order of telling: plain data for the template, which adds no answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final

import numpy as np

from scenarios.errors import without_middle
from sim.answers.change.answer import AdvisedSet, ChangeAnswer
from sim.answers.change.text import balance_words, end_words, none_words, short_words, start_words, step_words
from sim.answers.fit.verdict import Verdict
from sim.answers.posture.posture import Posture
from sim.answers.posture.told import NOTHING, drift_words, knee_words, lever_words, posture_headline
from sim.answers.settle.answer import Item
from sim.answers.settle.text import settled_words
from sim.answers.settle.told import settle_answer
from sim.answers.sheet.handout import DiverAnswers
from sim.answers.weigh.answer import WeighAnswer
from sim.answers.weigh.text import LOST, band, headline, left_words, waters_table
from sim.telling.common_lines import moment_lines
from sim.telling.drawn_plate import notes_not_told
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.words import attitude_words, moment_words, unbroken

Row = tuple[str, str]
TURNERS: Final = 8  # items that are named; what is left is added up
LONGEST: Final = 120  # letters of a title
NOTES: Final = 4  # notes that are printed; further ones are in the answers of the commands
PARTS: Final = (
    "This file tells a rig by numbers, not a person with gear: fit, posture and what to change cannot be said of it."
)
NO_PLATE: Final = "No plate is worn: there is no fit to draw."


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
        "left_out": [] if diver.fit else [PARTS if diver.posture is None else NO_PLATE],
        "notes": [unbroken(note) for note in notes[:NOTES]],
        "more_notes": max(len(notes) - NOTES, 0),
        "estimated": ", ".join(made.estimated),
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
        return "Let go: stays as put; nothing turns the diver in any attitude."
    return unbroken(f"Let go, {settled_words(settled)}.")


def rests(diver: DiverAnswers) -> str:
    """The attitude at the end of that."""
    settled = settle_answer(diver.settle).settled
    return "as put" if settled is None else attitude_words(*np.degrees((settled.pitch, settled.roll)).tolist())


def turning(items: Sequence[Item], total: float) -> dict[str, Any]:
    """Items by what they turn with, the largest first; shares are of the largest, plus head-up."""
    named, rest = list(items[:TURNERS]), list(items[TURNERS:])
    rows = [(i.name, i.apparent_weight, i.moment) for i in named]
    if rest:
        rows.append(
            (f"{len(rest)} further things", sum(i.apparent_weight for i in rest), sum(i.moment for i in rest))
        )
    largest = max((abs(m) for *_, m in rows), default=0.0) or 1.0
    return {
        "rows": [
            {"name": name, "weight": _signed(weight), "moment": _signed(moment), "share": moment / largest}
            for name, weight, moment in rows
        ],
        "total": unbroken(moment_words(total) + like_lead(total)),
    }


def _signed(value: float) -> str:
    """To a tenth, with a true minus."""
    return f"{round(value, 1) + 0.0:+.1f}".replace("-", "\N{MINUS SIGN}")


def _posture(p: Posture) -> Iterator[Row]:
    """What each lever makes up, those that make up nothing in one line, and what follows from it."""
    levers = list(lever_words(p))
    idle = [name for name, text in levers if text == NOTHING]
    yield from ((name, text) for name, text in levers if text != NOTHING)
    if idle:
        yield ", ".join(idle), NOTHING
    yield "hangs flat", knee_words(p)
    yield "a drift", drift_words(p)


def change(told: ChangeAnswer) -> dict[str, Any]:
    """What to change first, and what it comes to."""
    sets = [_set(one, told) for one in (told.advice, told.with_gear) if one is not None]
    return {"sets": sets, "now": unbroken(_why_none(told, bool(sets)))}


def _why_none(told: ChangeAnswer, any_set: bool) -> str:
    if any_set:
        return ""
    if told.balanced:
        turned = f"{moment_words(told.pitch_moment)} turns the diver"
        return f"Nothing: {turned}, the lead is right, and {balance_words(told)}."
    return none_words(told)


def _set(advice: AdvisedSet, told: ChangeAnswer) -> dict[str, Any]:
    short = "" if advice.reaches else f" {short_words(advice)}"
    then, end = start_words(advice.then, told), end_words(advice.then, told)
    return {
        "heading": "With other gear" if advice is told.with_gear else "With the gear at hand",
        "steps": [unbroken(step_words(step)) for step in advice.steps],
        "then": unbroken(f"Then, at the start, {then}. At {end}.{short}"),
        "mind": [unbroken(note) for note in (*advice.costs, *advice.notes)],
    }


def weighing(told: WeighAnswer) -> dict[str, Any]:
    """How much lead, how sure that is, what it leaves in each water, and when the wing fails."""
    names, table = waters_table(told)
    torn = next((f for f in told.failures if f.lost == "wing"), None)
    lost = [] if torn is None else [f"With the {LOST['wing']} at the start: {left_words(torn.start)}."]
    return {
        "sentences": [unbroken(s) for s in (headline(told), *([band(told.sure)] if told.sure else []), *lost)],
        "waters": names,
        "rows": [
            {"name": n, "cells": [unbroken(c) for c in cells]} for n, cells in table if not n.startswith("heavy")
        ],
    }


def fit(verdicts: Sequence[Verdict]) -> dict[str, Any]:
    """Findings: what fails first, then what passes, then what is only told."""
    return {
        key: [_finding(v) for v in verdicts if v.passes is passes]
        for key, passes in (("fails", False), ("passes", True), ("told", None))
    }


def _finding(verdict: Verdict) -> dict[str, str]:
    return {"subject": _headed(verdict.subject), "sentence": unbroken(_ended(verdict.sentence))}


def _headed(words: str) -> str:
    return words[:1].upper() + words[1:]


def _ended(sentence: str) -> str:
    told = _headed(sentence)
    return told if told.endswith(".") else told + "."


def flat_alt(diver: DiverAnswers) -> str:
    """What the picture of the diver held flat shows, for who cannot see it."""
    moment = diver.why.flat.pitch_moment
    turned = "nothing turns them" if abs(moment) < NO_MOMENT else f"an arc at the head shows {moment_words(moment)}"
    return (
        f"{title_of(diver)}, held flat, seen from the side with the head to the right. One arrow points down from "
        f"the centre of mass, weight; one up from the centre of buoyancy; {turned}."
    )


def rest_alt(diver: DiverAnswers) -> str:
    """Likewise of the attitude that letting go leads to."""
    return f"The same diver let go, in the end: {rests(diver)}; a dashed line is the horizon."


def fit_alt(diver: DiverAnswers, *, named: bool) -> str:
    """Likewise of the fit drawing, heights ``named`` in it or not."""
    fails = [] if diver.fit is None else [v.subject for v in diver.fit.verdicts if v.passes is False]
    found = f"Failing: {', '.join(fails)}." if fails else "Nothing fails."
    heights = (
        "with the heights of neck bone, shoulders, waist, waist strap, hip bones and buttocks, " if named else ""
    )
    return (
        f"{title_of(diver)}, standing in the rig, from behind and from the left side, {heights}"
        f"where hands reach and where the eyes look. {found}"
    )


def _pairs(rows: Iterator[Row]) -> list[dict[str, str]]:
    return [{"name": name, "text": unbroken(text)} for name, text in rows]
