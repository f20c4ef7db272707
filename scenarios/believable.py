"""What is silently believed of a number, a spread, a place or a load, for all kinds of file; and what is not.

A reason is a sentence for the user, "" where there is nothing to object to.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final

Point3 = tuple[float, float, float]

FARTHEST_POINT: Final = 10.0  # m, of a rig given as numbers, which no body bounds
# What is worn, in body heights from the middle of the hip joints. An arm stretched overhead ends at 0.73 (shoulder at
# 0.82 of the height, hips at 0.53, arm with hand 0.44) and a foot at 0.53: segment lengths as shares of height after
# Drillis and Contini 1966, from memory. Anything held in the hand or hung from a fin is nearer than 1.
FARTHEST_WORN: Final = 1.0
# Where a diver's body and back gear may be at all: headward, footward, sideways, to the back or front (same source;
# the elbows spread, a shank bent up, two cylinders on the back)
USUAL_WORN: Final = (0.75, 0.65, 0.35, 0.35)
# More than one's own weight in lead is held up by no wing or suit; a quarter of it is twice the 10 to 15 % that even
# a heavy drysuit asks for (common practice)
MOST_LEAD: Final = 1.0
USUAL_LEAD: Final = 0.25
# Of a value that cannot be less than nothing: with more, one case in forty would be (a normal spread, 2 SD)
MOST_SPREAD: Final = 0.5
# Values near nothing are told within what the scale shows: a small part of the believed range
LEAST_SPREAD: Final = 0.02


def number(value: Any) -> float | None:
    """A bare number of a file as a float; None for anything else, one that is not finite or lies beyond a double."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        found = float(value)
    except OverflowError:  # a whole number of more than 308 digits
        return None
    return found if math.isfinite(found) else None


def within(value: float, low: float, high: float) -> bool:
    """Whether a number is finite and lies between two, which may be infinite."""
    return math.isfinite(value) and low <= value <= high


def spread_doubt(value: float, sd: float, low: float, high: float, *, ratio: bool) -> str:
    """Why a standard deviation is not believed of a value between ``low`` and ``high`` (infinite where unbounded).

    ratio : whether nothing is a true zero for this quantity, as it is for a mass and not for a temperature in °C
    """
    width = high - low
    if not sd <= 0.5 * width or not math.isfinite(sd):
        return "it is wider than all that is believed of this"
    near_nothing = LEAST_SPREAD * width if math.isfinite(width) else 0.0
    if ratio and low >= 0.0 and not sd <= max(MOST_SPREAD * value, near_nothing):
        return "it is more than half of the value, so that one case in forty would be less than nothing"
    return ""


def is_correlation(matrix: Sequence[Sequence[float]], rounding: float) -> bool:
    """Whether a square matrix, written to ``rounding``, can be the correlations of anything."""
    import numpy as np

    found = np.array(matrix)
    tidy = np.allclose(found, found.T, atol=rounding) and np.allclose(np.diag(found), 1.0, atol=rounding)
    return tidy and bool(np.linalg.eigvalsh(found).min() > 0.0)


def worn_refusal(at: Point3, height: float) -> str:
    """Why nobody ``height`` [m] tall wears anything at a point [m, body axes]."""
    away = math.dist(at, (0.0, 0.0, 0.0))
    if away <= FARTHEST_WORN * height:
        return ""
    return (
        f"this is {away:.2f} m from the hips of a diver {height:.2f} m tall; what is worn lies on or near the body, "
        f"at most {FARTHEST_WORN * height:.2f} m from the middle of the hip joints (x to the head, y to the diver's "
        "left, z to the back, in metres)"
    )


def worn_doubt(at: Point3, height: float) -> str:
    """Where a point lies that is on no part of a diver ``height`` [m] tall, though within reach."""
    x, y, z = (c / height for c in at)
    head, foot, side, depth = USUAL_WORN
    for share, most, words in (
        (x, head, "beyond the head"),
        (-x, foot, "beyond the feet"),
        (abs(y), side, "to the side"),
        (z, depth, "behind the back"),
        (-z, depth, "before the chest"),
    ):
        if not share <= most:
            return f"lies {share * height:.2f} m from the hips {words}, where no part of the body is"
    return ""


def lead_refusal(lead: float, mass: float) -> str:
    """Why nobody of a mass [kg] wears so much lead [kg]."""
    if lead <= MOST_LEAD * mass:
        return ""
    return (
        f"the lead adds up to {lead:g} kg, more than the diver's own {mass:g} kg, which no wing or suit holds up; "
        "check the masses and their units"
    )


def lead_doubt(lead: float, mass: float) -> str:
    """What is odd about so much lead, though it can be computed."""
    if lead <= USUAL_LEAD * mass:
        return ""
    return (
        f"The lead adds up to {lead:g} kg, {lead / mass:.0%} of the diver's mass; with a drysuit 10 to 15 % is usual "
        "(common practice)."
    )
