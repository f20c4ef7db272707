"""Causes, tests and outcomes as an instructor says them."""

from __future__ import annotations

from typing import Final

from sim.answers.seen.behaviour import Part
from sim.answers.seen.causes import Cause
from sim.answers.seen.typed import CHECKS, DRIFTS, TestName

TURNS: Final = 2.0  # N m, below which nobody is called foot-heavy or light

HOW: Final[dict[TestName, str]] = {
    "freeze": "stop everything, fins too, and hold the posture: watch for 10 s which way they go",
    "legs straight": "stretch the legs, hold still: watch for 10 s which way they go",
    "fin on": "fin on gently, as they usually do: see how the trunk lies then",
    "feel": "a buddy squeezes boots and lower legs: are they full of gas?",
    "look down": "look straight down at the bottom and go on as before: see how the trunk lies then",
    "gas out": "upright, let gas out of the suit, make neutral with the wing, lie flat and freeze: watch for 10 s",
    "kilogram": "a buddy moves a kilogram from the waist {}; make neutral, lie flat and freeze: watch for 10 s",
    "rig down": "a buddy pulls the rig down at the plate and the crotch strap: does it come down by 2 cm or more?",
    "count": "count the lead, look where it sits, read the gauge: is all as the file says?",
}
FOUND: Final[dict[TestName, str]] = {
    "look down": "5 deg head-up",
    "fin on": "15 deg head-up",
    "feel": "full",
    "rig down": "came down",
    "count": "otherwise",
}
DRIFTED: Final = {
    0: "stays for 10 s",
    2: "head-down in 6 to 10 s",
    3: "head-down in 3 to 6 s",
    4: "head-down within 3 s",
    5: "head-up within 3 s",
    6: "head-up in 3 to 6 s",
    7: "head-up in 6 to 10 s",
}
LAY: Final = {
    0: "more than 30 degrees head-down",
    1: "15 to 30 degrees head-down",
    2: "5 to 15 degrees head-down",
    3: "flat within 5 degrees",
    4: "5 to 15 degrees head-up",
    5: "15 to 30 degrees head-up",
    6: "more than 30 degrees head-up",
}


def classes_words(test: TestName) -> dict[int, str]:
    """Words for each class of a test's outcomes, as ``ranking.classes`` numbers them."""
    if test in CHECKS:
        right, wrong = CHECKS[test]
        return {0: wrong, 1: right}
    return DRIFTED if test in DRIFTS else LAY


def how_to(test: TestName, kilogram: str) -> str:
    """How a test is done; ``kilogram`` : where one is moved."""
    return HOW[test].format(kilogram)


def typed_like(test: TestName) -> str:
    """What is typed of it."""
    return f"{test}: {FOUND.get(test, 'head-down in 5 s')}"


def balance_words(moment: float) -> str:
    """A moment [N m, plus turns head-up] as divers say it."""
    if abs(moment) < TURNS:
        return "in balance"
    return "foot-heavy" if moment > 0.0 else "head-heavy, or light in the feet"


def finding(cause: Cause, part: Part, moment: float) -> str:
    """The cause with what is known of it; ``part`` : the likeliest of its parts, ``moment`` [N m]."""
    if cause.name == "balance":
        return f"{cause.finding}: {balance_words(moment)}"
    if part in ("feet", "shoulders"):
        return f"{cause.finding}, in the {part}"
    return cause.finding


def why_words(cause: Cause, part: Part, moment: float) -> str:
    """What the diver does, in one sentence without full stop."""
    if cause.name == "gas":
        against = part == "shoulders" and moment < -TURNS
        return f"it has gone to the {part} and holds them up{', which light feet still outweigh' if against else ''}"
    return cause.why
