"""Spoilt triangle meshes made sound solids, or refused; the change in volume is told either way.

Being closed is not enough: a mesh can be closed and inside out, or be two shells that overlap and count their common
part twice. So after merging, winding and filling, shells are united by a boolean operation and the result is checked.
Not looked for: one shell that cuts through itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Final

import numpy as np

from meshes.coincident_points import merged_points, repeated_rows
from meshes.drawings.mesh_edges import Edges, edges_of, shells_of, small_holes, wound_alike
from meshes.drawings.shape_file import ShapeFileError
from meshes.mesh import Floats, Ints, Mesh, mesh_of

# welding distances as shares of the diagonal: no welding, the same point twice, rounding, noise; the smallest that
# closes is used, so that solids which only touch stay apart as long as they can
NOISE: Final = 3e-5
WELDS: Final = (None, 0.0, 1e-9, NOISE)
THINNEST: Final = 1e-9  # of the diagonal cubed: less volume than this is a surface, not a solid
MOST_FILLED: Final = 0.02  # of a part's triangles: what is missing beyond that is not ours to guess
MOST_SHELLS: Final = 500  # a thousand that all overlap take as long to unite as a file may
SAME: Final = 1e-6  # relative difference of two volumes that is not worth a word
Repair = Callable[[Floats, Ints], tuple[Floats, Ints]]

Triangles = tuple[Floats, Ints]  # vertices (n, 3) [m], faces (m, 3)


@dataclass(frozen=True, eq=False)
class Mended:
    """A sound solid: closed, faces outwards, no space counted twice.

    volume_before : signed volume of the triangles as given [m^3];  steps : what was done, as sentences
    """

    mesh: Mesh
    volume_before: float
    steps: tuple[str, ...]


def mended(parts: Sequence[Triangles], file: str) -> Mended:
    """One sound solid from a file's parts, each mended by itself, or all together when one of them is open.

    Welds points by distance, turns faces one way and outwards, fills holes of one or two triangles, unites shells.
    Raises ShapeFileError when edges stay open (saying where) or no volume is enclosed.
    """
    steps: list[str] = []
    try:
        bodies = [_closed(*part, file, steps) for part in parts]
    except ShapeFileError:
        if len(parts) == 1:
            raise
        steps = []
        bodies = [_closed(*_one_list(parts), file, steps)]
    size = float(np.linalg.norm(np.ptp(np.concatenate([b.vertices for b in bodies]), axis=0)))
    mesh = _united(bodies, file, steps)
    before = sum(signed_volume(*part) for part in parts)
    volume = signed_volume(mesh.vertices, mesh.faces)
    if not volume > THINNEST * size**3:
        raise ShapeFileError(
            f"{file}: the mesh encloses no volume ({1e3 * volume:.3g} litres); export a closed solid, not a surface"
        )
    told = sum("volume" in step for step in steps)
    if told > 1 or (told == 0 and not _same(before, volume)):
        steps.append(f"in all: volume {_change(before, volume)}")
    return Mended(mesh, before, tuple(steps))


def signed_volume(vertices: Floats, faces: Ints) -> float:
    """Volume [m^3] by the divergence theorem; what it means for an open mesh depends on where the gaps are."""
    return float(_volumes(vertices, faces).sum())


def _volumes(vertices: Floats, faces: Ints) -> Floats:
    """Signed volume (m,) [m^3] between each face and the middle of the vertices."""
    x, y, z = (vertices - vertices.mean(axis=0)).T
    (ax, bx, cx), (ay, by, cy), (az, bz, cz) = x[faces.T], y[faces.T], z[faces.T]
    return np.asarray(ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx)) / 6.0


def _closed(vertices: Floats, faces: Ints, file: str, steps: list[str]) -> Mesh:
    """One part with every edge joining two faces that are wound alike."""
    size = float(np.linalg.norm(np.ptp(vertices, axis=0)))
    if not size > 0.0 or not len(faces):
        raise ShapeFileError(f"{file}: the file holds no triangles; export a closed solid")
    for share in WELDS:
        if share is None and len(vertices) > 1.5 * len(faces):  # fewer than two triangles a point: open for sure
            continue
        points, triangles = _joined(vertices, faces, None if share is None else share * size)
        edges = edges_of(triangles)
        if not edges.odd.any():
            break
    if share == NOISE and len(points) < len(vertices):
        steps.append(f"points closer than {1e3 * NOISE * size:.2g} mm to another joined, {len(points)} left")
    repairs: list[tuple[str, Repair]] = [("faces turned", partial(_turned, edges))]
    if edges.odd.any():
        repairs.append(("holes filled", _filled))
    # which way is out can be told of a closed shell only, so that shells are turned when their holes are filled
    if not edges.wound_alike:
        repairs.append(("shells turned outwards", _outwards))
    for name, repair in repairs:
        given, count = triangles, len(triangles)
        points, triangles = repair(points, given)
        if triangles is given:
            continue
        start = signed_volume(points, given)
        if len(triangles) - count > max(2.0, MOST_FILLED * count):
            raise ShapeFileError(
                f"{file}: too much is missing: {len(triangles) - count} triangles would have to be added to {count}; "
                "the file may be cut short, export a closed solid again"
            )
        if len(triangles) > count or not _same(start, signed_volume(points, triangles)):
            added = f" with {len(triangles) - count} triangles" if len(triangles) > count else ""
            steps.append(f"{name}{added}: volume {_change(start, signed_volume(points, triangles))}")
    odd = edges_of(triangles).odd if len(repairs) > 1 else edges.odd
    if odd.any() or not len(triangles):
        raise ShapeFileError(f"{file}: not a closed solid: {_where_open(points, triangles, odd)}")
    return mesh_of(points, triangles)


def _joined(vertices: Floats, faces: Ints, distance: float | None) -> Triangles:
    """Points merged; triangles without area dropped; of equal triangles one kept, of opposite pairs none."""
    points, label = (vertices, np.arange(len(vertices))) if distance is None else merged_points(vertices, distance)
    corners = label[faces]
    a, b, c = corners.T
    corners = corners[(a != b) & (b != c) & (c != a)]
    rows = np.sort(corners, axis=1)
    again = np.flatnonzero(repeated_rows(rows))
    if not len(again):
        return points, corners
    unique, number = np.unique(rows[again], axis=0, return_inverse=True)
    order = np.argsort(corners[again], axis=1)
    even = (order[:, 1] - order[:, 0]) % 3 == 1
    net = np.bincount(number.reshape(-1), weights=np.where(even, 1.0, -1.0), minlength=len(unique))
    kept = np.where((net > 0.0)[:, None], unique, unique[:, ::-1])[net != 0.0]
    return points, np.concatenate([np.delete(corners, again, axis=0), kept])


def _where_open(points: Floats, triangles: Ints, odd: Any) -> str:
    if not len(triangles):
        return "no triangle with an area is left; export a closed solid"
    edges = edges_of(triangles).ends
    middles = 1e3 * points[edges[odd]].mean(axis=1)
    spans = zip("xyz", middles.min(axis=0), middles.max(axis=0), strict=True)
    spread = ", ".join(f"{axis} {low:.1f} to {high:.1f}" for axis, low, high in spans)
    return (
        f"{int(odd.sum())} of {len(edges)} edges have no matching neighbour, at {spread} mm; close the surface there "
        "in the program that drew it and export a solid"
    )


def _turned(edges: Edges, points: Floats, triangles: Ints) -> Triangles:
    """All faces of each shell wound one way, the whole outwards.

    Where the winding was consistent it is believed, up to turning the whole: a shell facing inwards may be a cavity.
    """
    faces = wound_alike(triangles, edges)
    return points, faces[:, ::-1] if signed_volume(points, faces) < 0.0 else faces


def _outwards(points: Floats, triangles: Ints) -> Triangles:
    """Every shell turned outwards, for a file whose own winding says nothing."""
    shell = shells_of(triangles)
    inwards = np.bincount(shell, weights=_volumes(points, triangles)) < 0.0
    return points, np.where(inwards[shell][:, None], triangles[:, ::-1], triangles)


def _filled(points: Floats, triangles: Ints) -> Triangles:
    """Holes of three or four edges closed."""
    return points, np.concatenate([triangles, small_holes(points, triangles)])


def _united(bodies: Sequence[Mesh], file: str, steps: list[str]) -> Mesh:
    """Shells united; a shell that faces inwards inside another is a cavity and kept, elsewhere it is turned."""
    import manifold3d

    if len(bodies) == 1 and not shells_of(bodies[0].faces).any():
        return bodies[0]
    apart = [shells_of(body.faces) for body in bodies]
    if (count := sum(int(shell.max(initial=-1)) + 1 for shell in apart)) > MOST_SHELLS:
        raise ShapeFileError(
            f"{file}: it is made of {count} shells, at most {MOST_SHELLS} are united; unite them in the program that "
            "drew them, and leave out what is not the plate"
        )
    solids = [_manifold(*one) for body, shell in zip(bodies, apart, strict=True) for one in _split(body, shell)]
    failed = [s.status() for s in solids if s.status() != manifold3d.Error.NoError]
    shells = [s for s in solids if not s.is_empty()]
    if failed or not shells:
        reason = str(failed[0]) if failed else "it encloses no volume"
        raise ShapeFileError(f"{file}: the surface is not that of a solid ({reason}); export a closed solid")
    if len(shells) == 1:
        return bodies[0]
    outside = [s for s in shells if s.volume() > 0.0]
    inside = [_inverted(s) for s in shells if s.volume() <= 0.0]
    whole = manifold3d.Manifold.batch_boolean(outside, manifold3d.OpType.Add)
    cavities = [s for s in inside if (s - whole).volume() <= SAME * s.volume()]
    strays = [s for s in inside if not any(s is c for c in cavities)]
    if strays:
        whole = manifold3d.Manifold.batch_boolean([whole, *strays], manifold3d.OpType.Add)
        steps.append(f"{len(strays)} of {len(shells)} shells faced inwards and were turned")
    for cavity in cavities:
        whole = whole - cavity
    counted_twice = sum(s.volume() for s in (*outside, *strays)) - sum(s.volume() for s in cavities) - whole.volume()
    steps.append(f"{len(shells)} shells, {len(cavities)} of them cavities")
    if counted_twice > SAME * whole.volume():
        steps.append(f"shells that overlap united: {1e3 * counted_twice:.4g} litres had been counted more than once")
    return _mesh(whole)


def _split(body: Mesh, shell: Ints) -> Iterator[Triangles]:
    """The shells of a body, each with its own vertices; ``shell`` (m,) says which one a face is of."""
    order = np.argsort(shell, kind="stable")
    for faces in np.split(body.faces[order], np.flatnonzero(np.diff(shell[order])) + 1):
        used, renamed = np.unique(faces, return_inverse=True)
        yield body.vertices[used], renamed.reshape(-1, 3)


def _manifold(vertices: Floats, faces: Ints) -> Any:
    import manifold3d

    return manifold3d.Manifold(manifold3d.Mesh64(np.array(vertices), np.array(faces, dtype=np.uint64)))


def _inverted(shell: Any) -> Any:
    mesh = _mesh(shell)
    return _manifold(mesh.vertices, mesh.faces[:, ::-1])


def _mesh(shell: Any) -> Mesh:
    mesh = shell.to_mesh64()
    return mesh_of(np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts, dtype=np.int64))


def _one_list(parts: Sequence[Triangles]) -> Triangles:
    offsets = np.cumsum([0] + [len(v) for v, _ in parts[:-1]])
    vertices = np.concatenate([v for v, _ in parts])
    return vertices, np.concatenate([f + k for (_, f), k in zip(parts, offsets, strict=True)])


def _same(a: float, b: float) -> bool:
    return abs(a - b) <= SAME * abs(b)


def _change(before: float, after: float) -> str:
    share = f" ({100.0 * (after / before - 1.0):+.3g} %)" if before > 0.0 else ""
    return f"{1e3 * before:.5g} to {1e3 * after:.5g} litres{share}"
