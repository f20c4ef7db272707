"""A rig taken off its diver, to be hung on anybody; gear is kept as points of the plate's frame."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from meshes.plate.back_plate import Plate
from sim.answers.fit.buttocks import edge_points
from sim.answers.fit.cloud import Cloud, cloud_of
from sim.answers.fit.head_lift import head_back, points_near
from sim.answers.fit.look_ahead import things_behind
from sim.answers.fit.reach import Side, cylinder_ends, knobs
from sim.answers.fit.width import PlateWidths, plate_widths
from sim.assembly.assembled import Worn
from sim.assembly.placement import Placement, point_at
from sim.assembly.seat import seated

HEAD_ROOM: Final = (0.12, 0.36)  # m to the side and about the neck's pivot where anybody's head may meet gear: heads
# reach 0.20 m from their pivot, and backs differ by 0.15 m in length
TILT_ROOM: Final = 0.05  # m more, since a plate hung elsewhere lies at another slope


@dataclass(frozen=True, eq=False)
class HungRig:
    """A rig as it hangs on its plate, whoever wears it; points in the plate's frame [m].

    padding, under_straps : between back and plate, under the webbing [m]
    gear : what a head may meet: the plate itself, all that hangs on it; both sides folded onto the left
    widths : of the plate
    knobs : (m, 3), with the hands for each
    cylinders : ends (k, 2, 3) of their middle lines;  radius : of a cylinder
    shift : of the cylinders from their usual place, plus headward
    low : points on the edges of cylinders and boots, folded likewise
    """

    name: str
    plate: Plate
    padding: float
    under_straps: float
    gear: tuple[Cloud, Cloud]
    widths: PlateWidths
    knobs: Floats
    hands: tuple[tuple[Side, ...], ...]
    cylinders: Floats
    radius: float
    shift: float
    low: Cloud


def hung_rig(name: str, worn: Worn, room: float | None = None) -> HungRig:
    """What ``worn`` wears, taken off its diver; for anybody, or to be moved by up to ``room`` [m] on this one.

    Room is counted from the natural waist, however low the rig is worn now.
    """
    middle = head_back(worn.body.person, worn.hood)
    aside, away = HEAD_ROOM if room is None else (middle.y[-1], middle.distance[-1] + room)
    wide = replace(
        middle,
        pivot=middle.pivot - [0.0, 0.0, TILT_ROOM],
        y=np.array([0.0, aside]),
        distance=np.array([0.0, away + 2.0 * TILT_ROOM]),
    )
    usual = seated(worn.plate, worn.body, worn.padding, 0.0)
    behind = (replace(m, vertices=point_at(usual, _taken_off(worn.seat, m.vertices))) for m in _meshes_behind(worn))
    plate, *hanging = (_taken_off(usual, points_near(wide, m)) for m in behind)
    found = knobs(worn)
    low = np.zeros((0, 3)) if worn.cylinders is None else edge_points(worn.cylinders)
    ends, radius = cylinder_ends(worn.cylinders)
    return HungRig(
        name=name,
        plate=replace(worn.plate, solid=replace(worn.plate.solid, mesh=None)),
        padding=worn.padding,
        under_straps=worn.under_straps,
        gear=(cloud_of(_folded(plate)), cloud_of(_folded(np.concatenate([np.zeros((0, 3)), *hanging])))),
        widths=plate_widths(worn.plate),
        knobs=_taken_off(worn.seat, np.array([at for _, at, _ in found]).reshape(-1, 3)),
        hands=tuple(hands for _, _, hands in found),
        cylinders=_taken_off(worn.seat, ends),
        radius=radius,
        shift=worn.shift,
        low=cloud_of(_folded(_taken_off(worn.seat, low))),
    )


def _meshes_behind(worn: Worn) -> Iterator[Mesh]:
    """Of what a head may meet, the plate first."""
    things = sorted((p for _, p in things_behind(worn)), key=lambda p: p.kind != "plate")
    yield from (p.solid.mesh for p in things if p.solid.mesh is not None)


def _taken_off(seat: Placement, points: Floats) -> Floats:
    return np.asarray((points - seat.origin) @ seat.rotation)


def _folded(points: Floats) -> Floats:
    """Points (n, 3) with those of the right side on the left: heads and backs are the same on both."""
    return np.column_stack([points[:, 0], np.abs(points[:, 1]), points[:, 2]])
