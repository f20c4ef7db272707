"""A designer's own plate: from a flat drawing to bend, or from a finished solid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final, Literal

import numpy as np

from meshes.drawings.outline_import import read_outline
from meshes.drawings.shape_file import ImportReport, ShapeFileError
from meshes.drawings.solid_import import read_solid
from meshes.mesh import Floats, moved
from meshes.outline import Outline
from meshes.plate.back_plate import Plate, plate_from_flat
from meshes.plate.drawn_bends import about_bends, about_lines_across, drawn_bends, running_up
from meshes.plate.edges import edges_of
from meshes.plate.holes import Located, located
from meshes.plate.openings import StatedPlaces
from meshes.plate.reading import DrawnBend, PlateReading
from meshes.plate.sheet import Bend
from meshes.plate.solid import plate_from_mesh, silhouette
from meshes.plate.unfolded import unfolded

EVERYTHING_FOUND: Final = StatedPlaces()
BEND_RADIUS: Final = 0.006  # m at the middle of the sheet, where nobody says another (common practice for 3 mm)


def axis_vector(axis: str, dimensions: int, file: str) -> Floats:
    """Unit vector (dimensions,) of an axis written like "+x"; raises ShapeFileError naming what is allowed."""
    names = "xyz"[:dimensions]
    if len(axis) != 2 or axis[0] not in "+-" or axis[1] not in names:
        allowed = ", ".join(f"{sign}{name}" for name in names for sign in "+-")
        raise ShapeFileError(f"{file}: {axis!r} is no direction of the file; write one of {allowed}")
    vector = np.zeros(dimensions)
    vector[names.index(axis[1])] = 1.0 if axis[0] == "+" else -1.0
    return vector


def plate_from_drawing(
    path: str | Path,
    *,
    thickness: float,
    density: float,
    unit: str | None = None,
    up: str = "+y",
    seen_from: Literal["behind", "front"] = "behind",
    bends: Sequence[Bend] = (),
    bend_radius: float = BEND_RADIUS,
    stated: StatedPlaces = EVERYTHING_FOUND,
    gap: float = 5e-5,
    skip_layers: Sequence[str] = (),
) -> Plate:
    """Plate from a flat pattern in a DXF or SVG file, bent and with its bolts and slots found.

    thickness [m], density [kg/m^3];  unit, gap, skip_layers : see ``read_outline``
    up : the drawing's direction to the diver's head;  seen_from : the side the drawing looks at
    bends : their ``at`` is measured across the flat pattern from its middle line, + to the diver's left; without
        any, those are taken that the drawing says beside its bend lines
    bend_radius : at the middle of the sheet [m], where the drawing says none
    stated : places that are not to be looked for. Raises ShapeFileError, also for thickness and bends.
    """
    drawing = read_outline(path, unit, gap=gap, skip_layers=skip_layers)
    name = Path(path).name
    head = axis_vector(up, 2, name)
    leftward = np.array([-head[1], head[0]]) * (1.0 if seen_from == "behind" else -1.0)
    place = _located(drawing.report, drawing.outline, head, leftward, stated)
    lines = (drawing.bend_lines - place.origin) @ place.turn.T - [0.0, place.edges.middle]
    upward, half = running_up(lines), thickness / 2
    lines, words = lines[upward], [drawing.bend_words[k] for k in np.flatnonzero(upward)]
    drawn = drawn_bends(lines, words)
    taken = bends or [
        Bend(b.at, -b.angle, bend_radius if b.inner_radius is None else b.inner_radius + half) for b in drawn
    ]
    reading = replace(
        _reading(drawing.report, place, is_solid=False),
        bend_lines=tuple(map(float, np.sort(lines[:, :, 1].mean(axis=1)))),
        drawn_bends=drawn,
    )
    about = (*about_lines_across(int((~upward).sum())), *about_bends(lines, bends, drawn))
    reading = replace(reading, doubts=(*about, *reading.doubts))
    placed = [replace(b, at=b.at + place.edges.middle) for b in taken]
    try:
        plate = plate_from_flat(place.outline, place.points, thickness, density, placed, reading=reading)
    except ValueError as error:
        raise ShapeFileError(f"{name}: {error}") from None
    return _with_doubts(plate)


def plate_from_solid_file(
    path: str | Path,
    *,
    density: float,
    up: str,
    away: str,
    unit: str | None = None,
    stated: StatedPlaces = EVERYTHING_FOUND,
) -> Plate:
    """Plate from a closed solid in STL, 3MF, GLB, OBJ, PLY or STEP, mended if need be, its bolts and slots found.

    density : of the material [kg/m^3];  unit : see ``read_solid``
    up, away : the file's axes, such as "+z", to the diver's head and away from the back
    stated : places that are not to be looked for
    Holes are looked for in the plate's outline seen from behind; a bent sheet is unfolded (see ``unfolded``).
    Raises ShapeFileError.
    """
    name = Path(path).name
    head, back = axis_vector(up, 3, name), axis_vector(away, 3, name)
    if head @ back != 0.0:
        raise ShapeFileError(f"{name}: up ({up}) and away ({away}) must be two different axes of the file")
    solid = read_solid(path, unit)
    seen = moved(solid.mesh, np.stack([head, np.cross(back, head), back]))
    place = _located(solid.report, silhouette(seen, name), np.array([1.0, 0.0]), np.array([0.0, 1.0]), stated)
    turn = np.eye(3)
    turn[:2, :2] = place.turn
    foremost = float(seen.vertices[:, 2].min())
    mesh = moved(moved(seen, shift=(-place.origin[0], -place.origin[1], -foremost)), turn)
    reading = _reading(solid.report, place, is_solid=True)
    try:
        plate = plate_from_mesh(mesh, place.outline, place.points, density, reading=reading)
    except ValueError as error:
        raise ShapeFileError(f"{name}: {error}") from None
    return _with_doubts(_as_sheet(unfolded(plate, density, name), reading))


def _as_sheet(plate: Plate, reading: PlateReading) -> Plate:
    """A solid that was unfolded, or was not, with what is told of that."""
    if not plate.thickness:
        return plate
    flat, half = edges_of(plate.pattern.outline.outer), plate.thickness / 2
    bends = tuple(
        DrawnBend(b.at - flat.middle, -b.angle, b.radius - half)
        for b in sorted(plate.pattern.bends, key=lambda b: b.at)
    )
    many = "1 bend" if len(bends) == 1 else f"{len(bends)} bends"
    told = f"it is a sheet {1e3 * plate.thickness:.2f} mm thick with {many}, and was unfolded"
    return replace(plate, reading=replace(reading, drawn_bends=bends, notes=(*reading.notes, told)))


def _located(report: ImportReport, outline: Outline, up: Floats, left: Floats, stated: StatedPlaces) -> Located:
    """As ``located``; an error says, too, that the unit goes against the file's own."""
    try:
        return located(outline, up, left, stated, report.file)
    except ShapeFileError as error:
        if report.unit.doubt is None:
            raise
        raise ShapeFileError(f"{error} ({report.unit.doubt})") from None


def _reading(report: ImportReport, place: Located, *, is_solid: bool) -> PlateReading:
    doubts = (*([report.unit.doubt] if report.unit.doubt else []), *place.doubts)
    return PlateReading(
        report.file, report.unit, place.edges, is_solid, place.told, doubts=doubts, notes=report.notes
    )


def _with_doubts(plate: Plate) -> Plate:
    """The plate with a note when its channel opens away from the back, which is almost surely a slip."""
    behind = float(plate.solid.cm[2] - plate.upper_bolt[2])
    if plate.reading is None or not behind > 0.0:
        return plate
    doubt = (
        f"the bolts lie {1e3 * behind:.1f} mm nearer the back than the plate's centre of mass; is the direction away "
        "from the back (or the sign of the bends) right?"
    )
    return replace(plate, reading=replace(plate.reading, doubts=(*plate.reading.doubts, doubt)))
