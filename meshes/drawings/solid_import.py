"""A designer's solid from a mesh file, or from STEP where its reader is installed, in metres and mended."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.drawings.mending import Triangles, mended
from meshes.drawings.shape_file import (
    UNITS,
    FileUnit,
    ImportReport,
    ShapeFileError,
    library_trouble,
    metres_per_unit,
    unit_of,
    usable_file,
)
from meshes.drawings.solid_census import CHECKS, check_3mf, check_triangles
from meshes.drawings.solid_units import unit_in_file
from meshes.drawings.step_reader import glb_of_step
from meshes.mesh import Mesh

MESH_FILES: Final = (".stl", ".3mf", ".glb", ".obj", ".ply")
STEP_FILES: Final = (".step", ".stp")
SENSIBLE_SIZE: Final = (0.02, 20.0)  # m; a smaller or larger solid has a wrong unit
# what a library need not look at: materials and their pictures
KEPT_SHORT: Final[dict[str, dict[str, bool]]] = {
    ".obj": {"skip_materials": True, "group_material": False},
    ".glb": {"skip_materials": True},
}


@dataclass(frozen=True, eq=False)
class ImportedSolid:
    """A sound closed mesh [m] in the file's own axes, and the report."""

    mesh: Mesh
    report: ImportReport


def read_solid(path: str | Path, unit: str | None) -> ImportedSolid:
    """A closed solid from STL, 3MF, GLB, OBJ or PLY (STEP when cascadio is installed).

    unit : one of ``shape_file.UNITS``; needed for STL, OBJ and PLY, which carry none. It overrules that of 3MF and
        GLB, whose writers sometimes put down a wrong one, and the report says so; STEP is read in its own
    Raises ShapeFileError for a file that cannot be read, has no unit, or is no sound solid even after mending.
    """
    file = usable_file(path, (*MESH_FILES, *STEP_FILES))
    kind = file.suffix[1:].upper()
    with library_trouble(file.name, kind):
        parts = _loaded(file, unit)
    scale, used = _scale(file, unit, parts)
    scaled = [(scale * vertices, faces) for vertices, faces in parts]
    del parts  # a million triangles weigh 100 MB each time they are there
    reach = np.array([[f(v, axis=0) for v, _ in scaled] for f in (np.min, np.max)])
    size = reach[1].max(axis=0) - reach[0].min(axis=0)
    if not SENSIBLE_SIZE[0] <= size.max() <= SENSIBLE_SIZE[1]:
        sides = " x ".join(f"{side:.4g}" for side in size)
        raise ShapeFileError(
            f"{file.name}: the solid measures {sides} m with 1 unit = {used.name}; state the unit it was made in"
        )
    with library_trouble(file.name, "a solid"):
        whole = mended(scaled, file.name)
    box = 1e3 * np.ptp(whole.mesh.vertices, axis=0)
    sides_mm = (float(box[0]), float(box[1]), float(box[2]))
    return ImportedSolid(whole.mesh, ImportReport(file.name, used, sides_mm, whole.steps))


def _scale(file: Path, unit: str | None, parts: list[Triangles]) -> tuple[float, FileUnit]:
    """Metres in one unit of the parts as loaded, and that unit."""
    if file.suffix.lower() in STEP_FILES:
        told = f"a STEP file has its own unit, and {unit}, as stated, was not used"
        return 1.0, FileUnit("its own", True, None if unit is None else told)  # the reader hands over metres
    used = unit_of(unit, unit_in_file(file))
    if used is None:
        size = np.ptp(np.concatenate([v for v, _ in parts]), axis=0)
        sides = " by ".join(f"{side:.6g}" for side in size)
        raise ShapeFileError(
            f'{file.name}: state the unit it was made in: unit = "mm" (or {", ".join(list(UNITS)[1:])}); it measures '
            f"{sides} units"
        )
    return metres_per_unit(used.name, file.name), used


def _loaded(file: Path, unit: str | None) -> list[Triangles]:
    """Vertices and faces of every part of the file, placed by its scene graph."""
    import trimesh

    if unit is not None:
        metres_per_unit(unit, file.name)
    kind, data = file.suffix.lower(), file.read_bytes()
    if kind in STEP_FILES:
        kind, data = ".glb", glb_of_step(data, file.name)
    if kind in CHECKS:
        CHECKS[kind](data, file.name)
    if kind == ".3mf":
        data = check_3mf(data, file.name)
    # bytes without a name and an empty folder, so that a file cannot make others be read beside it
    load: Any = trimesh.load_scene
    scene = load(BytesIO(data), file_type=kind[1:], resolver={}, process=False, **KEPT_SHORT.get(kind, {}))
    placed = [scene.geometry[scene.graph[node][1]] for node in scene.graph.nodes_geometry]
    check_triangles(sum(len(body.faces) for body in placed if isinstance(body, trimesh.Trimesh)), file.name)
    parts = [_triangles(body, file) for body in scene.dump() if isinstance(body, trimesh.Trimesh)]
    parts = [part for part in parts if len(part[1])]
    if not parts:
        raise ShapeFileError(
            f"{file.name}: no triangles can be read from it; it may be damaged or of another kind: export a "
            "closed solid"
        )
    return parts


def _triangles(body: Any, file: Path) -> Triangles:
    vertices, faces = np.array(body.vertices, dtype=float), np.array(body.faces, dtype=np.int64)
    if len(faces) and not (faces.min() >= 0 and faces.max() < len(vertices)):
        raise ShapeFileError(f"{file.name}: a triangle names a corner that the file does not hold; export it again")
    used = np.zeros(len(vertices), dtype=bool)
    used[faces] = True
    if not np.isfinite(vertices[used]).all():
        raise ShapeFileError(f"{file.name}: a corner of a triangle is not a finite number; export it again")
    return vertices[used], (np.cumsum(used) - 1)[faces]
