"""From loose lines to one outline with holes, or to a plain statement of why that is not possible."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

import numpy as np

from meshes.coincident_points import merged_points
from meshes.drawings.outline_crossings import check_crossings
from meshes.drawings.outline_lines import CURVE_TOLERANCE, check_holes
from meshes.drawings.shape_file import ShapeFileError
from meshes.mesh import Floats
from meshes.outline import Outline

MOST_CORNERS: Final = 20_000  # of a plate: to cut its area into triangles takes longer than in proportion
MOST_THINNED: Final = 1.6e-4  # m, what a cut edge may be off by anyway


def outline_from_chains(chains: Sequence[Floats], gap: float, file: str) -> tuple[Outline, tuple[str, ...]]:
    """The one closed outline that chains (n, 2) [m] make up, with its holes, and notes.

    Ends within ``gap`` [m] of one another are joined. Lines inside a hole are ignored and noted.
    Raises ShapeFileError, places in mm, when the outline or a hole is open, when a line divides the area, or when
    there is more than one outline.
    """
    import shapely

    once = {np.ascontiguousarray(chain).tobytes(): chain for chain in chains}  # lines drawn one upon another
    joined = _joined_ends(list(once.values()), gap)
    if not joined:
        raise ShapeFileError(f"{file}: every line is shorter than the gap of {1e3 * gap:.3g} mm; check the unit")
    check_crossings(joined, file)
    noded = shapely.node(shapely.multilinestrings([shapely.LineString(c) for c in joined]))
    faces, cuts, dangles, _ = shapely.polygonize_full([noded])
    pieces = list(shapely.get_parts(faces))
    loose = [*shapely.get_parts(dangles), *shapely.get_parts(cuts)]
    if not pieces:
        raise ShapeFileError(f"{file}: no closed outline; {_open_ends(loose)}")
    body = max(pieces, key=lambda p: shapely.Polygon(p.exterior).area)
    check_holes(len(body.interiors), file)
    holes = [shapely.Polygon(ring) for ring in body.interiors]
    inside = shapely.union_all(holes)
    shapely.prepare(inside)
    stray = [line for line in loose if line.length > gap and not inside.covers(line)]
    if stray:
        raise ShapeFileError(f"{file}: the outline or a hole is open, or there is a loose line; {_open_ends(stray)}")
    _check_whole(body, pieces, file)
    inner = int(shapely.covers(inside, shapely.point_on_surface(pieces)).sum()) - len(holes)
    inner += sum(line.length > gap for line in loose)  # what rounding leaves where a line meets itself is none
    notes = [f"{inner} outlines or lines inside holes were left out"] if inner > 0 else []
    body = _thinned(body, file, notes)
    return Outline(_ring(body.exterior), tuple(_ring(r) for r in body.interiors)), tuple(notes)


def _thinned(body: Any, file: str, notes: list[str]) -> Any:
    """The area with few enough corners to be made a sheet of, each left-out one off by as little as will do."""
    import shapely

    count, tolerance = shapely.get_num_coordinates(body), CURVE_TOLERANCE
    if count <= MOST_CORNERS:
        return body
    while tolerance <= MOST_THINNED:
        thin = shapely.simplify(body, tolerance, preserve_topology=False)
        if thin.is_valid and thin.geom_type == "Polygon" and shapely.get_num_coordinates(thin) <= MOST_CORNERS:
            left = shapely.get_num_coordinates(thin)
            notes.append(
                f"outline thinned from {count} to {left} corners, none moved by more than {1e3 * tolerance:.2g} mm"
            )
            return thin
        tolerance *= 2.0
    raise ShapeFileError(
        f"{file}: the outline and its holes have {count} corners, of which at most {MOST_CORNERS} are used; export "
        "it with fewer points, or fill patterns of small holes"
    )


def _joined_ends(chains: Sequence[Floats], gap: float) -> list[Floats]:
    """The chains with ends within ``gap`` of one another moved together; chains that vanish are dropped."""
    ends = np.concatenate([[c[0], c[-1]] for c in chains])
    places, which = merged_points(ends, gap)
    starts, stops = places[which[0::2]], places[which[1::2]]
    joined = [np.concatenate([a[None], c[1:-1], b[None]]) for a, c, b in zip(starts, chains, stops, strict=True)]
    return [c for c in joined if np.ptp(c, axis=0).max() > 0.0]


def _check_whole(body: Any, pieces: Sequence[Any], file: str) -> None:
    """Raise ShapeFileError unless all other faces lie in the body's holes."""
    import shapely

    filled = shapely.Polygon(body.exterior)
    shapely.prepare(filled)
    # a line drawn twice with different chords leaves slivers beside the body: too thin to matter
    least = 1e-4 * body.area
    large = [p for p in pieces if p is not body and p.area > least]
    others = [p for p in large if not filled.covers(p.representative_point())]
    if not others:
        return
    shared = [p.intersection(body).length for p in others]
    if max(shared) > 0.0:
        line = others[int(np.argmax(shared))].intersection(body)
        raise ShapeFileError(
            f"{file}: a line divides the outline, or it crosses itself, near {_place(line.centroid)}; put bend lines "
            "on a layer whose name contains 'bend', and delete construction lines or name their layer to be skipped"
        )
    where = ", ".join(_place(p.centroid) for p in (body, *others[:3]))
    raise ShapeFileError(f"{file}: {1 + len(others)} separate outlines (around {where}); keep the plate's alone")


def _open_ends(loose: Sequence[Any]) -> str:
    """Where lines end in the open, in words."""
    import shapely

    merged = shapely.get_parts(shapely.line_merge(shapely.union_all(list(loose))))
    ends = np.concatenate([np.asarray(line.coords)[[0, -1]] for line in merged])
    places = list(dict.fromkeys(_place(shapely.Point(e)) for e in ends))
    more = f" and {len(places) - 4} more" if len(places) > 4 else ""
    return (
        f"lines end at {', '.join(places[:4])}{more}; close the outline there (or allow a larger gap), delete the "
        "line, or name its layer to be skipped"
    )


def _place(point: Any) -> str:
    x, y = np.round([1e3 * point.x, 1e3 * point.y], 2) + 0.0  # no "-0.00"
    return f"({x:.2f}, {y:.2f}) mm"


def _ring(ring: Any) -> Floats:
    return np.asarray(ring.coords, dtype=float)[:-1]
