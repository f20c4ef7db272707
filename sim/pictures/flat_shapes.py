"""The diver without any graphics library: silhouettes in three tones, far things first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Ints, Mesh
from sim.pictures.palette import GAS_LINE, INK
from sim.pictures.surfaces import Surface
from sim.pictures.views import View, directed, projected

TONES: Final = (0.62, 0.84, 1.0)  # lightness of the shadow, the middle and the lit side
BREAKS: Final = (0.18, 0.55)  # of the light, between the tones
SUN: Final = np.array([-0.25, 0.85, 0.46])
GAS_BANDS: Final = 5
GRAIN: Final = 2e-4  # [m] to which outlines are rounded


@dataclass(frozen=True, eq=False)
class FlatShape:
    """One area to paint, sheet metres; ``colour`` red green blue opacity 0..1, ``line`` its outline or None."""

    area: Any
    colour: tuple[float, float, float, float]
    line: str | None


@dataclass(frozen=True, eq=False)
class _Piece:
    """A connected part of a surface as seen: front-facing triangles on the sheet."""

    corners: Floats
    light: Floats
    colour: Floats
    nearness: float
    layer: bool


def flat_shapes(surfaces: tuple[Surface, ...], view: View) -> tuple[FlatShape, ...]:
    """Shapes in painting order; right where pieces are roundish and do not pass through each other.

    The gas layer comes right after the piece of the body that it covers.
    """
    pieces = [piece for surface in surfaces for piece in _pieces(surface, view)]
    shapes: list[FlatShape] = []
    for piece in sorted(pieces, key=lambda p: p.nearness):
        shapes += _gas_shapes(piece) if piece.layer else _toned(piece)
    return tuple(shapes)


def _pieces(surface: Surface, view: View) -> list[_Piece]:
    points = projected(view, surface.mesh.vertices)
    corners = points[surface.mesh.faces]
    a, b = (corners[:, k, :2] - corners[:, 0, :2] for k in (1, 2))
    facing = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0] > 1e-12
    triangles = surface.mesh.vertices[surface.mesh.faces]
    normal = directed(view, np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]))
    light = normal @ SUN / np.maximum(np.linalg.norm(normal, axis=1), 1e-15)
    colours = surface.colours[surface.mesh.faces].mean(axis=1) / 255.0
    label = connected(surface.mesh)[surface.mesh.faces[:, 0]]
    found = []
    for number in range(int(label.max(initial=-1)) + 1):
        chosen = facing & (label == number)
        if chosen.any():
            near = float(corners[chosen][:, :, 2].mean())
            found.append(
                _Piece(
                    corners[chosen][:, :, :2], light[chosen], colours[chosen],
                    near + (1e-6 if surface.layer else 0.0), surface.layer,
                )
            )  # fmt: skip
    return found


def connected(mesh: Mesh) -> Ints:
    """Number (n,) of the connected piece that each vertex belongs to; vertices in one place are one."""
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    _, place = np.unique(np.round(mesh.vertices, 6), axis=0, return_inverse=True)
    place = place.reshape(-1)
    edges = place[np.concatenate([mesh.faces[:, :2], mesh.faces[:, 1:]])]
    count = int(place.max()) + 1
    graph = coo_matrix((np.ones(len(edges)), (edges[:, 0], edges[:, 1])), shape=(count, count))
    return np.asarray(connected_components(graph, directed=False)[1][place], dtype=np.int64)


def _united(corners: Floats) -> Any:
    """Union of triangles (n, 3, 2) as one shapely area."""
    import shapely

    rings = np.concatenate([corners, corners[:, :1]], axis=1)
    return shapely.union_all(shapely.polygons(rings), grid_size=GRAIN)


def _toned(piece: _Piece) -> list[FlatShape]:
    whole = _united(piece.corners)
    base = piece.colour[:, :3].mean(axis=0)
    shapes = [FlatShape(whole, _rgba(base * TONES[1]), None)]
    shadow, lit = piece.light < BREAKS[0], piece.light >= BREAKS[1]
    for chosen, tone in ((shadow, TONES[0]), (lit, TONES[2])):
        if chosen.any():
            shapes.append(FlatShape(_united(piece.corners[chosen]), _rgba(base * tone), None))
    return [*shapes, FlatShape(whole, (0.0, 0.0, 0.0, 0.0), INK)]


def _gas_shapes(piece: _Piece) -> list[FlatShape]:
    """Bands of equal opacity, hence of equal thickness, and a fine rim about them all."""
    band = np.minimum((piece.colour[:, 3] * GAS_BANDS).astype(int), GAS_BANDS - 1)
    shapes = []
    for number in range(GAS_BANDS):
        chosen = band == number
        if chosen.any():
            red, green, blue, opacity = piece.colour[chosen].mean(axis=0)
            shapes.append(FlatShape(_united(piece.corners[chosen]), (red, green, blue, opacity), None))
    return [*shapes, FlatShape(_united(piece.corners), (0.0, 0.0, 0.0, 0.0), GAS_LINE)]


def _rgba(colour: Floats) -> tuple[float, float, float, float]:
    red, green, blue = np.clip(colour, 0.0, 1.0).tolist()
    return red, green, blue, 1.0
