"""Numbers of a report as people say them: head-up and head-down, on the back, kilograms at half a metre."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Final

from sim.rig import STANDARD_GRAVITY

WIDTH: Final = 100
NO_MOMENT: Final = 0.05  # N m, 10 g at half a metre: below what anyone can feel
NO_ANGLE: Final = 0.5  # degrees, below what anyone can see
NO_WEIGHT: Final = 0.005  # kg, below the shown digits


def kilograms_at_half_a_metre(moment: float) -> float:
    """Mass [kg] in standard gravity whose weight half a metre away makes ``moment`` [N m]."""
    return abs(moment) / (0.5 * STANDARD_GRAVITY)


def heavy_or_light(net_buoyancy: float) -> str:
    """Net buoyancy [kg], plus floats, in words."""
    if abs(net_buoyancy) < NO_WEIGHT:
        return "neutral: neither sinks nor floats up"
    return f"{abs(net_buoyancy):.2f} kg, {'floats up' if net_buoyancy > 0 else 'sinks'}"


def pitch_words(pitch: float) -> str:
    """Pitch [degrees], plus head-up, in words."""
    if abs(pitch) < NO_ANGLE:
        return "level"
    return f"{abs(pitch):.0f} degrees head-{'up' if pitch > 0 else 'down'}"


def attitude_words(pitch: float, roll: float) -> str:
    """Pitch and roll [degrees] (plus head-up, plus left side up) in words."""
    if abs(pitch) > 80.0:
        return f"upright, {pitch_words(pitch)}" if pitch > 0 else f"standing on the head, {pitch_words(pitch)}"
    if abs(roll) < NO_ANGLE:
        lie = "face down"
    elif abs(roll) > 180.0 - NO_ANGLE:
        lie = "on the back"
    else:
        side = "left" if roll > 0 else "right"
        lie = f"rolled {abs(roll):.0f} degrees, {side} side up"
        lie += ", on the back" if abs(roll) > 135.0 else ""
    return f"{pitch_words(pitch)}, {lie}"


def wrapped(text: str, first: str = "", later: str | None = None) -> list[str]:
    """Lines of at most WIDTH characters, the first behind ``first``, the others behind ``later``."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=first if later is None else later, break_long_words=False
    )


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
