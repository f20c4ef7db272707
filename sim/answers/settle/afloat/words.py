"""What text and drawing say of each way of lying at the surface, in the same words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sim.answers.settle.afloat.answer import HeldAttitude, Lying, RestAfloat, Surface
from sim.rig import STANDARD_GRAVITY
from sim.said import word
from sim.telling.language import quantity, say, told
from sim.telling.lead_words import NO_MOMENT
from sim.telling.words import degrees

SIDE: Final = 0.1  # sine of the tilt, about 6 degrees, from which on a side is said to be higher
HEADINGS: Final = {
    "face up": word("lying back"),
    "upright": word("upright"),
    "face down": word("face down"),
    "on the side": word("on the side"),
}
FACE_NAMES: Final = {
    "up": word("face up"),
    "down": word("face down"),
    "forward": word("upright"),
    "to the side": word("on the side"),
}
TURNS: Final = {
    "up": word("onto the back"),
    "down": word("face down"),
    "forward": word("upright"),
    "to the side": word("onto the side"),
}


LEANING: Final = {"up": word("leaning back"), "down": word("leaning forward")}


@dataclass(frozen=True, eq=False)
class Lie:
    """A way of lying that is told and drawn.

    attitude : which it is, None for a rest that is no attitude;  rest : None for an attitude that is no rest
    """

    lying: Lying
    attitude: HeldAttitude | None
    rest: RestAfloat | None


def lies_of(surface: Surface) -> tuple[Lie, ...]:
    """What is told and drawn, in order: each attitude, with the numbers of the rest it is where it stays by itself,
    then every rest that is not among them."""
    lies, shown = [], set()
    for attitude in surface.attitudes:
        number = attitude.leads_to_rest
        if attitude.stays and number is not None:
            shown.add(number)
            lies.append(Lie(surface.rests[number].lying, attitude, surface.rests[number]))
        else:
            lies.append(Lie(attitude.lying, attitude, None))
    return (*lies, *(Lie(r.lying, None, r) for i, r in enumerate(surface.rests) if i not in shown))


def verdict(lie: Lie, surface: Surface) -> str:
    """Whether a diver held so stays so when left alone, and what becomes of one who does not."""
    attitude, turning = lie.attitude, surface.turning
    if attitude is None:
        return say("a rest") if lie.rest is not None and lie.rest.stable else say("would not stay")
    number = attitude.leads_to_rest
    if attitude.name == "face up" and turning.rights_from_10_deg_limbs_still > 0.0:
        return (
            say("stays so, limp as well")
            if turning.rights_from_10_deg > 0.0
            else say("stays so with limbs kept still")
        )
    if attitude.stays:
        return say("stays so when left alone")
    if number is None:
        return say("must be held")
    return say("must be held: left alone, turns {way}", way=told(TURNS[surface.rests[number].lying.face]))


def trunk(lying: Lying) -> str:
    """The trunk's angle, which way it leans, and which side is higher; no way where it stands nearly upright."""
    angle = math.degrees(lying.trunk_from_vertical)
    if angle < 1.0:
        return say("trunk upright")
    said = say("trunk {angle} from the vertical", angle=degrees(angle))
    if lying.face in LEANING:
        said = f"{said}, {told(LEANING[lying.face])}"
    side = lying.up[1]
    if abs(side) < SIDE:
        return said
    return f"{said}, {say('left side higher') if side > 0.0 else say('right side higher')}"


def mouth_height(lying: Lying) -> str:
    """How far the mouth is over or under the water."""
    size = quantity(abs(1e3 * lying.mouth_above_water), "mm", 0)
    if lying.mouth_above_water >= 0.0:
        return say("mouth {size} above the water", size=size)
    return say("mouth {size} UNDER water", size=size)


def chest_height(lying: Lying) -> str:
    """How far the chest is over or under the water."""
    size = quantity(abs(1e3 * lying.chest_above_water), "mm", 0)
    if lying.chest_above_water >= 0.0:
        return say("chest {size} above the water", size=size)
    return say("chest {size} UNDER water", size=size)


def newtons(moment: float, surface: Surface) -> str:
    """A moment [N m] and what one would hold out at arm's length, in air, to feel it."""
    kilograms = abs(moment) / (STANDARD_GRAVITY * surface.arm_length)
    shown = quantity(abs(moment), "N m", 0 if abs(moment) >= 9.95 else 1)
    return say(
        "{shown}, like {kilograms} held out at arm's length", shown=shown, kilograms=quantity(kilograms, "kg", 1)
    )


def asks(lie: Lie, surface: Surface) -> list[str]:
    """What an attitude asks of a diver who wants to keep it or to leave it: sentences."""
    words = {"face up": _back, "upright": _upright, "face down": _down, "on the side": _side}
    return [] if lie.attitude is None else words[lie.attitude.name](lie.attitude, surface)


def _back(attitude: HeldAttitude, surface: Surface) -> list[str]:
    turning = surface.turning
    still, limp = turning.rights_from_10_deg_limbs_still, turning.rights_from_10_deg
    said = [
        say(
            "Tipped 10 degrees to a side, limbs kept still: {still}; all limbs limp: {limp}.",
            still=_rights(still),
            limp=_rights(limp),
        )
    ]
    if turning.sit_up > NO_MOMENT:
        said.append(
            say("Leaning forward to upright is an effort: up to {newtons}.", newtons=newtons(turning.sit_up, surface))
        )
    return said


def _rights(moment: float) -> str:
    if abs(moment) < NO_MOMENT:
        return say("nothing turns")
    size = quantity(abs(moment), "N m", 0)
    return say("{size} bring you back", size=size) if moment > 0.0 else say("{size} roll you on", size=size)


def _upright(attitude: HeldAttitude, surface: Surface) -> list[str]:
    moment, wing, tips = attitude.moment, attitude.wing_moment or 0.0, surface.turning.tips_back_from
    if abs(moment) < NO_MOMENT:
        words = say("Nothing turns a diver who keeps the trunk upright")
    elif moment > 0.0:
        words = say("Pushed forward, the face toward the water, with {newtons}", newtons=newtons(moment, surface))
    else:
        words = say("Pushed back with {newtons}", newtons=newtons(moment, surface))
    if abs(wing) < 0.5:
        said = [f"{words}."]
    elif wing > 0.0:
        size = quantity(abs(wing), "N m", 0)
        said = [say("{words} (the wing's gas alone pushes forward with {size}).", words=words, size=size)]
    else:
        size = quantity(abs(wing), "N m", 0)
        said = [say("{words} (the wing's gas alone pushes back with {size}).", words=words, size=size)]
    if tips is not None:
        said.append(say("Leaning back by more than {tips} carries onto the back.", tips=degrees(math.degrees(tips))))
    return said


def _down(attitude: HeldAttitude, surface: Surface) -> list[str]:
    if not surface.turning.turn_up > NO_MOMENT:
        return [say("Nothing resists turning onto the back over a side.")]
    return [
        say(
            "Turning onto the back over a side takes up to {newtons}.",
            newtons=newtons(surface.turning.turn_up, surface),
        )
    ]


def _side(attitude: HeldAttitude, surface: Surface) -> list[str]:
    moment = attitude.moment
    if attitude.stays:
        return []
    if abs(moment) < NO_MOMENT:
        return [say("Held square on the side, nothing turns.")]
    push = newtons(moment, surface)
    if moment > 0.0:
        return [say("Held square on the side, pushed onto the back with {push}.", push=push)]
    return [say("Held square on the side, pushed face down with {push}.", push=push)]


def heading(lie: Lie) -> str:
    """What a way of lying is called."""
    return told(FACE_NAMES[lie.lying.face] if lie.attitude is None else HEADINGS[lie.attitude.name])


def reached(names: Sequence[str]) -> str:
    """What leads to a rest."""
    return say("reached from {names}", names=say(" and ").join(told(HEADINGS[n]) for n in names))
