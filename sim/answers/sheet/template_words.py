"""The words that stand in the hand-out's template itself: headings, heads of tables, captions."""

from __future__ import annotations

from sim.telling.language import say, unit_name
from sim.telling.words import GLUE


def template_words() -> dict[str, str]:
    """By the names that sheet.typ has for them."""
    return {
        "two": say("Two divers compared"),
        "class": say("How the divers of a class hang in the water"),
        "caution": say("Caution"),
        "page": say("page"),
        "of": say("1 of 1", sense="page of pages"),
        "held_flat": say("held flat"),
        "kg": unit_name("kg"),
        "nm": unit_name("N m"),
        "together": say("Together"),
        "reading": say(
            "{kg}: in water, plus sinks. {nm}: plus, a full bar to the right, turns head-up; minus, an open bar to "
            "the left, head-down.",
            kg=unit_name("kg"),
            nm=unit_name("N m").replace(" ", GLUE),
        ),
        "mind": say("Mind", sense="take note"),
        "nothing_fails": say("Nothing fails."),
        "besides": say("To be known besides"),
        "estimated": say("What was estimated, not given"),
        "arrows": say("Held flat; arrows to one scale."),
        "turns": say("What turns the diver"),
        "change": say("What to change first"),
        "posture": say("What posture holds"),
        "weighting": say("Weighting"),
        "fits": say("How the rig fits"),
        "diver": say("diver"),
        "turns_them": say("What turns them"),
        "plus_up": say("held flat; plus is head-up"),
        "differs": say("What differs, and what that does"),
        "no_keys": say("A parts file has no keys to compare: only what comes out stands here."),
        "same": say("The files say the same."),
        "key": say("key of the file"),
        "only_this": say(
            "With only this table of A\N{RIGHT SINGLE QUOTATION MARK}s file replaced by "
            "B\N{RIGHT SINGLE QUOTATION MARK}s:"
        ),
        "beyond": say("beyond the sum"),
        "whole": say("All of it"),
        "not_alone": say("Not by itself"),
        "what_to_change": say("what to change first"),
        "weighting_of": say("weighting"),
        "how_fits": say("how the rig fits"),
        "nothing": say("nothing"),
    }
