"""What is written on the picture of a diver, in the reader's language."""

from __future__ import annotations

from math import degrees, isfinite
from typing import Final

from sim.said import word
from sim.settling.settle import Settled
from sim.telling.language import quantity, say, told
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.words import attitude_words, moment_words
from sim.telling.words import degrees as degrees_words

VIEW_NAMES: Final = {
    "side": word("from the side"),
    "front": word("from ahead"),
    "top": word("from above"),
    "three-quarter": word("from ahead and aside"),
}
SHORT: Final = {  # names of groups as they stand at an arrow
    "cylinders with valves and bands": word("cylinders, valves, bands"),
    "regulators and hoses": word("regulators, hoses"),
    "hood, mask, gloves, boots": word("hood, gloves, boots"),
    "rebreather and its counterlungs": word("rebreather"),
    "gas in the cylinders": word("cylinder gas"),
    "plate and harness": word("plate, harness"),
    "lights and other gear": word("lights, other gear"),
    "stage cylinders": word("stages"),
}
LENGTHS: Final = word("Length of an arrow: how hard a thing turns you.")
SCALES: Final = word("Weight and buoyancy have a scale of their own.")
HEAD_UP: Final = word("turns head-up")
HEAD_DOWN: Final = word("turns head-down")
PASSES: Final = word("as it should be")
FAILS: Final = word("not so")
HORIZON: Final = word("horizon")
WEIGHT: Final = word("weight")
BUOYANCY: Final = word("buoyancy")
HELD: Final = word("Let go, kept from rolling:")
FREE: Final = word("Let go, free to roll:")
INDIFFERENT: Final = word("Let go: you stay as you are put, in any attitude.")


def headline(moment: float) -> str:
    """What turns the diver held flat."""
    if abs(moment) < NO_MOMENT:
        return say("Held flat: nothing turns you.")
    return say("Held flat: you are turned {moment}{lead}", moment=moment_words(moment), lead=like_lead(moment))


def way_words(moment: float) -> tuple[str, str]:
    """How hard and which way a moment turns the diver, in two lines."""
    return quantity(abs(moment), "N m", 1), told(HEAD_UP if moment > 0.0 else HEAD_DOWN)


def force_words(name: str, force: float) -> str:
    """A force [N] with its name."""
    return f"{told(name)} {quantity(force, 'N', 0)}"


def item_words(name: str, moment: float) -> tuple[str, str]:
    """A thing's name and how hard it turns the diver."""
    return told(SHORT.get(name, name)), quantity(abs(moment), "N m", 1)


def rest_words(rest: float) -> str:
    """What the things without an arrow do together."""
    return say("All that has no arrow, together: {moment}.", moment=moment_words(rest))


def thicker_words(enlarged: float) -> str:
    """What the scale of the suit's gas is of."""
    if enlarged == 1.0:
        return say("gas in the suit")
    return say("gas in the suit (drawn {times} times as thick)", times=f"{enlarged:g}")


def after_words(time: float, pitch: float, roll: float) -> tuple[str, str]:
    """A moment of the motion: when, and how the diver lies then (angles in radians)."""
    return say("after {time}", time=quantity(time, "s", 0)), attitude_words(degrees(pitch), degrees(roll))


def end_words(settled: Settled) -> tuple[str, str]:
    """How the motion ends, and how the diver lies then."""
    time, where = quantity(settled.time, "s", 0), attitude_words(degrees(settled.pitch), degrees(settled.roll))
    if settled.outcome == "at rest":
        late = say("at rest after at least {time}", time=time)
        return late if settled.outlasted else say("at rest after {time}", time=time), where
    if settled.outcome == "past the vertical":
        late = say("tipped over, at rest after at least {time}", time=time)
        return late if settled.outlasted else say("tipped over, at rest after {time}", time=time), where
    if settled.outcome == "poised":
        return say("poised after {time}", time=time), where
    if settled.outcome == "risen":
        return say("floats up, after {time}", time=time), where
    if settled.outcome == "sunk":
        return say("sinks, after {time}", time=time), where
    return say("still moving after {time}", time=time), where


def plate_words(length: float, below: float, narrower: float) -> tuple[str, ...]:
    """The plate's length, how far its top is below the bone that sticks out of the neck, whether it is too wide [m].

    narrower : than the back, a side, where least
    """
    first = say("plate {length} long", length=quantity(100.0 * length, "cm", 0))
    if narrower < 0.0:
        return first, say("{size} a side wider than the back", size=quantity(-100.0 * narrower, "cm", 1))
    if below >= 0.0:
        return first, say("top {below} below the neck bone", below=quantity(100.0 * below, "cm", 0))
    return first, say("top {above} above the neck bone", above=quantity(-100.0 * below, "cm", 0))


def strap_words(above: float, place: str) -> tuple[str, ...]:
    """How far the waist strap runs above the natural waist [m], and where that is."""
    size = quantity(abs(100.0 * above), "cm", 1)
    if abs(above) < 5e-4:
        first = say("waist strap at the waist's middle")
    elif above > 0.0:
        first = say("waist strap {size} above the waist's middle", size=size)
    else:
        first = say("waist strap {size} below the waist's middle", size=size)
    return first, told(place)


def hand_words(side: str, margin: float) -> tuple[str, ...]:
    """Whether a hand gets to its valve and by how much [m]."""
    name = say("left hand") if side == "left" else say("right hand")
    size = quantity(abs(100.0 * margin), "cm", 0) if isfinite(margin) else ""
    if not size:
        return name, say("no way to the valve")
    return name, say("{size} to spare at the valve", size=size) if margin >= 0.0 else say("{size} short", size=size)


def ahead_words(angle: float) -> tuple[str, ...]:
    """The highest that the eyes look at [degrees], plus above straight ahead."""
    if abs(angle) < 0.5:
        return say("eyes see up to"), say("straight ahead")
    size = degrees_words(angle)
    ahead = say("{size} above ahead", size=size) if angle > 0.0 else say("{size} below ahead", size=size)
    return say("eyes see up to"), ahead
