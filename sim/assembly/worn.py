"""How things are fixed to a segment of the posed body, and the fins on the feet."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.gear.boots import boot, glove
from meshes.gear.fins import fin
from meshes.gear.headgear import hood
from meshes.kept import kept_few
from meshes.mesh import Floats
from meshes.solid import Solid, combined, mirrored, moved
from scenarios.loose_gear import Fins
from sim.assembly.placement import Placement, solid_at
from sim.person.posed_body import PosedBody
from sim.rig import Part

# frames of worn things in the standing body's axes, one column an axis of the thing
TOES_FIRST: Final = np.array(
    [[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]]
)  # x to the toes, z up from the sole
# left hand of the hanging arm: fingers down, back of the hand outward
FINGERS_DOWN: Final = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])
CLEAR: Final = 0.004  # m between head and hood, both sides together (assumed)
SHAFT: Final = 0.16  # m from the sole to the top of a boot (from memory, 15 to 20 cm)
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


def worn_hood(body: PosedBody, thickness: float) -> Solid:
    """Hood on the head, ``thickness`` [m] at the surface."""
    m, heights = body.person.skeleton.measures, body.person.skeleton.heights
    made = hood(
        thickness=thickness,
        head_breadth=m["headbreadth"] + CLEAR,
        head_depth=m["headlength"] + CLEAR,
        head_height=heights["vertex"] - heights["chin"],
    )
    middle = body.person.meshes["head"].vertices
    inside = middle[middle[:, 0] > heights["chin"]]
    depth = 0.5 * float(inside[:, 2].min() + inside[:, 2].max())
    at = [0.5 * (heights["vertex"] + heights["chin"]), 0.0, depth]
    return solid_at(on_segment(body, "head", at), made)


def worn_gloves(body: PosedBody) -> Solid:
    """Both gloves."""
    made = glove(hand_length=body.person.skeleton.measures["handlength"], mirror=True)
    left = moved(made, FINGERS_DOWN, body.person.skeleton.joints["wrist"])
    return combined([body.carried("left hand", left), body.carried("right hand", mirrored(left))])


def worn_boots(body: PosedBody, mass: float, volume: float) -> Solid:
    """Both boots; their mass [kg] and the water they displace [m^3] together."""
    made = boot(0.5 * mass, mass / volume, foot_length=body.person.skeleton.measures["footlength"], shaft=SHAFT)
    left = moved(made, TOES_FIRST, sole_under_ankle(body, 1.0))
    return combined([body.carried("left foot", left), body.carried("right foot", mirrored(left))])


def sole_under_ankle(body: PosedBody, side: float) -> Floats:
    """Point (3,) of the standing body on the sole below the ankle joint; ``side`` +1 left, -1 right."""
    ankle = body.person.skeleton.joints["ankle"]
    return np.array([body.person.skeleton.heights["floor"] - SOLE, side * ankle[1], ankle[2]])


@kept_few
def worn_fins(table: Fins, body: PosedBody) -> tuple[Part, ...]:
    """Both fins."""
    foot = body.person.skeleton.measures["footlength"] + 0.025
    left = fin(
        "rubber" if "rubber" in table.material else "plastic",
        mass=table.mass_of_one,
        length=table.length,
        width=table.width,
        foot_length=foot,
        density=table.density,
        spring=table.spring_of_one,
    )
    parts = []
    for name, side, made in (("left", 1.0, left), ("right", -1.0, mirrored(left))):
        where = on_segment(body, f"{name} foot", sole_under_ankle(body, side), TOES_FIRST)
        parts.append(Part(f"{name} fin", "fins", solid_at(where, made)))
    return tuple(parts)
