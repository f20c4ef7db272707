"""A plate as files for others: the bent solid as STL or GLB, the flat pattern as DXF.

All lie as a drawing is read here by default: seen from behind, the head up (+y), z away from the diver.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.arcs import circle_of, with_bulges
from meshes.plate.back_plate import Pattern, Plate
from meshes.plate.sheet import Bend, bend_pieces

UP: Final = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])  # plate axes to those of a file
CUT, BEND, TEXT = "CUT", "BEND", "TEXT"  # layers of the DXF
LETTERS: Final = 4.0  # mm high


def write_solid(plate: Plate, path: Path, kind: str) -> None:
    """Write the bent solid as "stl" (binary, in mm) or "glb" (in metres, as that format has it)."""
    import trimesh as untyped

    trimesh: Any = untyped
    mesh = plate.solid.mesh
    if mesh is None:
        raise ValueError("this plate has no shape to be written")
    scale = 1.0 if kind == "glb" else 1e3
    body = trimesh.Trimesh(scale * mesh.vertices @ UP.T, mesh.faces, process=False)
    path.write_bytes(body.export(file_type=kind))


def write_flat(plate: Plate, path: Path, texts: Iterable[str] = ()) -> None:
    """Write the flat pattern as DXF in mm: what is cut, where it is bent and how, and ``texts`` below it.

    Round corners are arcs and round holes circles again. The words on the layer of bends are read here, too.
    Raises ValueError for a plate that is known as a finished solid alone.
    """
    from ezdxf import document as dxf
    from ezdxf import units

    if not plate.thickness:
        raise ValueError("a finished solid has no flat pattern; give its outline and bends, or take STL or GLB")
    document = dxf.Drawing.new("R2010")
    document.units = units.MM
    document.layers.add(CUT, color=7)
    document.layers.add(BEND, color=5, linetype="DASHED")
    document.layers.add(TEXT, color=8)
    document.linetypes.add("DASHED", pattern=[9.0, 6.0, -3.0], description="Dashed __ __ __")
    space = document.modelspace()
    pattern = plate.pattern
    for ring in (pattern.outline.outer, *pattern.outline.holes):
        _cut(space, ring)
    for bend in pattern.bends:
        _bend(space, pattern, bend, plate.thickness)
    low, left = pattern.outline.outer[:, 0].min(), pattern.outline.outer[:, 1].max()
    for row, text in enumerate(texts):  # a caret by itself begins a control character there
        at = _drawn(np.array([[low, left]]))[0] - [0.0, 3.0 * LETTERS + 1.6 * LETTERS * row]
        space.add_text(text.replace("^", "^ "), height=LETTERS, dxfattribs={"layer": TEXT}).set_placement(tuple(at))
    document.saveas(path)


def _drawn(points: Floats) -> Floats:
    """Places (n, 2) of a pattern [m] on the sheet of the drawing [mm]."""
    return np.asarray(1e3 * points @ UP[:2, :2].T)


def _cut(space: Any, ring: Floats) -> None:
    circle = circle_of(ring)
    if circle is not None:
        space.add_circle(tuple(_drawn(circle.middle[None])[0]), 1e3 * circle.radius, dxfattribs={"layer": CUT})
        return
    corners = with_bulges(_drawn(ring))
    space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs={"layer": CUT})


def _bend(space: Any, pattern: Pattern, bend: Bend, thickness: float) -> None:
    """The line of a bend where there is sheet, and what it turns."""
    lines = [_drawn(piece) for piece in bend_pieces(pattern.outline, bend)]
    for line in lines:
        space.add_line(*map(tuple, line), dxfattribs={"layer": BEND})
    if lines:
        longest = max(lines, key=lambda line: float(np.linalg.norm(line[1] - line[0])))
        text = space.add_text(bend_text(bend, thickness), height=LETTERS, rotation=90.0, dxfattribs={"layer": BEND})
        text.set_placement(tuple(longest.mean(axis=0) - [0.4 * LETTERS, 0.0]))


def bend_text(bend: Bend, thickness: float) -> str:
    """As "65 deg away R4.5": turn of what lies outside it, and inner radius [mm]; read by ``bend_words``."""
    way = "away" if bend.angle > 0.0 else "toward"
    inner = 1e3 * (bend.radius - thickness / 2)
    return f"{np.degrees(abs(bend.angle)):.9g} deg {way} R{inner:.9g}"
