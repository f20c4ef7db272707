"""The words of the film, whole sentences each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import numpy as np

from sim.settling.settle import Settled
from sim.telling.language import comma, number, quantity, say, set_apart, told, unit_name
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.words import attitude_words, degrees, moment_words

LEVEL: Final = 0.5  # degrees


def caution() -> str:
    return say("A model, not a measurement: check in confined water with a qualified instructor.")


def moment_axis() -> str:
    return say("turned by [{unit}]", unit=unit_name("N m"))


def pitch_axis() -> str:
    return say("pitch [°]")


def held_moment_axis() -> str:
    return say("held flat, turned by [{unit}]", unit=unit_name("N m"))


def later_pitch_axis(seconds: float) -> str:
    return say("{time} s after letting go [°]", time=number(seconds, 0))


def seconds_axis() -> str:
    return say("seconds after letting go")


def pressure_axis() -> str:
    return say("pressure in the cylinders on the back")


def moment(moment: float, *, past: bool) -> str:
    """A moment [N m] in words; ``past`` the vertical, where head-up and head-down change sides, its size alone."""
    return quantity(abs(moment), "N m", 1) if past and abs(moment) >= NO_MOMENT else moment_words(moment)


def title(text: str) -> str:
    return text[:1].upper() + text[1:]


def let_go_from_flat(roll: Literal["held", "free"]) -> str:
    if roll == "held":
        return say("Held flat, then let go; kept from rolling")
    return say("Held flat, then let go; free to roll")


def pace(speed: float) -> str:
    """How film time and the diver's go together."""
    if speed == 1.0:
        return say("real time")
    if speed < 1.0:
        return say("slowed: 1 s of the diver takes {time} s", time=comma(f"{1.0 / speed:.3g}"))
    return say("{times} times as quick as real time", times=comma(f"{speed:.3g}"))


def held_flat(moment: float, *, like: bool = True) -> str:
    """``like`` : with what as much lead would do"""
    if abs(moment) < NO_MOMENT:
        return say("Held flat and motionless: nothing turns the diver.")
    lead = like_lead(moment) if like else ""
    return say("Held flat and motionless: turned by {moment}{like}.", moment=moment_words(moment), like=lead)


def let_go(suit: bool, wing: bool) -> str:
    """As the diver is let go, with what gas there is to move."""
    if suit and wing:
        return say("Let go: the gas in suit and wing runs to where it is highest.")
    if suit:
        return say("Let go: the gas in the suit runs to where it is highest.")
    if wing:
        return say("Let go: the gas in the wing runs to where it is highest.")
    return say("Let go.")


def let_go_again() -> str:
    return say("Let go again.")


def turned_past(angle: float, time: float) -> str:
    """angle : of pitch [degrees];  time : since letting go [s]"""
    size, when = degrees(angle), number(time, 1)
    if angle > 0.0:
        return say("{time} s after letting go: {size} head-up.", time=when, size=size)
    return say("{time} s after letting go: {size} head-down.", time=when, size=size)


def over_the_vertical(angle: float) -> str:
    """angle : of pitch [degrees]"""
    if angle > 0.0:
        return say("Past upright, and over onto the back.")
    return say("Past standing on the head, and over onto the back.")


def attitude(pitch: float) -> str:
    """Pitch [rad], beyond a right angle past the vertical, in words."""
    return attitude_words(float(np.degrees(pitch)), 0.0)


def short_attitude(pitch: float) -> str:
    """The same in as few words as will do beside a curve."""
    angle = float(np.degrees(pitch))
    size = abs(angle)
    if size < LEVEL:
        return say("level")
    if size > 90.0:
        size = round(180.0 - size)
        if angle > 0.0:
            return say("{size}° head-up, on the back", size=size)
        return say("{size}° head-down, on the back", size=size)
    size = round(size)
    return say("{size}° head-up", size=size) if angle > 0.0 else say("{size}° head-down", size=size)


def head_up() -> str:
    return say("head-up")


def head_down() -> str:
    return say("head-down")


def at_the_vertical(angle: float) -> str:
    """Beside the line of a right angle."""
    return say("upright") if angle > 0.0 else say("on the head")


def ends(settled: Settled, pitch: float, filmed: float, near: bool) -> str:
    """How the motion ends, or where it is when the film does.

    pitch : of the last picture [rad];  filmed : of the diver's time [s];  near : the diver only sways about rest then
    """
    where = attitude(pitch) if settled.roll_rule == "held" else rolled(settled, filmed)
    when = number(filmed, 0)
    if settled.outcome == "indifferent":
        return say("Stays as put: any attitude will do.")
    if settled.outcome in ("at rest", "past the vertical"):
        if filmed >= settled.time:
            return say("At rest {time} s after letting go: {where}.", time=number(settled.time, 0), where=where)
        if near:
            return say("Comes to rest: {where}.", where=where)
    if filmed < settled.time:
        return say("After {time} s: {where}, still turning.", time=when, where=where)
    return say("After {time} s, not at rest: {where}.", time=when, where=where)


def rolled(settled: Settled, filmed: float) -> str:
    """Pitch and roll of a diver free to roll, at a time [s]."""
    path = settled.path
    pitch = np.degrees(np.interp(filmed, path.time, path.pitch))
    roll = np.degrees(np.interp(filmed, path.time, np.unwrap(path.roll)))
    return attitude_words(float(pitch), float((roll + 180.0) % 360.0 - 180.0))


def from_to(first: str, last: str, time: float) -> str:
    """first, last : places on the axis"""
    return say(
        "From {first} to {last}, the diver shown {time} s after letting go.",
        first=first, last=last, time=number(time, 0),
    )  # fmt: skip


def emptying_under(time: float) -> str:
    return say("As the cylinders empty, at one depth; shown {time} s after letting go", time=number(time, 0))


def sweep_under(name: str, time: float) -> str:
    return say("What changes: {name}; shown {time} s after letting go", name=name, time=number(time, 0))


def at_place(place: str, moment: float) -> str:
    return say("At {place}: held flat, turned by {moment}.", place=place, moment=moment_words(moment))


def gas_breathed(used: float, wing: float) -> str:
    """used : mass of gas breathed [kg];  wing : how much less the wing holds [m^3]"""
    mass, volume = quantity(used, "kg", 1), quantity(1e3 * wing, "l", 1)
    if wing <= 0.0:
        return say("{mass} of gas is breathed.", mass=mass)
    return say(
        "{mass} of gas is breathed, and {volume} let out of the wing to stay neutral.", mass=mass, volume=volume
    )


def balanced_at(place: str) -> str:
    return say("Nothing turns the diver at about {place}.", place=place)


def correction() -> str:
    return say("How a correction works: held flat and let go, before and after it")


def before_and_after() -> tuple[str, str]:
    """Of two curves."""
    return say("before"), say("after")


def before(moment: float) -> str:
    return say("As it is: held flat, turned by {moment}.", moment=moment_words(moment))


def changing(changes: Sequence[str]) -> str:
    return say("Change: {changes}.", changes=set_apart(map(told, changes)))


def after(moment: float) -> str:
    return say("After the change: held flat, turned by {moment}.", moment=moment_words(moment))


def both(time: float, first: float, last: float) -> str:
    """Pitches [rad] some seconds after letting go, before and after."""
    return say(
        "{time} s after letting go. Before: {first}. After: {last}.",
        time=number(time, 0), first=short_attitude(first), last=short_attitude(last),
    )  # fmt: skip


def horizon() -> str:
    return say("horizon")


def weight(force: float) -> str:
    return say("weight {force}", force=quantity(force, "N", 0))


def buoyancy(force: float) -> str:
    return say("buoyancy {force}", force=quantity(force, "N", 0))


def gas_scale(enlarged: float) -> str:
    return say("gas in the suit (drawn {times}× as thick)", times=f"{enlarged:g}")


def gas_where() -> str:
    return say("gas in")


def places() -> tuple[str, str, str]:
    """Of gas: in the suit below the hips and above them, in the wing."""
    return say("legs"), say("trunk, arms"), say("wing")


def litres(volume: float) -> str:
    """volume : [m^3]"""
    return quantity(1e3 * volume, "l", 1)
