"""The page that goes before the divers of a class, and the sheet of two compared, as words for the template."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from sim.answers.compare.compared import Comparison
from sim.answers.compare.text import change_words, group_rows
from sim.answers.sheet.handout import DiverAnswers
from sim.answers.sheet.words import rests, title_of
from sim.answers.weigh.waters_text import waters_table
from sim.telling.language import say, say_count, told
from sim.telling.lead_words import NO_MOMENT
from sim.telling.words import moment_words, unbroken

KEYS: Final = 6  # keys that differ and are printed
EFFECTS: Final = 5  # tables whose effect is printed


def rows_of(divers: Sequence[DiverAnswers]) -> list[dict[str, Any]]:
    """What every diver comes to, a row each: the same columns for a class and for two."""
    return [
        {
            "name": diver.name,
            "title": title_of(diver),
            "cells": [
                {"name": say("held flat"), "text": unbroken(moment_words(diver.why.flat.pitch_moment))},
                {
                    "name": say("posture"),
                    "text": say("not told") if diver.posture is None else told(diver.posture.held),
                },
                {"name": say("let go"), "text": unbroken(rests(diver))},
                {"name": say("lead"), "text": unbroken(waters_table(diver.weigh)[1][0][1][0])},
                {"name": say("fit fails"), "text": _fails(diver)},
            ],
        }
        for diver in divers
    ]


def _minus(cell: str) -> str:
    """A signed number with a true minus, its unit kept to it."""
    return unbroken(cell).replace("-", "\N{MINUS SIGN}")


def _fails(diver: DiverAnswers) -> str:
    if diver.fit is None:
        return say("not told")
    return ", ".join(told(v.subject) for v in diver.fit.verdicts if v.passes is False) or say("nothing")


def _more(more: int) -> str:
    """How many keys are not printed; nothing where all are."""
    if not more:
        return ""
    return say_count(
        "and {n} further value, which follows from these",
        "and {n} further values, most of which follow from these",
        more,
    )


def compared_words(comparison: Comparison) -> dict[str, Any]:
    """What turns the two, what their files say otherwise, and what each difference does by itself."""
    said, against = comparison.differences, comparison.against[0]
    keys = [] if said is None else [{"key": d.key, "said": list(d.said)} for d in said.written[:KEYS]]
    more = 0 if said is None else len(said.written[KEYS:]) + said.following
    effects = [
        {"table": e.table, "text": unbroken(change_words(e.moment))}
        for e in against.effects[:EFFECTS]
        if e.moment is not None and abs(e.moment) >= NO_MOMENT
    ]
    groups = [{"name": name, "cells": [_minus(c) for c in cells]} for name, cells in group_rows(comparison.divers)]
    return {
        "groups": groups,
        "keys": keys,
        "more": _more(more),
        "parts": said is None,
        "effects": effects,
        "not_alone": [e.table for e in against.effects if e.moment is None],
        "together": unbroken(change_words(against.together)),
        "whole": unbroken(change_words(against.whole)),
    }
