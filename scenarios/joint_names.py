"""The joint angles a pose may set, by plain name; without "left" or "right" both sides are meant.

Zero is standing upright with the arms hanging, palms to the thighs. Signs are those of clinical motion names:
flexion closes the joint (hip: thigh forward; shoulder: arm forward and up), plantarflexion points the toes.
The ranges are means of AAOS and Boone & Azen 1979 with about 2 SD to either side.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final

from scenarios.errors import InnerError
from scenarios.units import UnitError, parse

# least and greatest angle in degrees
PAIRED: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "shoulder flexion": (-60.0, 190.0),
        "shoulder abduction": (-20.0, 120.0),
        "elbow flexion": (-10.0, 155.0),
        "pronation": (-90.0, 180.0),
        "wrist extension": (-85.0, 85.0),
        "hip flexion": (-30.0, 130.0),
        "hip abduction": (-10.0, 60.0),
        "knee flexion": (-5.0, 150.0),
        "ankle plantarflexion": (-35.0, 75.0),
    }
)
MIDDLE: Final[Mapping[str, tuple[float, float]]] = MappingProxyType({"neck extension": (-60.0, 90.0)})


def joint_ranges() -> dict[str, tuple[float, float]]:
    """Range in degrees of every name that may be written, one-sided names last."""
    sided = {f"{side} {joint}": span for side in ("left", "right") for joint, span in PAIRED.items()}
    return {**MIDDLE, **PAIRED, **sided}


def standard_joints(given: Mapping[str, Any]) -> dict[str, Any]:
    """The same angles under their standard names. Raises InnerError for an unknown joint or angle."""
    known = joint_ranges()
    found: dict[str, Any] = {}
    for key, value in given.items():
        name = " ".join(key.lower().replace("_", " ").replace("-", " ").split())
        if name not in known:
            near = difflib.get_close_matches(name, known, n=1)
            meant = f'did you mean "{near[0]}"? ' if near else ""
            message = f'"{key}" is no joint angle known here; {meant}known: {", ".join((*MIDDLE, *PAIRED))}'
            raise InnerError(message, "joints", key)
        if name in found:
            raise InnerError(f'"{name}" is given twice', "joints", key)
        _check_range(name, known[name], value, key)
        found[name] = value
    return found


def _check_range(name: str, span: tuple[float, float], value: Any, key: str) -> None:
    """Only texts that are angles are looked at; the rest is refused where the quantity is read."""
    try:
        degrees = parse("angle", value) / parse("angle", "1 deg") if isinstance(value, str) else span[0]
    except UnitError:
        return
    if not span[0] - 1e-9 <= degrees <= span[1] + 1e-9:
        message = f'{name} "{value}" is more than a joint does: {span[0]:g} to {span[1]:g} deg'
        raise InnerError(message, "joints", key)
