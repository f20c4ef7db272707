"""Lines and curves of a DXF drawing's model space."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from meshes.outline_lines import CURVE_TOLERANCE, MOST_LINES, DrawnLines, check_reach, drawn_lines
from meshes.shape_file import UNITS, FileUnit, ShapeFileError, metres_per_unit, unit_of

# $INSUNITS of the DXF reference: the lengths a plate may be drawn in
STATED_UNITS: Final = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
DEEPEST_BLOCK: Final = 8


def read_dxf(file: Path, unit: str | None, left_out: frozenset[str]) -> DrawnLines:
    """Lines of a DXF file; ``unit`` overrules the file's own, ``left_out`` names layers in lower case to skip.

    Layers that are off or frozen and the non-printing DEFPOINTS are skipped; what has no outline (text, dimensions,
    hatches, points, pictures) is counted. Raises ShapeFileError when no unit is known; ezdxf's errors pass through.
    """
    from ezdxf.filemanagement import readfile

    document = readfile(file)
    used = _unit_of(document, unit, file.name)
    hidden = {layer.dxf.name.lower() for layer in document.layers if layer.is_off() or layer.is_frozen()}
    skipped: Counter[str] = Counter()
    entities = _exploded(document.modelspace(), file.name)
    found = list(
        _chains(entities, metres_per_unit(used.name, file.name), left_out | hidden | {"defpoints"}, skipped, file)
    )
    return drawn_lines(found, file.name, used, skipped)


def _unit_of(document: Any, unit: str | None, file: str) -> FileUnit:
    used = unit_of(unit, STATED_UNITS.get(document.units))
    if used is None:
        box = _extent(document)
        raise ShapeFileError(
            f'{file}: the drawing states no usable unit; write unit = "mm" (or {", ".join(list(UNITS)[1:])}){box}'
        )
    return used


def _extent(document: Any) -> str:
    from ezdxf import bbox

    box = bbox.extents(document.modelspace(), fast=True)
    return f"; it is {box.size.x:.6g} by {box.size.y:.6g} units" if box.has_data else ""


def _exploded(entities: Iterable[Any], file: str, depth: int = 0) -> Iterator[Any]:
    """Entities with block references taken apart; dimensions are kept whole, so that they can be left out."""
    for count, entity in enumerate(entities):
        if count > MOST_LINES or depth > DEEPEST_BLOCK:
            raise ShapeFileError(f"{file}: too many entities or nested blocks; export the plate's outline alone")
        if entity.dxftype() == "INSERT":
            copies = entity.multi_insert() if entity.mcount > 1 else (entity,)
            for copy in copies:
                yield from _exploded(copy.virtual_entities(), file, depth + 1)
        else:
            yield entity


def _chains(
    entities: Iterable[Any], scale: float, unwanted: frozenset[str], skipped: Counter[str], file: Path
) -> Iterator[tuple[str, Floats]]:
    """(layer, chain [m]) of every entity that has a path; the rest goes to ``skipped``."""
    import ezdxf.path

    for entity in entities:
        layer = str(entity.dxf.get("layer", "0"))
        kind = entity.dxftype()
        if layer.lower() in unwanted:
            skipped[f"{kind} on layer {layer!r}"] += 1
            continue
        try:
            whole = None if kind in ("HATCH", "MPOLYGON", "IMAGE") else ezdxf.path.make_path(entity)
        except TypeError:
            whole = None
        if whole is None:
            skipped[kind] += 1
            continue
        for path in whole.sub_paths() if whole.has_sub_paths else (whole,):
            corners = scale * np.array([(v.x, v.y) for v in path.control_vertices()]).reshape(-1, 2)
            check_reach(corners, file.name)
            yield (
                layer,
                scale * np.array([(v.x, v.y) for v in path.flattening(CURVE_TOLERANCE / scale)]).reshape(-1, 2),
            )
