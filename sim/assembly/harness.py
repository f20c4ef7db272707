"""Webbing that holds the plate: waist strap, shoulder straps, crotch strap, all through the plate's own slots."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from meshes.plate import Plate
from meshes.solid import Solid, combined, mirrored
from meshes.webbing import belt_buckle, d_ring, webbing
from scenarios.back_gear import Harness
from sim.assembly.placement import Placement, frame_along, point_at, solid_at
from sim.person.posed_body import PosedBody
from sim.rig import Part

OVER: Final = 0.012  # m from the skin to the middle of a strap worn over a suit (assumed)
HEADWARD: Final = np.array([1.0, 0.0, 0.0])


def worn_harness(table: Harness, plate: Plate, seat: Placement, body: PosedBody, padding: float) -> Part:
    """Harness as one part of the stated mass; its centre is that of its straps."""
    off = OVER + padding
    straps = [_waist(plate, seat, body, off), _crotch(plate, seat, body, off)]
    left = _shoulder(plate, seat, body, off)
    drawn = combined([*straps, left, mirrored(left), *_metal(plate, seat, body, off)])
    share = table.mass / drawn.mass
    solid = replace(drawn, mass=table.mass, inertia=drawn.inertia * share, volume=table.mass / table.density)
    return Part("harness", "harness", solid)


def _waist(plate: Plate, seat: Placement, body: PosedBody, off: float) -> Solid:
    """From the left waist slot round the front to the right one."""
    left, right = point_at(seat, plate.waist_slots)
    x, front = float(left[0]), float(body.landmarks["navel"][2]) - off
    half = 0.5 * body.person.measures["waistbreadth"] + off
    middle = 0.5 * (front + float(left[2]))
    points = [left, [x, half, middle], [x, 0.55 * half, front + 0.02], [x, 0.0, front]]
    other = [np.asarray(p) * [1.0, -1.0, 1.0] for p in points[2:0:-1]]
    return webbing([*points, *other, right], side=HEADWARD)


def _metal(plate: Plate, seat: Placement, body: PosedBody, off: float) -> list[Solid]:
    """Buckle in front, a ring on each shoulder strap and one at the left hip."""
    waist = float(point_at(seat, plate.waist_slots[0])[0])
    front = float(body.landmarks["navel"][2]) - off - 0.004
    across = frame_along([0.0, 1.0, 0.0], [0.0, 0.0, -1.0])
    down = frame_along([-1.0, 0.0, 0.0], [0.0, 0.0, -1.0])
    chest = body.person.skeleton.heights["chest"]
    hip = 0.5 * body.person.measures["waistbreadth"] + off + 0.004
    ring = solid_at(Placement(down, np.array([chest, 0.11, float(body.landmarks["sternum"][2]) - off])), d_ring())
    at_hip = Placement(frame_along([-1.0, 0.0, 0.0], [0.0, 1.0, 0.0]), np.array([waist, hip, 0.5 * front]))
    return [
        solid_at(Placement(across, np.array([waist, 0.0, front])), belt_buckle()),
        ring,
        mirrored(ring),
        solid_at(at_hip, d_ring()),
    ]


def _shoulder(plate: Plate, seat: Placement, body: PosedBody, off: float) -> Solid:
    """The left strap: slot, over the shoulder, down the chest, back to the waist under the arm."""
    slot = point_at(seat, plate.shoulder_slots[0])
    marks, heights = body.landmarks, body.person.skeleton.heights
    over = strap_over_shoulder(plate, seat, body)
    top = float(marks["left acromion"][0]) + 0.35 * (heights["c7"] - heights["acromion"]) + off
    chest = float(marks["sternum"][2]) - off
    waist = point_at(seat, plate.waist_slots[0])
    points = [
        slot,
        [top, over, 0.02],
        [heights["axilla"], over + 0.02, chest + 0.045],
        [heights["chest"] - 0.04, over + 0.03, chest + 0.02],
        [float(waist[0]) + 0.08, 0.45 * body.person.measures["waistbreadth"] + off, -0.03],
        waist,
    ]
    return webbing(np.array([np.asarray(p) for p in points]), side=[0.0, 1.0, 0.0])


def strap_over_shoulder(plate: Plate, seat: Placement, body: PosedBody) -> float:
    """How far from the midline [m] a shoulder strap crosses the shoulder, drawn in from its slot (assumed)."""
    slot = point_at(seat, plate.shoulder_slots[0])
    return 0.5 * (float(slot[1]) + 0.62 * float(body.landmarks["left acromion"][1]))


def _crotch(plate: Plate, seat: Placement, body: PosedBody, off: float) -> Solid:
    """From the plate's lower end between the legs to the waist strap's buckle."""
    slot = point_at(seat, plate.crotch_slot)
    crotch = body.landmarks["crotch"]
    back = float(body.back_surface(float(crotch[0]) + 0.06, 0.0)) + off
    navel = body.landmarks["navel"]
    points = [
        slot,
        [float(crotch[0]) + 0.07, 0.0, back],
        [float(crotch[0]) - off, 0.0, 0.0],
        [float(crotch[0]) + 0.08, 0.0, float(navel[2]) + 0.01 - off],
        [float(point_at(seat, plate.waist_slots[0])[0]), 0.0, float(navel[2]) - off],
    ]
    return webbing(np.array([np.asarray(p) for p in points]), side=[0.0, 1.0, 0.0])
