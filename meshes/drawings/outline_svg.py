"""Lines and curves of an SVG drawing."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.drawings.bend_words import Label
from meshes.drawings.outline_lines import CURVE_TOLERANCE, DrawnLines, check_reach, drawn_lines, label_at
from meshes.drawings.shape_file import UNITS, FileUnit, ShapeFileError, metres_per_unit
from meshes.drawings.svg_census import check_svg
from meshes.mesh import Floats

# CSS lengths that mean a size on paper, and the millimetres in what the library makes of a millimetre in each: points
# and picas it takes for pixels, 96 to an inch, and quarters for whole ones
PHYSICAL: Final = {"mm": 1.0, "cm": 1.0, "in": 1.0, "pt": 25.4 / 96.0, "pc": 25.4 / 96.0, "q": 0.25}
MOST_CHORDS: Final = 4096  # for one curve
LABEL: Final = "{http://www.inkscape.org/namespaces/inkscape}label"

UNDRAWN: Final = re.compile(rb"<path(?=[\s/>])(?![^>]*\sd\s*=)([^>]*>)")  # a path that draws nothing; legal, not read


def read_svg(file: Path, unit: str | None, left_out: frozenset[str]) -> DrawnLines:
    """Lines of an SVG file, turned so that Y is up.

    The drawing's physical width and height give its scale; where it has none, one user unit is one ``unit``.
    ``left_out`` names ids or labels in lower case to skip. What is not displayed, text and pictures are left out.
    Raises ShapeFileError when no size is known; other libraries' errors pass through.
    """
    import svgelements

    data = file.read_bytes()
    check_svg(data, file.name)
    # at 25.4 pixels an inch svgelements turns physical lengths into millimetres and leaves bare user units alone
    drawing = svgelements.SVG.parse(BytesIO(UNDRAWN.sub(rb'<path d=""\1', data)), reify=True, ppi=25.4)
    used, scale = _scale_of(drawing, unit, file.name)
    skipped: Counter[str] = Counter()
    labels: list[Label] = []
    found = _chains(drawing, scale, left_out, labels, skipped, file.name)
    return drawn_lines(found, labels, file.name, used, skipped)


def _scale_of(drawing: Any, unit: str | None, file: str) -> tuple[FileUnit, float]:
    """The drawing's unit, and one parsed unit in metres."""
    given = drawing.values.get("attributes", {})
    sizes = [str(given.get(side, "")).strip() for side in ("width", "height")]
    if all(size.lower().endswith(tuple(PHYSICAL)) for size in sizes):
        own = next(end for end in PHYSICAL if sizes[0].lower().endswith(end))
        page = " by ".join(size[:24] for size in sizes)
        parsed = PHYSICAL[own] * metres_per_unit("mm", file)
        against = unit is not None and unit != own and not _is_user_unit(drawing, parsed, metres_per_unit(unit, file))
        told = f"its page of {page} says how large the drawing is; {unit}, as stated, was not used: is that right?"
        return FileUnit(own, True, told if against else None, page), parsed
    if unit is None:
        raise ShapeFileError(
            f'{file}: the drawing has no physical size (width and height such as "280mm"); write unit = "mm" '
            f"(or {', '.join(list(UNITS)[1:])}), the length of one user unit"
        )
    return FileUnit(unit, False), metres_per_unit(unit, file)


def _is_user_unit(drawing: Any, parsed: float, length: float) -> bool:
    """Whether one user unit is drawn ``length`` [m] long, to a thousandth; ``parsed`` : metres of a parsed unit."""
    box = drawing.viewbox
    drawn = parsed * float(drawing.width) / float(box.width) if box is not None and box.width else parsed
    return abs(drawn / length - 1.0) < 1e-3


def _chains(
    drawing: Any, scale: float, left_out: frozenset[str], labels: list[Label], skipped: Counter[str], file: str
) -> Iterator[tuple[str, Floats]]:
    """(label or id, chain [m]) of every shape; words of bends go to ``labels``, the rest to ``skipped``."""
    import svgelements

    for element in drawing.elements():
        names = [str(element.values.get(key) or "") for key in (LABEL, "id")] if hasattr(element, "values") else []
        if not isinstance(element, svgelements.Shape):
            if isinstance(element, svgelements.Text) and _label(element, scale, " ".join(names), labels):
                continue
            if isinstance(element, (svgelements.Text, svgelements.Image)):
                skipped[type(element).__name__.lower()] += 1
            continue
        if left_out.intersection(n.lower() for n in names):
            skipped[f"shape on {' '.join(names).strip()!r}"] += 1
            continue
        for path in svgelements.Path(element).as_subpaths():
            yield " ".join(names), _flattened(svgelements.Path(path), scale, file)


def _label(element: Any, scale: float, layer: str, labels: list[Label]) -> bool:
    """Keep a text that stands beside a bend line; whether it was kept."""
    at = element.transform.point_in_matrix_space((float(element.x or 0.0), float(element.y or 0.0)))
    return label_at(str(element.text or ""), (scale * at.x, -scale * at.y), layer, labels)


def _flattened(path: Any, scale: float, file: str) -> Floats:
    """One subpath as points (n, 2) [m], Y up; curves in chords, doubled until none is off by CURVE_TOLERANCE."""
    points: list[Floats] = []
    for segment in path:
        if segment.end is None:
            continue
        end = np.array([[segment.end.x, segment.end.y]])
        if type(segment).__name__ in ("Move", "Line", "Close"):
            points.append(end * scale)
        else:
            points.append(_curve(segment, scale, file)[1:])
    chain = np.concatenate(points) if points else np.empty((0, 2))
    check_reach(chain, file)
    return np.asarray(chain * [1.0, -1.0])


def _curve(segment: Any, scale: float, file: str) -> Floats:
    chords = 4
    while True:
        fine = scale * np.asarray(segment.npoint(np.linspace(0.0, 1.0, 2 * chords + 1)), dtype=float)
        check_reach(fine, file)
        off = np.linalg.norm(fine[1::2] - (fine[:-2:2] + fine[2::2]) / 2, axis=1).max()
        if off <= CURVE_TOLERANCE or chords >= MOST_CHORDS:
            return fine
        chords *= 2
