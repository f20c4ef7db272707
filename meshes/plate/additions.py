"""What is fixed to a plate and is no part of its sheet: weights bolted on, pads."""

from __future__ import annotations

from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, mesh_of
from meshes.plate.back_plate import Plate
from meshes.plate.edges import edges_of
from meshes.plate.sheet import bent_points
from meshes.plate.solid import heights_around
from meshes.solid import Solid, solid_of

Face = Literal["back", "front"]
CORNERS: Final = np.array([[i, j, k] for i in (-0.5, 0.5) for j in (-0.5, 0.5) for k in (-0.5, 0.5)])
FACES: Final = np.array([
    [0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1],
    [2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3],
])  # fmt: skip


def block_on(plate: Plate, down: float, across: float, size: ArrayLike, mass: float, face: Face) -> Solid:
    """A block (3,) [m] along the plate, across it and off it, of ``mass`` [kg], on the face of a plate.

    down, across : where its middle lies on the flat sheet, from the top edge and from the middle line, plus to the
        diver's left [m];  face : "back", away from the diver, or "front"
    It lies square on the sheet as this is bent there. Raises ValueError where there is no sheet to lie on.
    """
    sides = np.asarray(size, dtype=float)
    edges = edges_of(plate.pattern.outline.outer)
    flat = edges.at(down, across)
    out, foot = _face(plate, flat, face)
    away = sides[2] / 2
    x = np.array([1.0, 0.0, 0.0])
    axes = np.stack([x, np.cross(out, x), out])
    mesh = mesh_of((CORNERS * sides) @ axes + foot + away * out, FACES)
    return solid_of(mesh, mass / float(sides.prod()))


def _face(plate: Plate, flat: Floats, face: Face) -> tuple[Floats, Floats]:
    """The way out of a face (3,) unit, and the point of it (3,) [m] over a place of the flat sheet."""
    import shapely

    outer = plate.pattern.outline.outer
    edges = edges_of(outer)
    if not shapely.Polygon(outer).contains(shapely.Point(flat)):
        words = edges.told(flat, "stated").words
        raise ValueError(f"what is fixed {words} lies beside the plate; check its place")
    side = 1.0 if face == "back" else -1.0
    if not plate.thickness:
        found = None if plate.solid.mesh is None else heights_around(plate.solid.mesh, flat)
        if found is None:
            raise ValueError(f"there is no sheet {edges.told(flat, 'stated').words} to fix anything to")
        return np.array([0.0, 0.0, side]), np.array([*flat, found[1] if face == "back" else found[0]])
    half = plate.thickness / 2
    up, here = bent_points([flat, flat], [half, 0.0], plate.pattern.bends)
    out = side * (up - here) / half
    return out, here + [0.0, 0.0, plate.middle_height] + half * out
