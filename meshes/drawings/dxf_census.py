"""What a DXF drawing comes to, counted before it is read and again before its blocks are taken apart."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from meshes.drawings.outline_lines import MOST_LINES, check_points
from meshes.drawings.shape_file import ShapeFileError

DEEPEST_BLOCK: Final = 8
MOST_FILE_LINES: Final = 1_600_000  # of text, two to a tag: an old polyline of 100,000 points has 1,400,000
MOST_RECORDS: Final = 120_000
MOST_BINARY: Final = 1_000_000  # bytes
BINARY: Final = b"AutoCAD Binary DXF"


def check_text(file: Path) -> None:
    """Raise ShapeFileError when a file holds more tags or records than are read in good time."""
    data = file.read_bytes()
    if data.startswith(BINARY):
        if len(data) > MOST_BINARY:
            raise ShapeFileError(
                f"{file.name}: a binary DXF of {len(data) / 1e6:.1f} MB, at most {MOST_BINARY / 1e6:.0f} MB are "
                "read; save it as a text DXF with the plate's outline alone"
            )
        return
    lines = data.count(b"\n") + data.count(b"\r") - data.count(b"\r\n")
    records = sum(code.strip() == b"0" for code in data.splitlines()[0::2]) if lines <= MOST_FILE_LINES else 0
    if lines > MOST_FILE_LINES or records > MOST_RECORDS:
        found = f"{records} records" if records else f"{lines} lines of text"
        raise ShapeFileError(
            f"{file.name}: {found}, at most {MOST_RECORDS} records or {MOST_FILE_LINES} lines are read; export the "
            "plate's outline and holes alone"
        )


def check_expanded(entities: Any, file: str) -> None:
    """Raise ShapeFileError when entities with all blocks taken apart are too many, or hold too many points."""
    lines, points = _expanded(entities, {}, file, 0)
    if lines > MOST_LINES:
        raise ShapeFileError(
            f"{file}: with its blocks taken apart the drawing has more than {MOST_LINES} entities; export the "
            "plate's outline and holes alone"
        )
    check_points(points, file)


def _expanded(entities: Any, known: dict[str, tuple[int, int]], file: str, depth: int) -> tuple[int, int]:
    """Entities and points when every block is taken apart; each block is counted once, however often it is drawn."""
    if depth > DEEPEST_BLOCK:
        raise ShapeFileError(f"{file}: blocks nested more than {DEEPEST_BLOCK} deep; explode them")
    lines = points = 0
    for entity in entities:
        if entity.dxftype() != "INSERT":
            lines, points = lines + 1, points + _points(entity)
            continue
        block = entity.block()
        if block is None:
            continue
        if block.name not in known:
            known[block.name] = _expanded(block, known, file, depth + 1)
        inner, copies = known[block.name], max(1, entity.mcount)
        lines, points = lines + copies * (1 + inner[0]), points + copies * inner[1]
    return lines, points


def _points(entity: Any) -> int:
    kind = entity.dxftype()
    if kind == "LWPOLYLINE":
        return len(entity)
    if kind == "POLYLINE":
        return len(entity.vertices)
    if kind in ("SPLINE", "HELIX"):
        return int(max(1, entity.dxf.get("degree", 3)) * (len(entity.control_points) + len(entity.fit_points)))
    return 1
