"""What text and drawing say of each way of lying at the surface, from the ``surface`` object, in the same words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from sim.telling.lead_words import NO_MOMENT
from sim.telling.words import degrees

Object = Mapping[str, Any]
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


def verdict(lie: Object, surface: Object) -> str:
    """Whether a diver held so stays so when left alone, and what becomes of one who does not."""
    if "name" not in lie:
        return "a rest" if lie["stable"] else "would not stay"
    number = lie["leads_to_rest"]
    if lie["name"] == "face up" and surface["rights_from_10_deg_limbs_still_nm"] > 0.0:
        return (
            "stays so, limp as well" if surface["rights_from_10_deg_nm"] > 0.0 else "stays so with limbs kept still"
        )
    if lie["stays"]:
        return "stays so when left alone"
    if number is None:
        return "must be held"
    return f"must be held: left alone, turns {TURNS[surface['rests'][number]['face']]}"


def trunk(lie: Object) -> str:
    """The trunk's angle, which way it leans, and which side is higher; no way where it stands nearly upright."""
    if lie["trunk_from_vertical_deg"] < 1.0:
        return "trunk upright"
    said = f"trunk {degrees(lie['trunk_from_vertical_deg'])} from the vertical"
    lean = {"up": ", leaning back", "down": ", leaning forward"}.get(lie["face"], "")
    side = lie["up"][1]
    return said + lean + ("" if abs(side) < SIDE else f", {'left' if side > 0.0 else 'right'} side higher")


def height(name: str, above: float) -> str:
    """How far ``name`` is over or under the water [mm]."""
    return f"{name} {abs(above):.0f} mm {'above the water' if above >= 0.0 else 'UNDER water'}"


def newtons(moment: float, surface: Object) -> str:
    """A moment [N m] and what one would hold out at arm's length, in air, to feel it."""
    from sim.rig import STANDARD_GRAVITY

    kilograms = abs(moment) / (STANDARD_GRAVITY * surface["arm_length_m"])
    shown = f"{abs(moment):.0f}" if abs(moment) >= 9.95 else f"{abs(moment):.1f}"
    return f"{shown} N m, like {kilograms:.1f} kg held out at arm's length"


def asks(lie: Object, surface: Object) -> list[str]:
    """What an attitude asks of a diver who wants to keep it or to leave it: sentences."""
    told = {"face up": _back, "upright": _upright, "face down": _down, "on the side": _side}
    return told[lie["name"]](lie, surface) if "name" in lie else []


def _back(lie: Object, surface: Object) -> list[str]:
    still, limp = surface["rights_from_10_deg_limbs_still_nm"], surface["rights_from_10_deg_nm"]
    said = [f"Tipped 10 degrees to a side, limbs kept still: {_rights(still)}; all limbs limp: {_rights(limp)}."]
    if surface["sit_up_nm"] > NO_MOMENT:
        said.append(f"Leaning forward to upright is an effort: up to {newtons(surface['sit_up_nm'], surface)}.")
    return said


def _rights(moment: float) -> str:
    if abs(moment) < NO_MOMENT:
        return "nothing turns"
    return f"{abs(moment):.0f} N m {'bring you back' if moment > 0.0 else 'roll you on'}"


def _upright(lie: Object, surface: Object) -> list[str]:
    moment, wing = lie["moment_nm"], lie["wing_moment_nm"]
    if abs(moment) < NO_MOMENT:
        said = ["Nothing turns a diver who keeps the trunk upright"]
    else:
        way = "forward, the face toward the water," if moment > 0.0 else "back"
        said = [f"Pushed {way} with {newtons(moment, surface)}"]
    said[0] += f" (the wing's gas alone pushes {_way(wing)} {abs(wing):.0f} N m)." if abs(wing) >= 0.5 else "."
    if surface["tips_back_from_deg"] is not None:
        said.append(f"Leaning back by more than {degrees(surface['tips_back_from_deg'])} carries onto the back.")
    return said


def _way(moment: float) -> str:
    return "forward with" if moment > 0.0 else "back with"


def _down(lie: Object, surface: Object) -> list[str]:
    if not surface["turn_up_nm"] > NO_MOMENT:
        return ["Nothing resists turning onto the back over a side."]
    return [f"Turning onto the back over a side takes up to {newtons(surface['turn_up_nm'], surface)}."]


def _side(lie: Object, surface: Object) -> list[str]:
    moment = lie["moment_nm"]
    if lie["stays"]:
        return []
    if abs(moment) < NO_MOMENT:
        return ["Held square on the side, nothing turns."]
    way = "onto the back" if moment > 0.0 else "face down"
    return [f"Held square on the side, pushed {way} with {newtons(moment, surface)}."]


def told_lies(surface: Object) -> list[Object]:
    """What is told and drawn, in order: each attitude, with the numbers of the rest it is where it stays by itself,
    then every rest that is not among them."""
    told: list[Object] = []
    shown = set()
    for attitude in surface["attitudes"]:
        number = attitude["leads_to_rest"]
        if attitude["stays"]:
            shown.add(number)
            told.append({**attitude, **surface["rests"][number]})
        else:
            told.append(attitude)
    return told + [rest for i, rest in enumerate(surface["rests"]) if i not in shown]


def heading(lie: Object) -> str:
    """What a way of lying is called."""
    return HEADINGS[lie["name"]] if "name" in lie else FACE_NAMES[lie["face"]]


def reached(names: Sequence[str]) -> str:
    """What leads to a rest."""
    return "reached from " + " and ".join(HEADINGS[n] for n in names)
