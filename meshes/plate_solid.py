"""A plate given as a finished solid: its outline seen from behind, and how high things lie on it."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Mesh
from meshes.plate import FlatPoints, Plate, edge_on_centre_line
from meshes.plate_edges import edges_of
from meshes.plate_reading import PlateReading
from meshes.plate_sheet import Outline
from meshes.shape_file import ShapeFileError
from meshes.solid import solid_of

# radii [m] of the circles on which material is looked for around a point that may lie in a hole
AROUND: Final = (0.0, 0.003, 0.006, 0.009, 0.013, 0.020, 0.030, 0.045)

SLIVER: Final = 1e-6  # of the plate's area: less is rounding


def silhouette(mesh: Mesh, file: str) -> Outline:
    """Outline with through holes of a sound mesh seen along z; raises ShapeFileError unless it is one piece."""
    import manifold3d
    import shapely

    solid = manifold3d.Manifold(manifold3d.Mesh64(np.array(mesh.vertices), np.array(mesh.faces, dtype=np.uint64)))
    rings = [np.asarray(ring, dtype=float) for ring in solid.project().to_polygons()]
    polygons = [shapely.Polygon(ring) for ring in rings]
    areas = np.array([ring.area if ring.exterior.is_ccw else -ring.area for ring in polygons])
    # triangles that stand on edge leave slivers of rounding beside the plate and in it
    pieces = [ring for ring, area in zip(rings, areas, strict=True) if area > SLIVER * areas.max(initial=0.0)]
    if len(pieces) != 1:
        raise ShapeFileError(f"{file}: seen from behind the solid is {len(pieces)} pieces; a plate must be one piece")
    holes = [ring for ring, area in zip(rings, areas, strict=True) if area < -SLIVER * areas.max()]
    return Outline(pieces[0], tuple(holes))


def plate_from_mesh(
    mesh: Mesh, outline: Outline, points: FlatPoints, density: float, *, reading: PlateReading | None = None
) -> Plate:
    """Plate from a sound mesh in a plate's frame (foremost faces at z = 0), its silhouette and its points.

    density : [kg/m^3]. Heights are read off the mesh: the bolts' on the back face around their holes, the slots' and
    the edges' at mid-thickness beside them. Raises ValueError for a point without material around it.
    """
    edges = edges_of(outline.outer)

    def around(place: Floats) -> tuple[float, float]:
        found = heights_around(mesh, place)
        if found is None:
            raise ValueError(
                f"no material within {1e3 * AROUND[-1]:.0f} mm of the place {edges.told(place, 'found').words}; "
                "state bolts and slots so that they lie on the plate"
            )
        return found

    def halfway(place: Floats) -> Floats:
        return np.array([*place, sum(around(place)) / 2])

    front, upper = around(points.upper_bolt)
    top, bottom = (edge_on_centre_line(outline.outer, side) for side in (1.0, -1.0))
    return Plate(
        solid=solid_of(mesh, density),
        upper_bolt=np.array([*points.upper_bolt, upper]),
        lower_bolt=np.array([*points.lower_bolt, around(points.lower_bolt)[1]]),
        top=halfway(np.array([top, 0.0])),
        bottom=halfway(np.array([bottom, 0.0])),
        shoulder_slots=np.array([halfway(p) for p in points.shoulder_slots]),
        waist_slots=np.array([halfway(p) for p in points.waist_slots]),
        crotch_slot=halfway(points.crotch_slot),
        channel_depth=front,
        width=float(np.ptp(outline.outer[:, 1])),
        thickness=0.0,
        outline=outline.outer,
        reading=reading,
    )


def heights_around(mesh: Mesh, place: ArrayLike) -> tuple[float, float] | None:
    """Median lowest and highest z [m] of a mesh around (x, y), on the smallest circle that meets it in two places.

    None when there is no material within the largest circle.
    """
    middle = np.asarray(place, dtype=float)
    x, y = mesh.vertices[:, :2].T - middle[:, None]
    reach = 1.1 * AROUND[-1]
    away = np.stack([x > reach, x < -reach, y > reach, y < -reach])
    near = mesh.vertices[mesh.faces[~away[:, mesh.faces].all(axis=2).any(axis=0)]]
    angle = np.radians(np.arange(8) * 45.0 + 10.0)
    ring = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    for radius in AROUND:
        found = [h for p in middle + radius * ring if (h := _heights(near, p)) is not None]
        if len(found) >= 2:
            low, high = np.median(found, axis=0)
            return float(low), float(high)
    return None


def _heights(triangles: Floats, place: Floats) -> tuple[float, float] | None:
    """Lowest and highest z of triangles (m, 3, 3) above and below (x, y); None where there is nothing."""
    a, b, c = triangles.transpose(1, 0, 2)
    u, v, w = (b - a)[:, :2], (c - a)[:, :2], place - a[:, :2]
    twice = u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]
    # a face seen edge-on has no height of its own; its neighbours have it
    level = np.abs(twice) > 1e-14
    span = np.where(level, twice, 1.0)
    s = (w[:, 0] * v[:, 1] - w[:, 1] * v[:, 0]) / span
    t = (u[:, 0] * w[:, 1] - u[:, 1] * w[:, 0]) / span
    hit = level & (s >= -1e-9) & (t >= -1e-9) & (s + t <= 1.0 + 1e-9)
    if not hit.any():
        return None
    z = (a[:, 2] + s * (b - a)[:, 2] + t * (c - a)[:, 2])[hit]
    return float(z.min()), float(z.max())
