"""The plate of a scenario: from the catalogue, by its measures, or a designer's own drawing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats
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
    above = float(plate.shoulder_slots[:, 0].mean() - plate.waist_slots[:, 0].mean())
    if not above > 0.0:
        raise ValueError(
            f"its shoulder slots lie {-1e3 * above:.0f} mm below its waist slots: which end is the top? State "
            "shoulder_slots and waist_slots by their distances from the top edge, or turn head_axis"
        )
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
    stated = _stated_points(table, file)
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


def _stated_points(table: PlateTable, file: Path) -> StatedPoints:
    """Bolts and slots told by their distances from top edge and middle line, as points of the drawing.

    Raises ValueError for one that does not lie on the plate.
    """
    told = (table.bolts, table.shoulder_slots, table.waist_slots, table.crotch_slot)
    if not any(told):
        return StatedPoints()
    flat = file.suffix.lower() in FLAT_FILES
    if flat:
        points, axes = read_outline(file, table.unit).outline.outer, 2
    else:
        points, axes = read_solid(file, table.unit).mesh.vertices, 3
    head = axis_vector(table.head_axis, axes, file.name)
    left = np.array([-head[1], head[0]]) if flat else np.cross(axis_vector(table.back_axis, 3, file.name), head)
    along, across = points @ head, points @ left
    middle, top = 0.5 * (across.min() + across.max()), float(along.max())

    def place(down: float, out: float = 0.0) -> Floats:
        """A flat drawing is told in its own axes, a solid in (along its head axis, to the left)."""
        return (top - down) * head + (middle + out) * left if flat else np.array([top - down, middle + out])

    def pair(slots: tuple[float, float] | None, name: str) -> Floats | None:
        if slots is None:
            return None
        down, out = slots
        if down > float(np.ptp(along)) or out > 0.5 * float(np.ptp(across)):
            raise ValueError(
                f"{name} [{1e3 * down:.0f} mm, {1e3 * out:.0f} mm] lie off the plate, which is "
                f"{1e3 * np.ptp(along):.0f} mm long and {1e3 * np.ptp(across):.0f} mm wide: the first number counts "
                "from its top edge, the second from its middle line"
            )
        return np.array([place(down, out), place(down, -out)])

    crotch = table.crotch_slot
    if crotch is not None and crotch > float(np.ptp(along)):
        raise ValueError(
            f"crotch_slot {1e3 * crotch:.0f} mm lies off the plate, which is {1e3 * np.ptp(along):.0f} mm long: it "
            "counts from the top edge"
        )
    return StatedPoints(
        bolts=np.array([place(d) for d in table.bolts], dtype=float) if table.bolts else None,
        shoulder_slots=pair(table.shoulder_slots, "shoulder_slots"),
        waist_slots=pair(table.waist_slots, "waist_slots"),
        crotch_slot=None if crotch is None else place(crotch),
    )
