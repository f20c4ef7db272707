"""The plate that carries cylinders on a diver's back.

Frame of a plate: x up (to the head), y to the diver's left, z away from the back, in metres. The origin is midway
between the two bolt holes, in the plane z = 0 that touches the plate's foremost faces, which lie against the back
(for a plate with a channel: the flats' front faces). The channel rises from there, so that the bolts go through its
floor: a bolt point is the middle of its hole on the floor's BACK face, where bands or an adapter bear.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from meshes.memoized import memoized
from meshes.mesh import Floats, moved
from meshes.outline import Outline
from meshes.plate.reading import PlateReading
from meshes.plate.shape import PlateShape, bends_of, flat_pattern, unfold
from meshes.plate.sheet import Bend, bent_points, bent_sheet
from meshes.solid import Solid, combined, solid_of


@dataclass(frozen=True, eq=False)
class FlatPoints:
    """Where things are in a flat pattern, (2,) each in metres: bolts, and middles of the slots."""

    upper_bolt: Floats
    lower_bolt: Floats
    shoulder_slots: Floats
    waist_slots: Floats
    crotch_slot: Floats


@dataclass(frozen=True, eq=False)
class Pattern:
    """A plate's sheet before it is bent, in metres: x to the head, y to the left, origin midway between the bolts.

    Of a plate that was given as a solid and is no bent sheet it is what is seen from behind, and has no bends.
    """

    outline: Outline
    points: FlatPoints
    bends: tuple[Bend, ...] = ()


@dataclass(frozen=True)
class Zone:
    """A rectangle of the flat sheet, on both sides of the middle line alike, and the sheet's ``thickness`` there [m].

    top, bottom : from the plate's top edge;  inner, outer : from its middle line [m]
    """

    top: float
    bottom: float
    inner: float
    outer: float
    thickness: float


@dataclass(frozen=True, eq=False)
class Addition:
    """A thing fixed to a plate: its name, and itself in the plate's frame."""

    name: str
    solid: Solid


@dataclass(frozen=True, eq=False)
class Plate:
    """A plate in its own frame (see above); all points (3,) in metres.

    solid : closed mesh times density
    upper_bolt, lower_bolt : on the back face of the channel floor
    top, bottom : middle of the upper and lower edge, at mid-thickness on the centre line
    shoulder_slots, waist_slots : (2, 3), left then right, at mid-thickness;  crotch_slot : (3,)
    channel_depth : from the plane z = 0 to the floor's front face;  width : greatest, as seen
    thickness : of the sheet; 0 of a solid that is none
    outline : (n, 2) of (x, y), the outer edge as seen from behind
    pattern : the sheet before it is bent
    reading : what was read off the drawing it comes from, None for one of our own
    zones : where the sheet has another thickness;  additions : what is fixed to it, no part of ``solid``
    """

    solid: Solid
    upper_bolt: Floats
    lower_bolt: Floats
    top: Floats
    bottom: Floats
    shoulder_slots: Floats
    waist_slots: Floats
    crotch_slot: Floats
    channel_depth: float
    width: float
    thickness: float
    outline: Floats
    pattern: Pattern
    reading: PlateReading | None = None
    zones: tuple[Zone, ...] = ()
    additions: tuple[Addition, ...] = ()

    @property
    def loaded(self) -> Solid:
        """The plate with all that is fixed to it."""
        return combined([self.solid, *(one.solid for one in self.additions)]) if self.additions else self.solid

    @property
    def middle_height(self) -> float:
        """z [m] of the mid-surface on the middle line; of a sheet, not of a solid."""
        return self.channel_depth + self.thickness / 2


@memoized
def plate_of(shape: PlateShape, density: float, *, corner_steps: int = 8, arc_steps: int | None = None) -> Plate:
    """Plate by its dimensions, of one material of ``density`` [kg/m^3].

    Volume converges at second order in ``corner_steps`` (chords a quarter turn of every rounding) and ``arc_steps``
    (chords a bend; see ``bent_sheet``). Raises ValueError for dimensions that make no plate.
    """

    def both(x: float, y: float) -> Floats:
        across = float(unfold(y, shape.channel))
        return np.array([[x, across], [x, -across]])

    bends = bends_of(shape)
    bolt = shape.bolt_spacing / 2
    points = FlatPoints(
        upper_bolt=np.array([bolt, 0.0]),
        lower_bolt=np.array([-bolt, 0.0]),
        shoulder_slots=both(shape.shoulder.x, shape.shoulder.y),
        waist_slots=both(shape.waist.x, shape.waist.y),
        crotch_slot=np.array([shape.crotch.x, 0.0]),
    )
    outline = flat_pattern(shape, corner_steps)
    return plate_from_flat(outline, points, shape.thickness, density, bends, arc_steps=arc_steps)


def plate_from_flat(
    outline: Outline,
    points: FlatPoints,
    thickness: float,
    density: float,
    bends: Sequence[Bend] = (),
    *,
    arc_steps: int | None = None,
    reading: PlateReading | None = None,
) -> Plate:
    """Plate from a flat pattern [m] whose origin is midway between the bolts, x to the head, y to the left.

    thickness : [m];  density : [kg/m^3];  bends : see ``Bend``. Raises ValueError for a pattern or bends that make
    no sheet.
    """
    mesh = bent_sheet(outline, thickness, bends, arc_steps)
    foremost = float(mesh.vertices[:, 2].min())
    solid = solid_of(moved(mesh, shift=(0.0, 0.0, -foremost)), density)

    def placed(flat: ArrayLike, height: float = 0.0) -> Floats:
        return bent_points(np.atleast_2d(flat), height, bends) - [0.0, 0.0, foremost]

    edge = placed(outline.outer)
    return Plate(
        solid=solid,
        upper_bolt=placed(points.upper_bolt, thickness / 2)[0],
        lower_bolt=placed(points.lower_bolt, thickness / 2)[0],
        top=placed([edge_on_centre_line(outline.outer, 1.0), 0.0])[0],
        bottom=placed([edge_on_centre_line(outline.outer, -1.0), 0.0])[0],
        shoulder_slots=placed(points.shoulder_slots),
        waist_slots=placed(points.waist_slots),
        crotch_slot=placed(points.crotch_slot)[0],
        channel_depth=float(-foremost - thickness / 2),
        width=float(np.ptp(edge[:, 1])),
        thickness=thickness,
        outline=edge[:, :2],
        pattern=Pattern(outline, points, tuple(bends)),
        reading=reading,
    )


def edge_on_centre_line(outer: Floats, side: float) -> float:
    """x [m] of the highest (side +1) or lowest (-1) crossing of the outer edge (n, 2) with y = 0."""
    ahead = np.roll(outer, -1, axis=0)
    crossing = (outer[:, 1] <= 0.0) != (ahead[:, 1] <= 0.0)
    if not crossing.any():
        raise ValueError("the plate's outline does not cross its centre line, the line through both bolt holes")
    a, b = outer[crossing], ahead[crossing]
    x = a[:, 0] - a[:, 1] * (b[:, 0] - a[:, 0]) / (b[:, 1] - a[:, 1])
    return float(side * (side * x).max())
