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
from sim.said import word
from sim.telling.caution import CAUTION
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.language import quantity, say, set_apart, told
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.words import moment_words, rows, wrapped

FORMAT: Final = "hangflat.posture/1"
NOTHING: Final = word("next to nothing")
HOW: Final[dict[Held, str]] = {
    "hangs by itself": word("you hang by yourself: nothing carries you off."),
    "a small shift of the knees holds it": word("a small shift of the knees holds it."),
    "has to be held": word("it has to be held, with knees, hips or arms well away from where they rest."),
    "cannot be held": word("it cannot be held by posture: whoever stops finning goes over."),
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


def posture_text(answer: PostureAnswer) -> str:
    """First what it asks of the diver, then what trims it out, then how fast a drift grows."""
    p = answer.posture
    lines = [
        *wrapped(posture_headline(p)),
        *diver_lines(answer.title),
        *rows(say("What each lever makes up by itself, at most"), lever_words(p)),
        *rows(say("What a moment asks of this diver"), _asked(p)),
        *rows(say("Knees"), [(say("hang flat"), knee_words(p))]),
        *rows(say("When nobody holds"), [(say("a drift"), drift_words(p))]),
        *ending_lines(answer.notes, answer.estimated, answer.caution),
    ]
    return "\n".join(lines)


def posture_headline(p: Posture) -> str:
    """What turns the diver, and what that asks of them, in a sentence."""
    return say("Held flat, {turned}: {held_sentence}", turned=_turned(p.moment), held_sentence=held_sentence(p))


def held_sentence(p: Posture) -> str:
    """What the moment asks of the diver, as the end of a sentence."""
    if p.held == "hangs by itself" and p.time_to_double is not None:
        return say(
            "you hang by yourself, but for small corrections that nobody sees: stop them, and you drift by 30 "
            "degrees in {balance:.0f} s or later.",
            balance=IN_BALANCE,
        )
    return told(HOW[p.held])


def _turned(moment: float) -> str:
    if abs(moment) < NO_MOMENT:
        return say("nothing turns you")
    size, like = quantity(abs(moment), "N m", 1), like_lead(moment)
    if moment > 0.0:
        return say("you are turned head-up with {size}{like}", size=size, like=like)
    return say("you are turned head-down with {size}{like}", size=size, like=like)


def lever_words(p: Posture) -> Iterator[tuple[str, str]]:
    """Each lever, and what it makes up by itself."""
    for lever in p.levers:
        made = [
            f"{told(by)}: {moment_words(m)}"
            for m, by in ((lever.down, lever.down_by), (lever.up, lever.up_by))
            if _felt(m)
        ]
        yield told(lever.name), set_apart(made) or told(NOTHING)
    yield (
        say("all together"),
        say(
            "from {down} to {up}",
            down=moment_words(p.all_down),
            up=moment_words(p.all_up),
        ),
    )


def _felt(moment: float) -> bool:
    return abs(moment) >= NO_MOMENT


def _asked(p: Posture) -> Iterator[tuple[str, str]]:
    yield (
        say("hangs by itself"),
        say(
            "up to {unseen} either way: whoever stops moving drifts by 30 degrees in {balance:.0f} s or later, as "
            "divers in balance do (common practice)",
            unseen=quantity(p.unseen, "N m", 1),
            balance=IN_BALANCE,
        ),
    )
    knees = _both(p.unseen + p.knees_up, p.unseen - p.knees_down)
    yield (
        say("a small shift of the knees holds it"),
        say("{knees}: {small:.0f} degrees either way", knees=knees, small=SMALL),
    )
    yield (
        say("has to be held"),
        say("{both}: with all of the above", both=_both(p.unseen + p.all_up, p.unseen - p.all_down)),
    )
    yield say("cannot be held"), say("more than that, by posture: it takes the fins, or other gear")


def _both(down: float, up: float) -> str:
    """How much head-down and head-up is borne [N m]."""
    return say(
        "up to {down} head-down{like_lead} or {up} head-up",
        down=quantity(down, "N m", 1),
        like_lead=like_lead(down),
        up=quantity(up, "N m", 1, bare=True),
    )


def knee_words(p: Posture) -> str:
    """The bend of the knees that hangs flat."""
    knee = degrees(p.knee)
    if p.flat_knee is None:
        least, most = LOOKED_AT[0], LOOKED_AT[-1]
        return say(
            "no bend from {least:.0f} to {most:.0f} degrees does, all else as told (told: {knee:.0f})",
            least=least,
            most=most,
            knee=knee,
        )
    bend = degrees(p.flat_knee)
    return say(
        "at {bend:.0f} degrees of bend, all else as told (told: {knee:.0f}; 0 is straight)", bend=bend, knee=knee
    )


def drift_words(p: Posture) -> str:
    """What becomes of a small drift."""
    if p.time_to_double is None:
        return say("comes back by itself: {stiffness} turn it back", stiffness=quantity(p.stiffness, "N m/rad", 1))
    return say(
        "doubles in {time_to_double:.1f} s: small corrections, often, keep it small", time_to_double=p.time_to_double
    )
