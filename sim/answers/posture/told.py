"""What posture can hold, as ``hangflat.posture/1`` and as plain text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees
from typing import Annotated, Final

from sim.answers.posture.drift import IN_BALANCE
from sim.answers.posture.levers import SMALL
from sim.answers.posture.posture import LOOKED_AT, Held, Posture, posture_of
from sim.case import Case
from sim.telling.caution import CAUTION
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.words import moment_words, rows, wrapped

FORMAT: Final = "hangflat.posture/1"
NOTHING: Final = "next to nothing"
HOW: Final[dict[Held, str]] = {
    "hangs by itself": "you hang by yourself: nothing carries you off.",
    "a small shift of the knees holds it": "a small shift of the knees holds it.",
    "has to be held": "it has to be held, with knees, hips or arms well away from where they rest.",
    "cannot be held": "it cannot be held by posture: whoever stops finning goes over.",
}


@dataclass(frozen=True, kw_only=True)
class PostureAnswer:
    """``hangflat.posture/1``: moments about the held point, the diver held flat."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("the scenario's title")]
    posture: Annotated[Posture, Told("what posture makes up", beside=True)]
    estimated: Annotated[tuple[str, ...], Told("what was estimated of the diver")]
    notes: Annotated[tuple[str, ...], Told("what is to be known besides")]
    caution: Annotated[str, Told("what the answer is good for")]


def posture_answer(case: Case) -> PostureAnswer:
    """Of a scenario's diver. Raises ScenarioError for a parts file or what cannot be built."""
    made = case.assembled
    return PostureAnswer(
        title=made.title, posture=posture_of(case), estimated=made.estimated, notes=made.notes, caution=CAUTION
    )


def posture_text(told: PostureAnswer) -> str:
    """First what it asks of the diver, then what trims it out, then how fast a drift grows."""
    p = told.posture
    lines = [
        *wrapped(posture_headline(p)),
        *diver_lines(told.title),
        *rows("What each lever makes up by itself, at most", lever_words(p)),
        *rows("What a moment asks of this diver", _asked(p)),
        *rows("Knees", [("hang flat", knee_words(p))]),
        *rows("When nobody holds", [("a drift", drift_words(p))]),
        *ending_lines(told.notes, told.estimated, told.caution),
    ]
    return "\n".join(lines)


def posture_headline(p: Posture) -> str:
    """What turns the diver, and what that asks of them, in a sentence."""
    return f"Held flat, {_turned(p.moment)}: {held_sentence(p)}"


def held_sentence(p: Posture) -> str:
    """What the moment asks of the diver, as the end of a sentence."""
    if p.held == "hangs by itself" and p.time_to_double is not None:
        return (
            "you hang by yourself, but for small corrections that nobody sees: stop them, and you drift by 30 "
            f"degrees in {IN_BALANCE:.0f} s or later."
        )
    return HOW[p.held]


def _turned(moment: float) -> str:
    if abs(moment) < NO_MOMENT:
        return "nothing turns you"
    way = "head-up" if moment > 0.0 else "head-down"
    return f"you are turned {way} with {abs(moment):.1f} N m{like_lead(moment)}"


def lever_words(p: Posture) -> Iterator[tuple[str, str]]:
    """Each lever, and what it makes up by itself."""
    for lever in p.levers:
        told = [
            f"{by}: {moment_words(m)}" for m, by in ((lever.down, lever.down_by), (lever.up, lever.up_by)) if _felt(m)
        ]
        yield lever.name, "; ".join(told) or NOTHING
    yield "all together", f"from {moment_words(p.all_down)} to {moment_words(p.all_up)}"


def _felt(moment: float) -> bool:
    return abs(moment) >= NO_MOMENT


def _asked(p: Posture) -> Iterator[tuple[str, str]]:
    drift = f"whoever stops moving drifts by 30 degrees in {IN_BALANCE:.0f} s or later, as divers in balance do"
    yield "hangs by itself", f"up to {p.unseen:.1f} N m either way: {drift} (common practice)"
    knees = _both(p.unseen + p.knees_up, p.unseen - p.knees_down)
    yield "a small shift of the knees holds it", f"{knees}: {SMALL:.0f} degrees either way"
    yield "has to be held", f"{_both(p.unseen + p.all_up, p.unseen - p.all_down)}: with all of the above"
    yield "cannot be held", "more than that, by posture: it takes the fins, or other gear"


def _both(down: float, up: float) -> str:
    """How much head-down and head-up is borne [N m]."""
    return f"up to {down:.1f} N m head-down{like_lead(down)} or {up:.1f} head-up"


def knee_words(p: Posture) -> str:
    """The bend of the knees that hangs flat."""
    told = degrees(p.knee)
    if p.flat_knee is None:
        least, most = LOOKED_AT[0], LOOKED_AT[-1]
        return f"no bend from {least:.0f} to {most:.0f} degrees does, all else as told (told: {told:.0f})"
    bend = degrees(p.flat_knee)
    return f"at {bend:.0f} degrees of bend, all else as told (told: {told:.0f}; 0 is straight)"


def drift_words(p: Posture) -> str:
    """What becomes of a small drift."""
    if p.time_to_double is None:
        return f"comes back by itself: {p.stiffness:.1f} N m/rad turn it back"
    return f"doubles in {p.time_to_double:.1f} s: small corrections, often, keep it small"
