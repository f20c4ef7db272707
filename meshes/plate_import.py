"""A designer's own plate: from a flat drawing to bend, or from a finished solid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats, moved
from meshes.outline_import import read_outline
from meshes.plate import Plate, plate_from_flat
from meshes.plate_holes import StatedPoints, located
from meshes.plate_sheet import Bend
from meshes.plate_solid import plate_from_mesh, silhouette
from meshes.shape_file import ShapeFileError
from meshes.solid_import import read_solid

EVERYTHING_FOUND: Final = StatedPoints()
BEND_LINE_TOLERANCE: Final = 1e-3  # m, between a drawn bend line and a stated bend


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
    stated: StatedPoints = EVERYTHING_FOUND,
    gap: float = 5e-5,
    skip_layers: Sequence[str] = (),
) -> Plate:
    """Plate from a flat pattern in a DXF or SVG file, bent and with its bolts and slots found.

    thickness [m], density [kg/m^3];  unit, gap, skip_layers : see ``read_outline``
    up : the drawing's direction to the diver's head;  seen_from : the side the drawing looks at
    bends : their ``at`` is measured across the flat pattern from the line through the bolts, + to the diver's left
    stated : places that are not to be looked for. Raises ShapeFileError, or ValueError for thickness and bends.
    """
    drawing = read_outline(path, unit, gap=gap, skip_layers=skip_layers)
    name = Path(path).name
    head = axis_vector(up, 2, name)
    leftward = np.array([-head[1], head[0]]) * (1.0 if seen_from == "behind" else -1.0)
    place = located(drawing.outline, head, leftward, stated, name)
    drawn = (drawing.bend_lines - place.origin) @ place.turn.T
    notes = (*drawing.report.sentences(), *place.notes, *_about_bends(drawn, bends))
    return _with_doubts(plate_from_flat(place.outline, place.points, thickness, density, bends, notes=notes))


def plate_from_solid_file(
    path: str | Path,
    *,
    density: float,
    up: str,
    away: str,
    unit: str | None = None,
    stated: StatedPoints = EVERYTHING_FOUND,
) -> Plate:
    """Plate from a closed solid in STL, 3MF, GLB, OBJ, PLY or STEP, mended if need be, its bolts and slots found.

    density : of the material [kg/m^3];  unit : see ``read_solid``
    up, away : the file's axes, such as "+z", to the diver's head and away from the back
    stated : places that are not to be looked for, as (2,) of (along ``up``, to the left) in metres from the file's
        origin, left being the direction to the diver's left
    Holes are looked for in the plate's outline seen from behind. Raises ShapeFileError.
    """
    name = Path(path).name
    head, back = axis_vector(up, 3, name), axis_vector(away, 3, name)
    if head @ back != 0.0:
        raise ShapeFileError(f"{name}: up ({up}) and away ({away}) must be two different axes of the file")
    solid = read_solid(path, unit)
    seen = moved(solid.mesh, np.stack([head, np.cross(back, head), back]))
    place = located(silhouette(seen, name), [1.0, 0.0], [0.0, 1.0], stated, name)
    turn = np.eye(3)
    turn[:2, :2] = place.turn
    foremost = float(seen.vertices[:, 2].min())
    mesh = moved(moved(seen, shift=(-place.origin[0], -place.origin[1], -foremost)), turn)
    notes = (*solid.report.sentences(), *place.notes)
    return _with_doubts(plate_from_mesh(mesh, place.outline, place.points, density, notes=notes))


def _with_doubts(plate: Plate) -> Plate:
    """The plate with a note when its channel opens away from the back, which is almost surely a slip."""
    behind = float(plate.solid.cm[2] - plate.upper_bolt[2])
    if not behind > 0.0:
        return plate
    doubt = (
        f"the bolts lie {1e3 * behind:.1f} mm nearer the back than the plate's centre of mass; is the direction away "
        "from the back (or the sign of the bends) right?"
    )
    return replace(plate, notes=(*plate.notes, doubt))


def _about_bends(drawn: Floats, bends: Sequence[Bend]) -> tuple[str, ...]:
    """How bend lines (n, 2, 2) drawn in the file, in the flat frame, go with the bends stated."""
    if not len(drawn):
        return () if bends else ("bends: none stated, the plate is flat",)
    across = np.sort(drawn[:, :, 1].mean(axis=1))
    places = ", ".join(f"{1e3 * y:.1f}" for y in across)
    if not bends:
        return (
            f"bends: lines are drawn at {places} mm from the bolts' line, but no angles were stated: taken as flat",
        )
    off = [f"{1e3 * b.at:.1f} mm" for b in bends if np.abs(across - b.at).min() > BEND_LINE_TOLERANCE]
    odd = f"; no line is drawn for the bends stated at {', '.join(off)}" if off else ""
    slanted = (
        "; a bend line that slants is taken as straight up" if np.ptp(drawn[:, :, 1], axis=1).max() > 1e-3 else ""
    )
    return (f"bends: lines are drawn at {places} mm from the bolts' line{odd}{slanted}",)
