"""What is written on the picture of a diver: whole sentences and names, apart from numbers."""

from __future__ import annotations

from math import degrees
from typing import Final

from sim.drawing.marks import moment_in_words
from sim.settling.settle import Settled
from sim.telling.lead_words import like_lead
from sim.telling.words import attitude_words

VIEW_NAMES: Final = {
    "side": "from the side",
    "front": "from ahead",
    "top": "from above",
    "three-quarter": "from ahead and aside",
}
SHORT: Final = {  # names of groups as they stand at an arrow
    "cylinders with valves and bands": "cylinders, valves, bands",
    "regulators and hoses": "regulators, hoses",
    "hood, mask, gloves, boots": "hood, gloves, boots",
    "rebreather and its counterlungs": "rebreather",
    "gas in the cylinders": "cylinder gas",
    "plate and harness": "plate, harness",
    "lights and other gear": "lights, other gear",
    "stage cylinders": "stages",
}
LENGTHS: Final = "Length of an arrow: how hard a thing turns you."
SCALES: Final = "Weight and buoyancy have a scale of their own."
HEAD_UP: Final = "turns head-up"
HEAD_DOWN: Final = "turns head-down"
HORIZON: Final = "horizon"
HELD: Final = "Let go, kept from rolling:"
FREE: Final = "Let go, free to roll:"
INDIFFERENT: Final = "Let go: you stay as you are put, in any attitude."


def headline(moment: float) -> str:
    """What turns the diver held flat."""
    return f"Held flat: {moment_in_words(moment)}{like_lead(moment)}"


def item_words(name: str, moment: float) -> tuple[str, str]:
    """A thing's name and how hard it turns the diver."""
    return SHORT.get(name, name), f"{abs(moment):.1f} N m"


def rest_words(rest: float) -> str:
    """What the things without an arrow do together."""
    return f"All without an arrow: {moment_in_words(rest)}."


def after_words(time: float, pitch: float, roll: float) -> tuple[str, str]:
    """A moment of the motion: when, and how the diver lies then (angles in radians)."""
    return f"after {time:.0f} s", attitude_words(degrees(pitch), degrees(roll))


def end_words(settled: Settled) -> tuple[str, str]:
    """How the motion ends, and how the diver lies then."""
    where = attitude_words(degrees(settled.pitch), degrees(settled.roll))
    least = "at least " if settled.outlasted else ""
    when = {
        "at rest": f"at rest after {least}{settled.time:.0f} s",
        "past the vertical": f"tipped over, at rest after {least}{settled.time:.0f} s",
        "poised": f"poised after {settled.time:.0f} s",
        "risen": f"floats up, after {settled.time:.0f} s",
        "sunk": f"sinks, after {settled.time:.0f} s",
    }.get(settled.outcome, f"still moving after {settled.time:.0f} s")
    return when, where
