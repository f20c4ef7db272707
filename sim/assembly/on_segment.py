"""How things are fixed to a segment of the posed body."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.assembly.placement import Placement
from sim.person.posed_body import PosedBody

# what is worn on a foot, x to the toes, z up from the sole: one column an axis, in the standing body's axes
TOES_FIRST: Final = np.array([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
SOLE: Final = 0.008  # m of boot sole between foot and fin (assumed)


def on_segment(body: PosedBody, segment: str, standing: ArrayLike, frame: ArrayLike | None = None) -> Placement:
    """Placement in the pose of a thing fixed to ``segment``.

    standing : (3,) its origin on the standing body [m], body axes;  frame : (3, 3) its axes there, as columns
    """
    carried = body.placements[segment]
    turn = np.eye(3) if frame is None else np.asarray(frame, dtype=float)
    return Placement(carried.rotation @ turn, carried.carried(np.asarray(standing, dtype=float)))


def on_face(body: PosedBody) -> Placement:
    """Placement of the mask's frame: between the eyes, x to the crown."""
    return Placement(body.placements["head"].rotation, body.landmarks["eyes"])


def sole_under_ankle(body: PosedBody, side: float) -> Floats:
    """Point (3,) of the standing body on the sole below the ankle joint; ``side`` +1 left, -1 right."""
    ankle = body.person.skeleton.joints["ankle"]
    return np.array([body.person.skeleton.heights["floor"] - SOLE, side * ankle[1], ankle[2]])
