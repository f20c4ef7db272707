"""A flat sheet with holes, bent along lines that run its whole length, as a closed mesh.

Flat pattern: x along the bend lines (for a plate: to the head), y across, the sheet's mid-surface at height 0.
After bending: x unchanged, y across and z out of the plane, (0, 0, 0) still the sheet's mid-surface at the flat
pattern's origin, and the strip there still level. Lengths on the mid-surface are kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Ints, Mesh, mesh_of
from meshes.outline import Outline

CHORD: Final = 0.07  # rad of a bend at most under one chord, which loses 0.07^2 / 6 = 0.08 % of the sheet there


@dataclass(frozen=True)
class Bend:
    """One bend along the line y = ``at`` of the flat pattern.

    at : middle of the bend [m];  radius : of the sheet's mid-surface [m]
    angle : [rad]; plus turns the part that lies further from y = 0 towards +z
    """

    at: float
    angle: float
    radius: float

    @property
    def width(self) -> float:
        """Width of the flat pattern taken up by the bend [m]."""
        return abs(self.angle) * self.radius


def both_sides(bends: Sequence[Bend]) -> tuple[Bend, ...]:
    """Bends stated for the left side (at > 0), followed by their mirror images."""
    return (*bends, *(replace(bend, at=-bend.at) for bend in bends))


def bent_sheet(outline: Outline, thickness: float, bends: Sequence[Bend] = (), arc_steps: int | None = None) -> Mesh:
    """Closed mesh of a sheet of ``thickness`` [m], bent; ``arc_steps`` chords stand for each bend's arc.

    The volume is the flat sheet's area times its thickness, less (angle / arc_steps)^2 / 6 of the bends' share of
    it, since the arcs' chords are used: second order in the steps. Without ``arc_steps`` no chord spans more than
    CHORD, so that less than a thousandth is lost at any bend. Raises ValueError when the outline is not a
    sound area, or when bends overlap or are tighter than the sheet is thick.
    """
    if not thickness > 0.0:
        raise ValueError(f"a sheet's thickness must be > 0 m, got {thickness}")
    if arc_steps is not None and arc_steps < 1:
        raise ValueError(f"a bend needs at least 1 step, got {arc_steps}")
    return bent_slab(outline, (-thickness / 2, thickness / 2), checked_bends(bends, thickness), arc_steps)


def bent_slab(
    outline: Outline, ends: tuple[float, float], bends: Sequence[Bend], arc_steps: int | None = None
) -> Mesh:
    """As ``bent_sheet``, of what lies between two heights [m] over the mid-surface; of bends that were checked."""
    ordered = sorted(bends, key=lambda b: b.at)
    chords = [int(np.ceil(abs(b.angle) / CHORD)) if arc_steps is None else arc_steps for b in ordered]
    across = [
        np.linspace(b.at - b.width / 2, b.at + b.width / 2, n + 1) for b, n in zip(ordered, chords, strict=True)
    ]
    points, triangles = _triangulated(polygon_of(outline), np.concatenate([[], *across]))
    front, back = (bent_points(points, np.full(len(points), height), ordered) for height in ends)
    return mesh_of(np.concatenate([front, back]), _skin(triangles, len(points)))


def bent_points(flat: ArrayLike, height: ArrayLike, bends: Sequence[Bend]) -> Floats:
    """Where points (n, 2) of the pattern, ``height`` (n,) over its mid-surface, lie after bending: (n, 3) [m]."""
    xy = np.asarray(flat, dtype=float)
    above = np.broadcast_to(np.asarray(height, dtype=float), xy.shape[:1])
    y, z, heading = _bent_line(xy[:, 1], sorted(bends, key=lambda b: b.at))
    return np.stack([xy[:, 0], y - above * np.sin(heading), z + above * np.cos(heading)], axis=1)


def checked_bends(bends: Sequence[Bend], thickness: float) -> list[Bend]:
    """Bends sorted by place; raises ValueError for two that overlap, or one too tight for a ``thickness`` [m]."""
    ordered = sorted(bends, key=lambda b: b.at)
    for bend in ordered:
        if not (np.isfinite(bend.at) and 0.0 < abs(bend.angle) < np.pi):
            raise ValueError(f"a bend needs a place and an angle between 0 and 180 degrees, got {bend}")
        if not bend.radius >= thickness / 2:
            raise ValueError(
                f"the bend at {1e3 * bend.at:.1f} mm has a mid-surface radius of {1e3 * bend.radius:.2f} mm; a sheet "
                f"{1e3 * thickness:.2f} mm thick needs at least half its thickness"
            )
    for one, other in pairwise(ordered):
        if not one.at + one.width / 2 <= other.at - other.width / 2 + 1e-12:
            raise ValueError(
                f"the bends at {1e3 * one.at:.1f} mm and {1e3 * other.at:.1f} mm overlap: each takes up its "
                "angle times its radius of the flat pattern; put them further apart or make their radius smaller"
            )
    return ordered


def bend_pieces(outline: Outline, bend: Bend) -> tuple[Floats, ...]:
    """The line of a bend where there is sheet: its pieces, each (2, 2) [m]."""
    import shapely

    low, high = outline.outer[:, 0].min(), outline.outer[:, 0].max()
    across = shapely.LineString([(low - 1.0, bend.at), (high + 1.0, bend.at)])
    pieces = shapely.get_parts(across.intersection(polygon_of(outline)))
    return tuple(np.asarray(piece.coords) for piece in pieces if piece.length > 1e-6)


def polygon_of(outline: Outline) -> Any:
    """The outline as a shapely polygon; raises ValueError saying where it crosses itself or has no area."""
    import shapely

    polygon = shapely.Polygon(outline.outer, outline.holes)
    if not polygon.is_valid:
        raise ValueError(f"the outline is not a sound area (metres): {shapely.is_valid_reason(polygon)}")
    if not polygon.area > 0.0:
        raise ValueError("the outline encloses no area")
    return polygon


def _bent_line(s: Floats, ordered: Sequence[Bend]) -> tuple[Floats, Floats, Floats]:
    """Place (y, z) and heading [rad] of the mid-surface at arc lengths s from the origin, in closed form.

    Walked from the far left over straight pieces and arcs, then laid so that s = 0 is at (0, 0) and level.
    """
    places = np.append(s, 0.0)
    here, heading, start = float(min([places.min(), *(b.at - b.width / 2 for b in ordered)])), 0.0, 0j
    points, headings = places - here + 0j, np.zeros(places.shape)
    for bend in ordered:
        begin, radius = bend.at - bend.width / 2, float(np.copysign(bend.radius, bend.angle))
        start += (begin - here) * np.exp(1j * heading)
        turned = heading + (np.clip(places, begin, begin + bend.width) - begin) / radius
        hub = start + 1j * radius * np.exp(1j * heading)
        past = np.maximum(places - begin - bend.width, 0.0)
        on = places >= begin
        points = np.where(on, hub - 1j * radius * np.exp(1j * turned) + past * np.exp(1j * turned), points)
        headings = np.where(on, turned, headings)
        here, heading = begin + bend.width, heading + bend.angle
        start = complex(hub - 1j * radius * np.exp(1j * heading))
    laid = (points[:-1] - points[-1]) * np.exp(-1j * headings[-1])
    return laid.real, laid.imag, headings[:-1] - headings[-1]


def _triangulated(polygon: Any, cuts: Floats) -> tuple[Floats, Ints]:
    """Points (n, 2) and anticlockwise triangles of a polygon, with edges along every line y = cut.

    The linework is noded first, so that neighbouring strips share their corners exactly and the sheet stays closed.
    """
    import manifold3d
    import shapely

    left, low, right, high = polygon.bounds
    lines = [shapely.LineString([(left - 1.0, y), (right + 1.0, y)]) for y in cuts if low < y < high]
    strips = [polygon]
    if lines:
        noded = shapely.node(shapely.union_all([polygon.boundary, *lines]))
        pieces = shapely.get_parts(shapely.polygonize([noded]))
        strips = [p for p in pieces if polygon.contains(p.representative_point())]
    corners, triangles, count = [], [], 0
    for strip in strips:
        sound = shapely.orient_polygons(strip)
        rings = [np.asarray(r.coords)[:-1] for r in (sound.exterior, *sound.interiors)]
        triangles.append(np.asarray(manifold3d.triangulate(rings), dtype=np.int64) + count)
        corners += rings
        count += sum(len(r) for r in rings)
    points, number = np.unique(np.concatenate(corners), axis=0, return_inverse=True)
    return points, number.reshape(-1)[np.concatenate(triangles)]


def _skin(triangles: Ints, n: int) -> Ints:
    """Faces of the sheet: front (point k), back (point n + k), and walls on the edges that one triangle alone has."""
    edges = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    code, twin = edges[:, 0] * n + edges[:, 1], edges[:, 1] * n + edges[:, 0]
    a, b = edges[~np.isin(code, twin)].T
    walls = np.concatenate([np.stack([a, b, b + n], axis=1), np.stack([a, b + n, a + n], axis=1)])
    return np.concatenate([triangles[:, ::-1], triangles + n, walls])
