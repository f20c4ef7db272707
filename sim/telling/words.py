"""Numbers of a report as people say them: head-up and head-down, on the back, kilograms at half a metre."""

from __future__ import annotations

import math
import re
import textwrap
from collections.abc import Iterable
from typing import Final

from sim.telling.language import comma, in_unit, quantity, say, say_count, unit_name
from sim.telling.lead_words import NO_MOMENT

WIDTH: Final = 100
NO_ANGLE: Final = 0.5  # degrees, below what anyone can see
NO_WEIGHT: Final = 0.005  # kg, below the shown digits
NEARLY_UPRIGHT: Final = 80.0  # degrees of pitch; from here on roll says nothing that can be seen

GLUE: Final = "\N{NO-BREAK SPACE}"
_SET_APART: Final = re.compile(r" (?=[:;?!»](?:\s|$))|(?<=«) ")
_NUMBER_AND_UNIT: Final = re.compile(
    r"[0-9] (?:%|(?:N m(?:/rad)?|degrees?|Grad|degrés?|stop(?:ień|nie|ni)|kg|bar|[cm]?m|l|s|lbf ft(?:/rad)?|lb|psi"
    r"|ft|in|cu ft)\b)"
)


def heavy_or_light(net_buoyancy: float) -> str:
    """Net buoyancy [kg], plus floats, in words."""
    if abs(net_buoyancy) < NO_WEIGHT:
        return say("neutral: neither sinks nor floats up")
    size = quantity(abs(net_buoyancy), "kg", 2)
    return say("{size}, floats up", size=size) if net_buoyancy > 0 else say("{size}, sinks", size=size)


def light_or_heavy(net_buoyancy: float) -> str:
    """Net buoyancy [kg], plus floats, as what it is for whoever wants to hang still."""
    if abs(net_buoyancy) < NO_WEIGHT:
        return say("neutral")
    size = quantity(abs(net_buoyancy), "kg", 1)
    return say("{size} too light", size=size) if net_buoyancy > 0 else say("{size} too heavy", size=size)


def moment_words(moment: float) -> str:
    """Trimming moment [N m], plus turns head-up, in words."""
    if abs(moment) < NO_MOMENT:
        return say("nothing")
    size = quantity(abs(moment), "N m", 1)
    return say("{size} head-up", size=size) if moment > 0 else say("{size} head-down", size=size)


def pitch_words(pitch: float) -> str:
    """Pitch [degrees], plus head-up, in words."""
    if abs(pitch) < NO_ANGLE:
        return say("level")
    size = degrees(pitch)
    return say("{size} head-up", size=size) if pitch > 0 else say("{size} head-down", size=size)


def as_printed(text: str) -> str:
    """Units as a printed page has them, where a file and a terminal have signs that any keyboard has."""
    return text.replace("^3", "³").replace("^2", "²")


def thickness_words(thickness: float, *, unit: bool) -> str:
    """A thickness [m] on the scale of the suit's gas, with its ``unit`` or not."""
    depth, name = in_unit(1000.0 * thickness, "mm"), unit_name("mm")
    value = comma(f"{depth:g}" if name == "mm" else f"{depth:.2g}")
    return f"{value} {name}" if unit else value


def degrees(angle: float) -> str:
    """Size of an angle [degrees], as "1 degree" or "17 degrees"."""
    return say_count("{n} degree", "{n} degrees", round(abs(angle)))


def attitude_words(pitch: float, roll: float) -> str:
    """Pitch and roll [degrees] (plus head-up, plus left side up) in words.

    A pitch beyond the vertical, as with roll held, is said as one looks then: on the back.
    """
    if abs(pitch) > 90.0:
        pitch, roll = math.copysign(180.0 - abs(pitch), pitch), roll - math.copysign(180.0, roll)
    if abs(pitch) > NEARLY_UPRIGHT:
        return f"{say('upright') if pitch > 0 else say('standing on the head')}, {pitch_words(pitch)}"
    if abs(roll) < NO_ANGLE:
        lie = say("face down")
    elif abs(roll) > 180.0 - NO_ANGLE:
        lie = say("on the back")
    else:
        lie = _leaning(roll)
    return f"{pitch_words(pitch)}, {lie}"


def _leaning(roll: float) -> str:
    """A roll [degrees] between face down and on the back, plus left side up."""
    if abs(roll) < 90.0:
        size = degrees(roll)
        if roll > 0:
            return say("rolled {size}, left side up", size=size)
        return say("rolled {size}, right side up", size=size)
    size = degrees(180.0 - abs(roll))
    if roll > 0:
        return say("on the back, {size} off it with the left side up", size=size)
    return say("on the back, {size} off it with the right side up", size=size)


def wrapped(text: str, first: str = "", later: str | None = None) -> list[str]:
    """Lines of at most WIDTH characters, the first behind ``first``, the others behind ``later``.

    A number and its unit stay on one line, as does a sign that French sets apart from the word before it.
    """
    later = first if later is None else later
    lines = textwrap.wrap(
        unbroken(text),
        WIDTH,
        initial_indent=first,
        subsequent_indent=later,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(GLUE, " ") for line in lines]


def unbroken(text: str) -> str:
    """The text with GLUE in place of the spaces between a number and its unit, and before a sign set apart."""
    return _SET_APART.sub(GLUE, _NUMBER_AND_UNIT.sub(lambda found: found[0].replace(" ", GLUE), text))


def bullets(heading: str, texts: Iterable[str]) -> list[str]:
    """A heading and one wrapped item for each text; nothing at all when there is no text."""
    lines = [line for text in texts for line in wrapped(text, "  - ", "    ")]
    return ["", heading, *lines] if lines else []


def rows(heading: str, pairs: Iterable[tuple[str, str]]) -> list[str]:
    """A heading and two columns, the second wrapped within its own width."""
    pairs = list(pairs)
    width = max((len(name) for name, _ in pairs), default=0)
    lines = [line for name, text in pairs for line in wrapped(text, f"  {name:<{width}}  ", " " * (width + 4))]
    return ["", heading, *lines] if lines else []
