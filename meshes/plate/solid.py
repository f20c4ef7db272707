"""A plate given as a finished solid: its outline seen from behind, and how high things lie on it."""

from __future__ import annotations

from collections import defaultdict
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.drawings.mesh_edges import edges_of as face_edges_of
from meshes.drawings.shape_file import ShapeFileError
from meshes.mesh import Floats, Mesh
from meshes.outline import Outline
from meshes.plate.back_plate import FlatPoints, Pattern, Plate, edge_on_centre_line
from meshes.plate.edges import edges_of
from meshes.plate.reading import PlateReading
from meshes.solid import solid_of

# radii [m] of the circles on which material is looked for around a point that may lie in a hole
AROUND: Final = (0.0, 0.003, 0.006, 0.009, 0.013, 0.020, 0.030, 0.045)

SLIVER: Final = 1e-6  # of the plate's area: less is rounding


def silhouette(mesh: Mesh, file: str) -> Outline:
    """Outline with through holes of a sound mesh seen along z; raises ShapeFileError unless it is one piece."""
    import manifold3d
    import shapely

    # what is seen is what the faces that look back cover: their border, where it turns round something once or more
    fill = manifold3d.FillRule.Positive
    rings = [np.asarray(ring, dtype=float) for ring in manifold3d.CrossSection(_border(mesh), fill).to_polygons()]
    polygons = [shapely.Polygon(ring) for ring in rings]
    areas = np.array([ring.area if ring.exterior.is_ccw else -ring.area for ring in polygons])
    # triangles that stand on edge leave slivers of rounding beside the plate and in it
    pieces = [ring for ring, area in zip(rings, areas, strict=True) if area > SLIVER * areas.max(initial=0.0)]
    if len(pieces) != 1:
        raise ShapeFileError(f"{file}: seen from behind the solid is {len(pieces)} pieces; a plate must be one piece")
    holes = [ring for ring, area in zip(rings, areas, strict=True) if area < -SLIVER * areas.max()]
    return Outline(pieces[0], tuple(holes))


def _border(mesh: Mesh) -> list[Floats]:
    """Closed lines (n, 2) around the faces that look along +z, in their sense; they may cross."""
    x, y = mesh.vertices[:, :2].T
    a, b, c = mesh.faces.T
    up = (x[b] - x[a]) * (y[c] - y[a]) - (y[b] - y[a]) * (x[c] - x[a]) > 0.0
    edges = face_edges_of(mesh.faces[up])
    follows: dict[int, list[int]] = defaultdict(list)
    for start, end in edges.ends[edges.odd].tolist():
        follows[start].append(end)
    lines = []
    for start in follows:
        while follows[start]:
            line = [start]
            while (end := follows[line[-1]].pop()) != start:
                line.append(end)
            lines.append(mesh.vertices[line, :2])
    return [line for line in lines if len(line) > 2]


def plate_from_mesh(
    mesh: Mesh, outline: Outline, points: FlatPoints, density: float, *, reading: PlateReading | None = None
) -> Plate:
    """Plate from a sound mesh in a plate's frame (foremost faces at z = 0), its silhouette and its points.

    density : [kg/m^3]. Heights are read off the mesh: the bolts' on the back face around their holes, the slots' and
    the edges' at mid-thickness beside them. Raises ValueError for a point without material around it.
    """
    edges, boxes = edges_of(outline.outer), _boxes(mesh)

    def around(place: Floats) -> tuple[float, float]:
        found = heights_around(mesh, place, boxes)
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
        pattern=Pattern(outline, points),
        reading=reading,
    )


def heights_around(mesh: Mesh, place: ArrayLike, boxes: Floats | None = None) -> tuple[float, float] | None:
    """Median lowest and highest z [m] of a mesh around (x, y), on the smallest circle that meets it in two places.

    None when there is no material within the largest circle.
    """
    middle = np.asarray(place, dtype=float)
    left, low, right, high = (_boxes(mesh) if boxes is None else boxes) - np.tile(middle, 2)[:, None]
    angle = np.radians(np.arange(8) * 45.0 + 10.0)
    ring = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    for radius in AROUND:
        reach = radius + 1e-6
        over = (left <= reach) & (right >= -reach) & (low <= reach) & (high >= -reach)
        near = mesh.vertices[mesh.faces[over]]
        found = [h for p in middle + radius * ring if (h := _heights(near, p)) is not None]
        if len(found) >= 2:
            lowest, highest = np.median(found, axis=0)
            return float(lowest), float(highest)
    return None


def _boxes(mesh: Mesh) -> Floats:
    """Least x, least y, greatest x, greatest y (4, m) of each face."""
    x, y = (column[mesh.faces.T] for column in mesh.vertices[:, :2].T)
    return np.stack([x.min(axis=0), y.min(axis=0), x.max(axis=0), y.max(axis=0)])


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
