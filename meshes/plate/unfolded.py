"""The flat sheet of a plate that was given as a finished solid: its thickness, its bends, and its outline unfolded.

Seen along its length a bent sheet is a strip of even width. Its middle line tells the bends, and how far apart things
on it lie; the faces that look away from the diver, rolled out along it, are the flat outline.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints, Mesh
from meshes.outline import Outline
from meshes.plate.back_plate import FlatPoints, Pattern, Plate, plate_from_flat
from meshes.plate.manifolds import shadow
from meshes.plate.sheet import Bend
from meshes.plate.solid import heights_around, silhouette

ROUNDING: Final = 2e-6  # m on corners in single precision, and in STEP's meshes
EVEN: Final = 0.03  # share of the thickness by which a cut edge may differ from it, and a bend from a circle
SQUARE: Final = np.radians(6.0)  # by which a cut edge may lean
LEANS: Final = np.radians(15.0)  # beside a triangle that spans a rolled sheet's arc
NEAR: Final = 0.4  # of the thickness, that such triangles lie off what is seen of them
FACING: Final = 0.7  # cosine between a triangle's normal and that of the face on which it lies
TURNS: Final = np.radians(0.2)  # at a corner of the profile: less is rounding
LONGER: Final = 2.5  # times the chords of a bend: a level piece between two bends
SAME_VOLUME: Final = 5e-3  # chords of 15 degrees lose 3e-3 of a bend
SAME_CM: Final = 5e-4  # m
MOST_FACES: Final = 200_000


@dataclass(frozen=True, eq=False)
class _Arc:
    """A bend of a strip, from corner ``first`` to ``last``: its turn [rad] and radius at the middle of the sheet [m].

    before, after : level sheet from the first corner to where the bend begins, and from its end to the last [m]
    """

    first: int
    last: int
    angle: float
    radius: float
    before: float
    after: float

    @property
    def length(self) -> float:
        """Of the sheet's middle from the first to the last corner [m]."""
        return self.before + abs(self.angle) * self.radius + self.after

    def middle(self, along: Floats) -> float:
        """How far along the sheet its middle lies, where corners lie at ``along`` (n,) [m]."""
        return float(along[self.first] + self.before + abs(self.angle) * self.radius / 2)


@dataclass(frozen=True, eq=False)
class _Strip:
    """The profile of a sheet from right to left.

    back : (n, 2) y and z of its face away from the diver [m];  arcs : its bends
    along : (n,) length of the sheet's middle up to each corner [m], counted from y = 0
    """

    back: Floats
    arcs: tuple[_Arc, ...]
    along: Floats


def unfolded(plate: Plate, density: float, file: str) -> Plate:
    """The same solid with thickness, flat pattern and bends, if it is a bent sheet; else the very same plate.

    density : [kg/m^3]. It is one if the sheet found, bent again, has its volume and centre of mass. The flat pattern
    is that of the faces that look away from the diver.
    """
    mesh = plate.solid.mesh
    if mesh is None or len(mesh.faces) > MOST_FACES:
        return plate
    heights = heights_around(mesh, plate.upper_bolt[:2])
    if heights is None or not heights[1] - heights[0] > ROUNDING:
        return plate
    thickness = heights[1] - heights[0]
    for rough in (False, True):
        found = _sheet_of(plate, mesh, thickness, density, file, rough=rough)
        if found is not None:
            return replace(plate, thickness=thickness, pattern=found)
    return plate


def _sheet_of(
    plate: Plate, mesh: Mesh, thickness: float, density: float, file: str, *, rough: bool
) -> Pattern | None:
    """The flat pattern, if the sheet found, bent again, is alike.

    rough : its triangles are long beside the arcs that they span, so that their corners alone tell its shape
    """
    try:
        strip = _strip_of(mesh, thickness, rough=rough)
        if strip is None:
            return None
        outline = _rolled_out(mesh, strip, thickness, file, rough=rough)
        bends = tuple(Bend(arc.middle(strip.along), arc.angle, arc.radius) for arc in strip.arcs)
        points = _points(plate.pattern.points, strip)
        sheet = plate_from_flat(outline, points, thickness, density, bends)
    except (ValueError, ZeroDivisionError):
        return None
    alike = abs(sheet.solid.volume / plate.solid.volume - 1.0) <= SAME_VOLUME
    if not (alike and np.abs(sheet.solid.cm - plate.solid.cm).max() <= SAME_CM):
        return None
    return Pattern(outline, points, bends)


def _strip_of(mesh: Mesh, thickness: float, *, rough: bool) -> _Strip | None:
    """The profile of a solid seen along x, if it is a strip with square ends."""
    import shapely

    seen = Mesh(mesh.vertices[:, [1, 2, 0]], mesh.faces)
    rings = shadow(seen)
    if len(rings) != 1:
        return None
    ring = np.asarray(shapely.simplify(shapely.Polygon(rings[0]), ROUNDING).exterior.coords)[:-1]
    if not shapely.LinearRing(ring).is_ccw:
        ring = ring[::-1]
    ends = [k for k in range(len(ring)) if _is_end(ring, k, thickness, LEANS if rough else SQUARE)]
    if len(ends) < 2:
        return None
    left = max(ends, key=lambda k: ring[k, 0] + ring[(k + 1) % len(ring), 0])
    right = min(ends, key=lambda k: ring[k, 0] + ring[(k + 1) % len(ring), 0])
    # anticlockwise with z up: from the left end along the back to the right end
    first = (left + 1) % len(ring)
    count = (right - first) % len(ring) + 1
    back = np.roll(ring, -first, axis=0)[:count][::-1]
    if rough:
        back = _by_corners(mesh, back, NEAR * thickness)
    ahead = np.diff(back, axis=0)
    long = np.linalg.norm(ahead, axis=1)
    if len(back) < 2 or not (ahead[:, 0] > -ROUNDING).all() or not long.min() > 0.0:
        return None
    arcs = tuple(_arcs(back, thickness))
    for arc in arcs:
        here = slice(arc.first, arc.last)
        if arc.last > arc.first:
            long[here] *= arc.length / long[here].sum()
    along = np.concatenate([[0.0], np.cumsum(long)])
    return _Strip(back, arcs, along - np.interp(0.0, back[:, 0], along))


def _by_corners(mesh: Mesh, back: Floats, near: float) -> Floats:
    """The same line through the corners of the triangles on it, in their order along it."""
    import shapely

    line = shapely.LineString(back)
    profile = mesh.vertices[np.unique(mesh.faces[_facing(mesh, back, near)]), 1:]
    place = shapely.line_locate_point(line, shapely.points(profile))
    through = profile[np.argsort(place, kind="stable")]
    apart = np.linalg.norm(np.diff(through, axis=0, prepend=through[:1] - 1.0), axis=1) > 10.0 * ROUNDING
    return np.asarray(shapely.simplify(shapely.LineString(through[apart]), ROUNDING).coords)


def _facing(mesh: Mesh, back: Floats, near: float) -> NDArray[np.bool_]:
    """(m,) triangles that lie ``near`` [m] a line ``back`` of the profile and look away from the diver there."""
    import shapely

    corners = mesh.vertices[mesh.faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normal /= np.maximum(np.linalg.norm(normal, axis=1), 1e-30)[:, None]
    line, middle = shapely.LineString(back), shapely.points(corners.mean(axis=1)[:, 1:])
    ahead = np.diff(back, axis=0)
    long = np.linalg.norm(ahead, axis=1)
    on = np.clip(np.searchsorted(np.cumsum(long), shapely.line_locate_point(line, middle)), 0, len(ahead) - 1)
    out = (np.stack([-ahead[:, 1], ahead[:, 0]], axis=1) / long[:, None])[on]
    looks = (normal[:, 1:] * out).sum(axis=1) > FACING
    return np.asarray(looks & (shapely.distance(line, middle) <= near))


def _is_end(ring: Floats, k: int, thickness: float, leans: float) -> bool:
    """Whether the side from corner ``k`` on is a cut edge: as long as the sheet is thick, square to both faces."""
    before, a, b, after = (ring[(k + j) % len(ring)] for j in (-1, 0, 1, 2))
    if abs(float(np.linalg.norm(b - a)) - thickness) > EVEN * thickness:
        return False
    sides = [side / max(float(np.linalg.norm(side)), 1e-12) for side in (a - before, b - a, after - b)]
    return all(abs(float(one @ sides[1])) < np.sin(leans) for one in (sides[0], sides[2]))


def _rolled_out(mesh: Mesh, strip: _Strip, thickness: float, file: str, *, rough: bool) -> Outline:
    """The faces that lie on the back of the strip, rolled out: x, and how far along the sheet."""
    import shapely

    line = shapely.LineString(strip.back)
    points = shapely.points(mesh.vertices[:, 1:])
    if rough:
        faces: Ints = mesh.faces[_facing(mesh, strip.back, NEAR * thickness)]
    else:
        on = shapely.distance(line, points) <= 0.05 * thickness + ROUNDING
        faces = mesh.faces[on[mesh.faces].all(axis=1)]
    long = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(strip.back, axis=0), axis=1))])
    along = np.interp(shapely.line_locate_point(line, points), long, strip.along)
    flat = np.stack([mesh.vertices[:, 0], along, np.zeros(len(along))], axis=1)
    return silhouette(Mesh(flat, faces), file)


def _arcs(back: Floats, thickness: float) -> Iterator[_Arc]:
    """Bends of a strip whose corners are ``back`` (n, 2): runs of corners that turn the same way.

    Plus turns toward the back, on either side of the middle line.
    """
    ahead = np.diff(back, axis=0)
    long = np.linalg.norm(ahead, axis=1)
    way = ahead / long[:, None]
    turn = np.concatenate([[0.0], np.diff(np.arctan2(ahead[:, 1], ahead[:, 0])), [0.0]])
    half = thickness / 2
    for first, last in _joined(_runs(turn, np.concatenate([[0.0], np.cumsum(long)])), back, turn, EVEN * thickness):
        angle = float(turn[first : last + 1].sum())
        on = _radius(back[first : last + 1], angle)
        radius = max(on + float(np.copysign(half, angle)), half)
        one, other = way[first - 1], way[last]
        # the level pieces on both sides, drawn out to where they meet: the bend begins and ends so far from there
        across = back[last] - back[first]
        to_meet = float(across[0] * other[1] - across[1] * other[0]) / float(one[0] * other[1] - one[1] * other[0])
        from_meet = float((across - to_meet * one) @ other)
        reach = on * float(np.tan(abs(angle) / 2))
        yield _Arc(first, last, angle, radius, to_meet - reach, from_meet - reach)


def _radius(points: Floats, angle: float) -> float:
    """Of the circle on which corners (n, 2) of a bend lie [m]: by least squares, 0 of a single corner."""
    if len(points) < 2:
        return 0.0
    if len(points) == 2:
        return float(np.linalg.norm(points[1] - points[0])) / (2.0 * float(np.sin(abs(angle) / 2)))
    return _circle(points)[1]


def _circle(points: Floats) -> tuple[Floats, float]:
    """Middle (2,) and radius of the circle nearest to points (n, 2), of three or more: by least squares [m]."""
    mean = points.mean(axis=0)
    centred = points - mean
    design = np.column_stack([2.0 * centred, np.ones(len(points))])
    x, y, rest = np.linalg.lstsq(design, np.einsum("ij,ij->i", centred, centred), rcond=None)[0]
    return mean + [x, y], float(np.sqrt(rest + x * x + y * y))


def _runs(turn: Floats, along: Floats) -> Iterator[list[int]]:
    """Corners of each bend, from right to left."""
    run: list[int] = []
    for k in map(int, np.flatnonzero(np.abs(turn) > TURNS)):
        if run:
            chord = (along[run[-1]] - along[run[0]]) / (len(run) - 1) if len(run) > 1 else np.inf
            apart = along[k] - along[run[-1]] > min(LONGER * chord, 0.02)
            if turn[k] * turn[run[-1]] < 0.0 or apart:
                yield run
                run = []
        run.append(k)
    if run:
        yield run


def _joined(runs: Iterable[list[int]], back: Floats, turn: Floats, within: float) -> list[tuple[int, int]]:
    """First and last corner of each bend, those made one that lie ``within`` [m] of one circle."""
    found: list[tuple[int, int]] = []
    for run in runs:
        found.append((run[0], run[-1]))
        while len(found) > 1 and _is_one(found[-2], found[-1], back, turn, within):
            found[-2:] = [(found[-2][0], found[-1][1])]
    return found


def _is_one(one: tuple[int, int], other: tuple[int, int], back: Floats, turn: Floats, within: float) -> bool:
    """Whether two neighbouring bends touch and have like radius: the shorter's corners lie on the longer's circle.

    within : [m] of it. A level piece c between two bends of radius r ends c^2 / 2 r from there. Fewer than four
    corners tell no circle from rounding.
    """
    longer, shorter = (one, other) if one[1] - one[0] >= other[1] - other[0] else (other, one)
    if longer[1] - longer[0] < 3 or turn[one[0] : one[1] + 1].sum() * turn[other[0] : other[1] + 1].sum() <= 0.0:
        return False
    middle, radius = _circle(back[longer[0] : longer[1] + 1])
    away = np.linalg.norm(back[shorter[0] : shorter[1] + 1] - middle, axis=1) - radius
    return bool(np.abs(away).max() <= within)


def _points(points: FlatPoints, strip: _Strip) -> FlatPoints:
    """Places as seen from behind, on the flat sheet."""

    def moved(place: Floats) -> Floats:
        flat = np.array(place)
        flat[..., 1] = np.interp(flat[..., 1], strip.back[:, 0], strip.along)
        return flat

    return FlatPoints(
        points.upper_bolt,
        points.lower_bolt,
        moved(points.shoulder_slots),
        moved(points.waist_slots),
        moved(points.crotch_slot),
    )
