"""What text and drawing say of each way of lying at the surface, in the same words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sim.answers.settle.afloat.answer import HeldAttitude, Lying, RestAfloat, Surface
from sim.rig import STANDARD_GRAVITY
from sim.telling.lead_words import NO_MOMENT
from sim.telling.words import degrees

SIDE: Final = 0.1  # sine of the tilt, about 6 degrees, from which on a side is said to be higher
HEADINGS: Final = {
    "face up": "lying back",
    "upright": "upright",
    "face down": "face down",
    "on the side": "on the side",
}
FACE_NAMES: Final = {"up": "face up", "down": "face down", "forward": "upright", "to the side": "on the side"}
TURNS: Final = {
    "up": "onto the back", "down": "face down", "forward": "upright", "to the side": "onto the side",
}  # fmt: skip


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
    told, shown = [], set()
    for attitude in surface.attitudes:
        number = attitude.leads_to_rest
        if attitude.stays and number is not None:
            shown.add(number)
            told.append(Lie(surface.rests[number].lying, attitude, surface.rests[number]))
        else:
            told.append(Lie(attitude.lying, attitude, None))
    return (*told, *(Lie(r.lying, None, r) for i, r in enumerate(surface.rests) if i not in shown))


def verdict(lie: Lie, surface: Surface) -> str:
    """Whether a diver held so stays so when left alone, and what becomes of one who does not."""
    attitude, turning = lie.attitude, surface.turning
    if attitude is None:
        return "a rest" if lie.rest is not None and lie.rest.stable else "would not stay"
    number = attitude.leads_to_rest
    if attitude.name == "face up" and turning.rights_from_10_deg_limbs_still > 0.0:
        return "stays so, limp as well" if turning.rights_from_10_deg > 0.0 else "stays so with limbs kept still"
    if attitude.stays:
        return "stays so when left alone"
    if number is None:
        return "must be held"
    return f"must be held: left alone, turns {TURNS[surface.rests[number].lying.face]}"


def trunk(lying: Lying) -> str:
    """The trunk's angle, which way it leans, and which side is higher; no way where it stands nearly upright."""
    angle = math.degrees(lying.trunk_from_vertical)
    if angle < 1.0:
        return "trunk upright"
    said = f"trunk {degrees(angle)} from the vertical"
    lean = {"up": ", leaning back", "down": ", leaning forward"}.get(lying.face, "")
    side = lying.up[1]
    return said + lean + ("" if abs(side) < SIDE else f", {'left' if side > 0.0 else 'right'} side higher")


def height(name: str, above: float) -> str:
    """How far ``name`` is over or under the water [m]."""
    return f"{name} {abs(1e3 * above):.0f} mm {'above the water' if above >= 0.0 else 'UNDER water'}"


def newtons(moment: float, surface: Surface) -> str:
    """A moment [N m] and what one would hold out at arm's length, in air, to feel it."""
    kilograms = abs(moment) / (STANDARD_GRAVITY * surface.arm_length)
    shown = f"{abs(moment):.0f}" if abs(moment) >= 9.95 else f"{abs(moment):.1f}"
    return f"{shown} N m, like {kilograms:.1f} kg held out at arm's length"


def asks(lie: Lie, surface: Surface) -> list[str]:
    """What an attitude asks of a diver who wants to keep it or to leave it: sentences."""
    told = {"face up": _back, "upright": _upright, "face down": _down, "on the side": _side}
    return [] if lie.attitude is None else told[lie.attitude.name](lie.attitude, surface)


def _back(attitude: HeldAttitude, surface: Surface) -> list[str]:
    turning = surface.turning
    still, limp = turning.rights_from_10_deg_limbs_still, turning.rights_from_10_deg
    said = [f"Tipped 10 degrees to a side, limbs kept still: {_rights(still)}; all limbs limp: {_rights(limp)}."]
    if turning.sit_up > NO_MOMENT:
        said.append(f"Leaning forward to upright is an effort: up to {newtons(turning.sit_up, surface)}.")
    return said


def _rights(moment: float) -> str:
    if abs(moment) < NO_MOMENT:
        return "nothing turns"
    return f"{abs(moment):.0f} N m {'bring you back' if moment > 0.0 else 'roll you on'}"


def _upright(attitude: HeldAttitude, surface: Surface) -> list[str]:
    moment, wing, tips = attitude.moment, attitude.wing_moment or 0.0, surface.turning.tips_back_from
    if abs(moment) < NO_MOMENT:
        said = ["Nothing turns a diver who keeps the trunk upright"]
    else:
        way = "forward, the face toward the water," if moment > 0.0 else "back"
        said = [f"Pushed {way} with {newtons(moment, surface)}"]
    said[0] += f" (the wing's gas alone pushes {_way(wing)} {abs(wing):.0f} N m)." if abs(wing) >= 0.5 else "."
    if tips is not None:
        said.append(f"Leaning back by more than {degrees(math.degrees(tips))} carries onto the back.")
    return said


def _way(moment: float) -> str:
    return "forward with" if moment > 0.0 else "back with"


def _down(attitude: HeldAttitude, surface: Surface) -> list[str]:
    if not surface.turning.turn_up > NO_MOMENT:
        return ["Nothing resists turning onto the back over a side."]
    return [f"Turning onto the back over a side takes up to {newtons(surface.turning.turn_up, surface)}."]


def _side(attitude: HeldAttitude, surface: Surface) -> list[str]:
    moment = attitude.moment
    if attitude.stays:
        return []
    if abs(moment) < NO_MOMENT:
        return ["Held square on the side, nothing turns."]
    way = "onto the back" if moment > 0.0 else "face down"
    return [f"Held square on the side, pushed {way} with {newtons(moment, surface)}."]


def heading(lie: Lie) -> str:
    """What a way of lying is called."""
    return FACE_NAMES[lie.lying.face] if lie.attitude is None else HEADINGS[lie.attitude.name]


def reached(names: Sequence[str]) -> str:
    """What leads to a rest."""
    return "reached from " + " and ".join(HEADINGS[n] for n in names)
