"""Places where a plate's sheet is thicker or thinner than elsewhere: doublers, more plies, pockets milled out.

The face toward the diver stays level; what is more or less lies on the face away from them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Mesh, mesh_of, moved
from meshes.outline import Outline
from meshes.plate.back_plate import Plate, Zone
from meshes.plate.edges import Edges, edges_of
from meshes.plate.manifolds import manifold
from meshes.plate.sheet import Bend, bent_slab, polygon_of
from meshes.solid import solid_of

OVER: Final = 1e-3  # m that a cut reaches beyond the face that it goes through
SHARED: Final = 1e-9  # m^2 that two zones may have in common: rounding


def with_zones(plate: Plate, zones: Sequence[Zone], density: float) -> Plate:
    """A flat-drawn or built plate with its sheet of ``density`` [kg/m^3] as thick as its zones say.

    Bolts that go through a zone bear on its own face. Raises ValueError for zones that are empty or overlap, and for
    one too thick for a bend that runs through it.
    """
    if not zones:
        return plate
    if plate.solid.mesh is None or not plate.thickness:
        raise ValueError("a finished solid has its thickness in every place as it is drawn")
    edges, half = edges_of(plate.pattern.outline.outer), plate.thickness / 2
    shapes = [shape_of(zone, plate.pattern.outline, edges) for zone in zones]
    for (k, one), (other_k, other) in combinations(enumerate(shapes), 2):
        if one.intersection(other).area > SHARED:
            raise ValueError(f"thickness zones {k + 1} and {other_k + 1} overlap; let each begin where another ends")
    body = manifold(plate.solid.mesh)
    for number, (zone, shape) in enumerate(zip(zones, shapes, strict=True), 1):
        face = zone.thickness - half
        if face > half:
            _check_bends(number, shape, face, plate.pattern.bends)
        for slab in _slabs(shape, min(0.0, face), face, half, plate.pattern.bends):
            other = manifold(moved(slab, shift=(0.0, 0.0, plate.middle_height)))
            body = body + other if face > half else body - other
    made = body.to_mesh64()
    mesh = mesh_of(np.asarray(made.vert_properties)[:, :3], np.asarray(made.tri_verts, dtype=np.int64))
    return replace(
        plate,
        solid=solid_of(mesh, density),
        upper_bolt=_raised(plate.upper_bolt, plate.pattern.points.upper_bolt, zones, shapes, plate.thickness),
        lower_bolt=_raised(plate.lower_bolt, plate.pattern.points.lower_bolt, zones, shapes, plate.thickness),
        zones=tuple(zones),
    )


def shape_of(zone: Zone, outline: Outline, edges: Edges) -> Any:
    """Where there is sheet in a zone, as a shapely area in the flat frame. Raises ValueError where there is none."""
    import shapely

    low, high = edges.top - zone.bottom, edges.top - zone.top
    boxes = [
        shapely.box(low, min(ends), high, max(ends))
        for ends in ((edges.middle + side * zone.inner, edges.middle + side * zone.outer) for side in (1.0, -1.0))
    ]
    found = polygon_of(outline).intersection(shapely.union_all(boxes))
    if not found.area > SHARED:
        raise ValueError(
            f"a thickness zone from {1e3 * zone.top:.1f} to {1e3 * zone.bottom:.1f} mm below the top edge and "
            f"{1e3 * zone.inner:.1f} to {1e3 * zone.outer:.1f} mm from the middle line holds no sheet"
        )
    return found


def _slabs(shape: Any, low: float, face: float, half: float, bends: Sequence[Bend]) -> Iterator[Mesh]:
    """What is to be added (from the mid-surface to ``face``) or cut away (from ``face`` on), as closed meshes."""
    import shapely

    ends = (low, face) if face > half else (face, half + OVER)
    for part in shapely.get_parts(shape):
        if part.geom_type == "Polygon" and part.area > SHARED:
            sound = shapely.orient_polygons(part)
            rings = [np.asarray(ring.coords)[:-1] for ring in (sound.exterior, *sound.interiors)]
            yield bent_slab(Outline(rings[0], tuple(rings[1:])), ends, bends)


def _check_bends(number: int, shape: Any, face: float, bends: Sequence[Bend]) -> None:
    _, low, _, high = shape.bounds
    for bend in bends:
        through = low < bend.at + bend.width / 2 and high > bend.at - bend.width / 2
        if bend.angle > 0.0 and through and not face < bend.radius:
            raise ValueError(
                f"thickness zone {number} is too thick for the bend {1e3 * abs(bend.at):.1f} mm from the middle "
                f"line, of {1e3 * bend.radius:.1f} mm radius at the middle of the sheet; let it end before the bend"
            )


def _raised(bolt: Floats, flat: Floats, zones: Sequence[Zone], shapes: Sequence[Any], thickness: float) -> Floats:
    """Where a bolt bears: on the face of the zone that surrounds its hole."""
    import shapely

    around = shapely.Point(flat).buffer(0.01)
    shares = [shape.intersection(around).area for shape in shapes]
    most = int(np.argmax(shares))
    if shares[most] < 0.5 * (around.area - np.pi * 0.005**2):
        return bolt
    return bolt + [0.0, 0.0, zones[most].thickness - thickness]
