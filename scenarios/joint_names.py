"""The joint angles a pose may set, by plain name; without "left" or "right" both sides are meant.

Zero is standing upright with the arms hanging, palms to the thighs. Signs are those of clinical motion names:
flexion closes the joint (hip: thigh forward; shoulder: arm forward and up; ankle plantarflexion: toes away).
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Any, Final

from scenarios.errors import InnerError

PAIRED: Final = (
    "shoulder flexion",
    "shoulder abduction",
    "elbow flexion",
    "hip flexion",
    "hip abduction",
    "knee flexion",
    "ankle plantarflexion",
)
MIDDLE: Final = ("neck extension", "back extension")


def joint_names() -> tuple[str, ...]:
    """All names, both-sided ones first."""
    return (*MIDDLE, *PAIRED, *(f"{side} {joint}" for side in ("left", "right") for joint in PAIRED))


def standard_joints(given: Mapping[str, Any]) -> dict[str, Any]:
    """The same angles under their standard names. Raises InnerError for a name that is not known."""
    known = joint_names()
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
        found[name] = value
    return found
