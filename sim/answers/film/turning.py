"""How the diver is turned to the onlooker from picture to picture, without a jump at the vertical."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.model.motion import least_turn
from sim.drawing.views import world_from_body

CUT: Final = float(np.cos(np.radians(20.0)))  # of the angle between two pictures beyond which another scene begins


def rotations(ups: Sequence[Floats], pitches: Sequence[float]) -> Floats:
    """(n, 3, 3) from body to world for ups (n, 3), each the least turn from the one before within a scene.

    pitches : (n,) [rad], beyond a right angle past the vertical, where the head points back
    """
    found: list[Floats] = []
    for number, (up, pitch) in enumerate(zip(ups, pitches, strict=True)):
        before = ups[number - 1] if number else up
        if number and float(before @ up) > CUT:
            found.append(found[-1] @ least_turn(up, before))
        else:
            back = -1.0 if abs(pitch) > 0.5 * np.pi else 1.0
            found.append(np.diag([back, back, 1.0]) @ world_from_body(up))
    return np.array(found)
