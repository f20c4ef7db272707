"""Lines and curves of a DXF drawing's model space."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.drawings.bend_words import Label
from meshes.drawings.dxf_census import check_expanded, check_text
from meshes.drawings.outline_lines import (
    CURVE_TOLERANCE,
    MOST_POINTS,
    DrawnLines,
    check_reach,
    drawn_lines,
    label_at,
)
from meshes.drawings.shape_file import UNITS, FileUnit, ShapeFileError, metres_per_unit, unit_of
from meshes.mesh import Floats

# $INSUNITS of the DXF reference: the lengths a plate may be drawn in
STATED_UNITS: Final = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}


def read_dxf(file: Path, unit: str | None, left_out: frozenset[str]) -> DrawnLines:
    """Lines of a DXF file; ``unit`` overrules the file's own, ``left_out`` names layers in lower case to skip.

    Layers that are off or frozen and the non-printing DEFPOINTS are skipped; what has no outline (text, dimensions,
    hatches, points, pictures) is counted. Raises ShapeFileError when no unit is known; ezdxf's errors pass through.
    """
    from ezdxf.filemanagement import readfile

    check_text(file)
    document = readfile(file)
    space = document.modelspace()
    check_expanded(space, file.name)
    used = _unit_of(document, unit, file.name)
    hidden = {layer.dxf.name.lower() for layer in document.layers if layer.is_off() or layer.is_frozen()}
    skipped: Counter[str] = Counter()
    unwanted = left_out | hidden | {"defpoints"}
    labels: list[Label] = []
    found = _chains(_exploded(space), metres_per_unit(used.name, file.name), unwanted, labels, skipped, file)
    return drawn_lines(found, labels, file.name, used, skipped)


def _unit_of(document: Any, unit: str | None, file: str) -> FileUnit:
    used = unit_of(unit, STATED_UNITS.get(document.units))
    if used is None:
        box = _extent(document.modelspace())
        raise ShapeFileError(
            f'{file}: the drawing states no usable unit; write unit = "mm" (or {", ".join(list(UNITS)[1:])}){box}'
        )
    return used


def _extent(space: Any) -> str:
    """How large the drawing is, in words, when it holds any line."""
    corners = [
        path.control_vertices() for entity, turn in _exploded(space) if (path := _path(entity, turn)) is not None
    ]
    places = np.array([(v.x, v.y) for part in corners for v in part]).reshape(-1, 2)
    return f"; it is {np.ptp(places[:, 0]):.6g} by {np.ptp(places[:, 1]):.6g} units" if len(places) else ""


def _exploded(entities: Iterable[Any], turn: Any = None) -> Iterator[tuple[Any, Any]]:
    """(entity, matrix to model space or None) with block references taken apart.

    Dimensions are kept whole, so that they can be left out. Blocks nested without end must have been ruled out.
    """
    for entity in entities:
        if entity.dxftype() != "INSERT":
            yield entity, turn
            continue
        block = entity.block()
        for copy in () if block is None else entity.multi_insert() if entity.mcount > 1 else (entity,):
            placed = copy.matrix44()
            yield from _exploded(block, placed if turn is None else placed * turn)


def _path(entity: Any, turn: Any) -> Any:
    """What an entity draws, in model space; None where it has no outline."""
    import ezdxf.path

    if entity.dxftype() in ("HATCH", "MPOLYGON", "IMAGE"):
        return None
    try:
        path = ezdxf.path.make_path(entity)
    except TypeError:
        return None
    return path if turn is None else path.transform(turn)


def _label(entity: Any, turn: Any, scale: float, layer: str, labels: list[Label]) -> bool:
    """Keep the text of an entity that stands beside a bend line; whether it was kept."""
    if entity.dxftype() not in ("TEXT", "MTEXT"):
        return False
    from ezdxf.math import Vec3

    at = Vec3(entity.dxf.insert)
    placed = at if turn is None else turn.transform(at)
    return label_at(entity.plain_text(), (scale * placed.x, scale * placed.y), layer, labels)


def _chains(
    entities: Iterable[tuple[Any, Any]],
    scale: float,
    unwanted: frozenset[str],
    labels: list[Label],
    skipped: Counter[str],
    file: Path,
) -> Iterator[tuple[str, Floats]]:
    """(layer, chain [m]) of every entity with a path; words of bends go to ``labels``, the rest to ``skipped``."""
    for entity, turn in entities:
        layer = str(entity.dxf.get("layer", "0"))
        kind = entity.dxftype()
        if layer.lower() in unwanted:
            skipped[f"{kind} on layer {layer!r}"] += 1
            continue
        if _label(entity, turn, scale, layer, labels):
            continue
        whole = _path(entity, turn)
        if whole is None:
            skipped[kind] += 1
            continue
        for path in whole.sub_paths() if whole.has_sub_paths else (whole,):
            # height too: a curve with a NaN in it, which no outline sees, is halved without end
            corners = scale * np.array([(v.x, v.y, v.z) for v in path.control_vertices()]).reshape(-1, 3)
            check_reach(corners, file.name)
            chords = islice(path.flattening(CURVE_TOLERANCE / scale), MOST_POINTS + 1)
            yield layer, scale * np.array([(v.x, v.y) for v in chords]).reshape(-1, 2)
