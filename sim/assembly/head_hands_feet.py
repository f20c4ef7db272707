"""Hood, gloves and boots as shapes on the posed body."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.gear.boots import bare_hand, boot, glove
from meshes.gear.headgear import hood
from meshes.mesh import Mesh, joined
from meshes.mesh import mirrored as mirrored_mesh
from meshes.mesh import moved as moved_mesh
from meshes.solid import Solid, combined, mirrored, moved
from sim.assembly.on_segment import TOES_FIRST, on_segment, sole_under_ankle
from sim.assembly.placement import solid_at
from sim.person.posed_body import PosedBody

# left hand of the hanging arm, fingers down, back of the hand outward: one column an axis of the glove
FINGERS_DOWN: Final = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])
CLEAR: Final = 0.004  # m between head and hood, both sides together (assumed)
SHAFT: Final = 0.16  # m from the sole to the top of a boot (from memory, 15 to 20 cm)


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


def bare_hands(body: PosedBody) -> Mesh:
    """Both hands with their fingers [m, body axes]: for looks, their mass and volume are the body's."""
    made = bare_hand(body.person.skeleton.measures["handlength"])
    left = moved_mesh(mirrored_mesh(made), FINGERS_DOWN, body.person.skeleton.joints["wrist"])
    return joined([_carried(body, "left hand", left), _carried(body, "right hand", mirrored_mesh(left))])


def _carried(body: PosedBody, segment: str, mesh: Mesh) -> Mesh:
    p = body.placements[segment]
    return moved_mesh(mesh, p.rotation, p.at - p.rotation @ p.pivot)


def worn_boots(body: PosedBody, mass: float, volume: float) -> Solid:
    """Both boots; their mass [kg] and the water they displace [m^3] together."""
    made = boot(0.5 * mass, mass / volume, foot_length=body.person.skeleton.measures["footlength"], shaft=SHAFT)
    left = moved(made, TOES_FIRST, sole_under_ankle(body, 1.0))
    return combined([body.carried("left foot", left), body.carried("right foot", mirrored(left))])
