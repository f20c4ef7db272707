"""Causes, tests and outcomes as an instructor says them."""

from __future__ import annotations

from typing import Final

from sim.answers.seen.behaviour import Part
from sim.answers.seen.causes import Cause
from sim.answers.seen.typed import CHECKS, DRIFTS, TestName
from sim.said import known, note, word

TURNS: Final = 2.0  # N m, below which nobody is called foot-heavy or light

HOW: Final[dict[TestName, str]] = {
    "freeze": word("stop everything, fins too, and hold the posture: watch for 10 s which way they go"),
    "legs straight": word("stretch the legs, hold still: watch for 10 s which way they go"),
    "fin on": word("fin on gently, as they usually do: see how the trunk lies then"),
    "feel": word("a buddy squeezes boots and lower legs: are they full of gas?"),
    "look down": word("look straight down at the bottom and go on as before: see how the trunk lies then"),
    "gas out": word(
        "upright, let gas out of the suit, make neutral with the wing, lie flat and freeze: watch for 10 s"
    ),
    "rig down": word(
        "a buddy pulls the rig down at the plate and the crotch strap: does it come down by 2 cm or more?"
    ),
    "count": word("count the lead, look where it sits, read the gauge: is all as the file says?"),
}
FOUND: Final[dict[TestName, str]] = {
    "look down": "5 deg head-up",
    "fin on": "15 deg head-up",
    "feel": "full",
    "rig down": "came down",
    "count": "otherwise",
}
DRIFTED: Final = {
    0: word("stays for 10 s"),
    2: word("head-down in 6 to 10 s"),
    3: word("head-down in 3 to 6 s"),
    4: word("head-down within 3 s"),
    5: word("head-up within 3 s"),
    6: word("head-up in 3 to 6 s"),
    7: word("head-up in 6 to 10 s"),
}
LAY: Final = {
    0: word("more than 30 degrees head-down"),
    1: word("15 to 30 degrees head-down"),
    2: word("5 to 15 degrees head-down"),
    3: word("flat within 5 degrees"),
    4: word("5 to 15 degrees head-up"),
    5: word("15 to 30 degrees head-up"),
    6: word("more than 30 degrees head-up"),
}


def classes_words(test: TestName) -> dict[int, str]:
    """Words for each class of a test's outcomes, as ``ranking.classes`` numbers them."""
    if test in CHECKS:
        right, wrong = CHECKS[test]
        return {0: wrong, 1: right}
    return DRIFTED if test in DRIFTS else LAY


def how_to(test: TestName, kilogram: str) -> str:
    """How a test is done; ``kilogram`` : where one is moved."""
    if test == "kilogram":
        return note(
            "a buddy moves a kilogram from the waist {where}; make neutral, lie flat and freeze: watch for 10 s",
            where=known(kilogram),
        )
    return HOW[test]


def typed_like(test: TestName) -> str:
    """What is typed of it."""
    return f"{test}: {FOUND.get(test, 'head-down in 5 s')}"


def balance_words(moment: float) -> str:
    """A moment [N m, plus turns head-up] as divers say it."""
    if abs(moment) < TURNS:
        return note("in balance")
    return note("foot-heavy") if moment > 0.0 else note("head-heavy, or light in the feet")


def finding(cause: Cause, part: Part, moment: float) -> str:
    """The cause with what is known of it; ``part`` : the likeliest of its parts, ``moment`` [N m]."""
    if cause.name == "balance":
        return note("{finding}: {balance}", finding=known(cause.finding), balance=balance_words(moment))
    if part == "feet":
        return note("{finding}, in the feet", finding=known(cause.finding))
    if part == "shoulders":
        return note("{finding}, in the shoulders", finding=known(cause.finding))
    return cause.finding


def why_words(cause: Cause, part: Part, moment: float) -> str:
    """What the diver does, in one sentence without full stop."""
    if cause.name == "gas":
        if part == "feet":
            return note("it has gone to the feet and holds them up")
        if moment < -TURNS:
            return note("it has gone to the shoulders and holds them up, which light feet still outweigh")
        return note("it has gone to the shoulders and holds them up")
    return cause.why
