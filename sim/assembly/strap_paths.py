"""Where the harness runs: each run of webbing pulled tight over the skin in the plane of its ends.

A flat ribbon that grips the suit does not slide sideways: each run stays in a plane and is the shortest way round
the body in it. A shoulder strap runs from its slot in the plate over the shoulder to the front of the armpit, its
outer edge on the fold there, and on under the arm to the waist slot of its side.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.gear.taut import taut_path
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from sim.assembly.placement import Placement, point_at
from sim.person.person import Person
from sim.person.posed_body import PosedBody
from sim.person.trunk_skin import TrunkSkin, posed_trunk_skin, trunk_skin

HALF_WIDTH: Final = 0.025  # m, webbing 50 mm wide (common practice)
HALF_THICKNESS: Final = 0.00125  # m, webbing 2.5 mm thick (common practice)
MIRROR: Final = np.array([1.0, -1.0, 1.0])
HEADWARD: Final = np.array([1.0, 0.0, 0.0])
LEFTWARD: Final = np.array([0.0, 1.0, 0.0])
CREST: Final = 0.001  # m, below its highest point, within which a strap is said to cross the shoulder (assumed)
BUTTOCK: Final = 0.02  # m beside the midline, where the crotch strap's edge bears on the buttock (assumed)
FRONTWARD: Final = np.array([0.0, 0.0, -1.0])


@dataclass(frozen=True, eq=False)
class Run:
    """One run of webbing: middle line (n, 3) [m, body axes] and the skin's outward unit normals (n, 3) under it."""

    points: Floats
    normals: Floats

    @property
    def length(self) -> float:
        """[m]"""
        return float(np.linalg.norm(np.diff(self.points, axis=0), axis=1).sum())

    @property
    def highest(self) -> tuple[Floats, Floats]:
        """Its point (3,) nearest the head and the unit normal (3,) there: where a strap crosses the shoulder.

        The middle of what lies within ``CREST`` of the top: the line's corners change places as a body grows.
        """
        height = self.points[:, 0]
        along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(self.points, axis=0), axis=1))])
        top = int(height.argmax())
        level = height[top] - CREST
        first = np.interp(level, height[: top + 1], along[: top + 1])  # a taut line rises, then falls
        last = np.interp(-level, -height[top:], along[top:])
        at = [np.interp(0.5 * (first + last), along, v) for v in (*self.points.T, *self.normals.T)]
        return np.array(at[:3]), np.array(at[3:]) / np.linalg.norm(at[3:])


@dataclass(frozen=True, eq=False)
class StrapPaths:
    """Left shoulder strap in its two runs (the right one is its mirror image), waist strap and crotch strap.

    over : from the left shoulder slot over the shoulder to the front of the armpit;  under : on to the waist slot
    waist : from the left waist slot round the front to the right one;  crotch : from its slot to the buckle in front
    """

    over: Run
    under: Run
    waist: Run
    crotch: Run

    @property
    def shoulder_length(self) -> float:
        """Of one shoulder strap, slot to slot along its middle line [m]."""
        return self.over.length + self.under.length


def strap_paths(plate: Plate, seat: Placement, body: PosedBody, off: float, *, posed: bool = False) -> StrapPaths:
    """Middle lines of the webbing, over clothing ``off`` [m] thick, on the standing or the posed trunk."""
    skin = posed_trunk_skin(body.person, body.drawing.vertices) if posed else trunk_skin(body.person)
    over = over_shoulder(plate, seat, front_of_armpit(body.person, off), off, skin)
    off = off + HALF_THICKNESS
    waist, armpit = point_at(seat, plate.waist_slots[0]), over.points[-1]
    level = float(point_at(seat, plate.waist_slots)[:, 0].mean())
    right = waist * MIRROR
    round_waist = _run(skin, waist, right, HEADWARD, FRONTWARD, off)
    buckle = round_waist.points[np.abs(round_waist.points[:, 1]).argmin()] * [1.0, 0.0, 1.0]
    buckle[0] = level
    return StrapPaths(
        over=over,
        under=_run(skin, armpit, waist, _across(waist - armpit, LEFTWARD), LEFTWARD, off),
        waist=round_waist,
        crotch=_run(skin, point_at(seat, plate.crotch_slot), buckle, LEFTWARD, -HEADWARD, off, beside=BUTTOCK),
    )


def over_shoulder(plate: Plate, seat: Placement, armpit: Floats, off: float, skin: TrunkSkin) -> Run:
    """The left shoulder strap's run from its slot over the shoulder to the front of the ``armpit`` (3,)."""
    shoulder = point_at(seat, plate.shoulder_slots[0])
    return _run(skin, shoulder, armpit, _across(armpit - shoulder, HEADWARD), HEADWARD, off + HALF_THICKNESS)


def front_of_armpit(person: Person, off: float) -> Floats:
    """Where the left shoulder strap turns under the arm (3,): level with the armpit, its outer edge on the fold.

    off : clothing under the webbing [m]
    """
    height = person.skeleton.heights["axilla"]
    angle = np.linspace(0.0, 0.5 * np.pi, 91)
    outline = person.shape.trunk.at(np.full(91, height), angle)
    across = float(outline[-1, 1]) - HALF_WIDTH
    return np.array([height, across, float(np.interp(across, outline[:, 1], outline[:, 2])) - off - HALF_THICKNESS])


def _across(along: Floats, within: Floats) -> Floats:
    """Unit normal of the plane that holds the directions ``along`` and ``within``."""
    normal = np.cross(along, within)
    return np.asarray(normal / np.linalg.norm(normal))


def _run(
    skin: TrunkSkin, start: Floats, end: Floats, normal: Floats, side_of: Floats, off: float, beside: float = 0.0
) -> Run:
    """Shortest way from start to end in the plane through both with unit ``normal``, on the body's side ``side_of``.

    beside : the skin that it lies on is cut so far [m] beside that plane
    """
    cut, outward = skin.cut(start + beside * normal, normal)
    cut = cut + off * _within(outward, normal)
    e1 = _within((end - start)[None], normal)[0]
    e2 = np.cross(normal, e1)
    plane = np.stack([e1, e2], axis=1)
    side = 1.0 if float(e2 @ side_of) > 0.0 else -1.0
    path = taut_path(((cut - start) @ plane) * [1.0, side], [0.0, 0.0], (end - start) @ plane * [1.0, side])
    points = start + (path * [1.0, side]) @ plane.T
    if not len(cut):  # beyond the trunk there is nothing to lie on
        return Run(points, np.repeat(side_of[None], len(points), axis=0))
    nearest = np.linalg.norm(points[:, None] - cut[None], axis=2).argmin(axis=1)
    return Run(points, outward[nearest])


def _within(vectors: Floats, normal: Floats) -> Floats:
    """Unit directions (n, 3) of vectors projected onto the plane with unit ``normal``."""
    flat = vectors - (vectors @ normal)[:, None] * normal
    return np.asarray(flat / np.maximum(np.linalg.norm(flat, axis=1, keepdims=True), 1e-12))
