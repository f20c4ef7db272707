"""The plate of a scenario: from the catalogue, by its measures, or a designer's own drawing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Final

import numpy as np

from meshes.outline_import import read_outline
from meshes.plate import Plate, plate_of
from meshes.plate_catalogue import small_plate_shape, standard_plate_shape
from meshes.plate_holes import StatedPoints
from meshes.plate_import import axis_vector, plate_from_drawing, plate_from_solid_file
from meshes.plate_sheet import Bend, both_sides
from meshes.solid import scaled_to_mass
from meshes.solid_import import read_solid
from scenarios.back_gear import Plate as PlateTable

# kg/m^3: metals found in handbook tables, the laminate from memory (1500 to 1600)
DENSITIES: Final = {"stainless steel": 8000.0, "aluminium": 2700.0, "titanium": 4430.0, "carbon laminate": 1550.0}
BEND_RADIUS: Final = 0.006  # m at the middle of the sheet, where a scenario states none (common practice for 3 mm)
FLAT_FILES: Final = (".dxf", ".svg")


def plate_from(table: PlateTable) -> Plate:
    """Plate in its own frame. Raises ValueError (ShapeFileError for a file) with what was found and what to do."""
    density = DENSITIES.get(table.material, 1000.0) if table.density is None else table.density
    plate = _built(table) if table.file is None else _drawn(table, density)
    if table.mass is None:
        return plate
    return replace(plate, solid=scaled_to_mass(plate.solid, table.mass))


def _built(table: PlateTable) -> Plate:
    density = DENSITIES.get(table.material, 1000.0) if table.density is None else table.density
    make = small_plate_shape if table.shape == "small" else standard_plate_shape
    sizes = {
        key: value
        for key in ("length", "width", "thickness", "channel_depth")
        if (value := getattr(table, key)) is not None
    }
    return plate_of(make(**sizes), density)


def _drawn(table: PlateTable, density: float) -> Plate:
    file = table.file
    if file is None:
        raise ValueError("a drawn plate needs a file")
    stated = _stated_bolts(table, file)
    if file.suffix.lower() in FLAT_FILES:
        bends = both_sides([Bend(b.offset, -b.angle, b.radius or BEND_RADIUS) for b in table.bends])
        return plate_from_drawing(
            file,
            thickness=table.thickness or 0.0,
            density=density,
            unit=table.unit,
            up=table.head_axis,
            bends=bends,
            stated=stated,
        )
    return plate_from_solid_file(
        file, density=density, up=table.head_axis, away=table.back_axis, unit=table.unit, stated=stated
    )


def _stated_bolts(table: PlateTable, file: Path) -> StatedPoints:
    """Bolts told by their distance from the top edge, as points of the drawing; nothing where none are told."""
    if not table.bolts:
        return StatedPoints()
    flat = file.suffix.lower() in FLAT_FILES
    if flat:
        points, axes = read_outline(file, table.unit).outline.outer, 2
    else:
        points, axes = read_solid(file, table.unit).mesh.vertices, 3
    head = axis_vector(table.head_axis, axes, file.name)
    left = np.array([-head[1], head[0]]) if flat else np.cross(axis_vector(table.back_axis, 3, file.name), head)
    along, across = points @ head, points @ left
    middle = 0.5 * (across.min() + across.max())
    # a flat drawing is told in its own axes, a solid in (along its head axis, to the left)
    places = [(along.max() - d) * head + middle * left if flat else [along.max() - d, middle] for d in table.bolts]
    return StatedPoints(bolts=np.array(places, dtype=float))
