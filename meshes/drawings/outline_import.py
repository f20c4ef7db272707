"""A designer's flat drawing, DXF or SVG, as an outline with holes.

The drawing's axes are kept: X to the right, Y up, in metres. Lines on layers (SVG: groups) whose name contains "bend"
or "fold" are bend lines and no part of the outline; a text there, or the layer's own name, says how they are bent
(see ``bend_words``).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from meshes.drawings.bend_words import BendWords, words_of_lines
from meshes.drawings.outline_assembly import outline_from_chains
from meshes.drawings.outline_dxf import read_dxf
from meshes.drawings.outline_lines import DrawnLines
from meshes.drawings.outline_svg import read_svg
from meshes.drawings.shape_file import (
    UNITS,
    ImportReport,
    ShapeFileError,
    library_trouble,
    metres_per_unit,
    short,
    usable_file,
)
from meshes.mesh import Floats
from meshes.outline import Outline

SENSIBLE_SIZE: Final = (0.02, 20.0)  # m; a smaller or larger drawing has a wrong unit

MOST_KINDS: Final = 4  # of what was left out, told by name: a drawing can have thousands of layers


@dataclass(frozen=True, eq=False)
class Drawing:
    """A drawing read: its outline [m], its bend lines (n, 2, 2) from end to end [m], and the report.

    bend_words : what the drawing says of each bend line, None where nothing
    """

    outline: Outline
    bend_lines: Floats
    bend_words: tuple[BendWords | None, ...]
    report: ImportReport


def read_outline(
    path: str | Path, unit: str | None = None, *, gap: float = 5e-5, skip_layers: Sequence[str] = ()
) -> Drawing:
    """Outline with holes from a DXF or SVG file.

    unit : one of ``shape_file.UNITS``; needed where the file states none. It overrules a DXF's own unit, not an
        SVG's page; where the two differ, the report says so
    gap : ends of lines closer than this are joined [m];  skip_layers : layers, groups or ids left out
    Raises ShapeFileError for a file that cannot be read, has no unit, or whose outline is open (saying where),
    divided, or not one piece.
    """
    file = usable_file(path, (".dxf", ".svg"))
    if unit is not None:
        metres_per_unit(unit, file.name)
    if not gap > 0.0:
        raise ShapeFileError(f"{file.name}: the gap must be > 0 m, got {gap}")
    unwanted = frozenset(name.lower() for name in skip_layers)
    kind = file.suffix[1:].upper()
    with library_trouble(file.name, kind):
        lines = read_dxf(file, unit, unwanted) if kind == "DXF" else read_svg(file, unit, unwanted)
        _check_lines(lines, file.name)
        outline, found = outline_from_chains(lines.chains, gap, file.name)
    box = 1e3 * np.ptp(outline.outer, axis=0)
    left_out = (f"left out: {_listed(lines.skipped)}",) if lines.skipped else ()
    notes = (*found, *left_out)
    report = ImportReport(file.name, lines.unit, (float(box[0]), float(box[1])), notes)
    bends = np.array([chain[[0, -1]] for chain in lines.bends]).reshape(-1, 2, 2)
    words = words_of_lines(bends, lines.bend_layers, lines.labels, metres_per_unit(_unit_written(lines), file.name))
    return Drawing(outline, bends, words, report)


def _unit_written(lines: DrawnLines) -> str:
    """In which a radius beside a bend line is written: an SVG's page may be told in points."""
    return lines.unit.name if lines.unit.name in UNITS else "mm"


def _check_lines(lines: DrawnLines, file: str) -> None:
    if not lines.chains:
        raise ShapeFileError(
            f"{file}: no lines or curves found{f' (left out: {_listed(lines.skipped)})' if lines.skipped else ''}; "
            "draw the outline and its holes as lines, arcs, circles, polylines or splines"
        )
    size = np.ptp(np.concatenate(lines.chains), axis=0)
    if not SENSIBLE_SIZE[0] <= size.max() <= SENSIBLE_SIZE[1]:
        raise ShapeFileError(
            f"{file}: the drawing is {size[0]:.4g} m by {size[1]:.4g} m with 1 unit = {lines.unit.name}; write the "
            "unit it was drawn in"
        )


def _listed(counts: Counter[str]) -> str:
    told = [f"{number} {short(name)}" for name, number in sorted(counts.items())[:MOST_KINDS]]
    rest = sum(counts.values()) - sum(counts[name] for name in sorted(counts)[:MOST_KINDS])
    return ", ".join([*told, *([f"{rest} more"] if rest else [])])
