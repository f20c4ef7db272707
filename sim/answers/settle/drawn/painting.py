"""The divers of a picture put on its canvas, all rendered at once: shaded where that works, else in flat shapes."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from meshes.mesh import Floats
from sim.drawing.canvas import Canvas, SheetOnCanvas
from sim.drawing.diver_painter import paint_flat, paint_rendered, sheet_for
from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.free_space import Box
from sim.drawing.offscreen import Rendered, Sheet, rendered
from sim.drawing.surfaces import DressedScene, Surface
from sim.drawing.views import View
from sim.said import note

FORCE_FLAT_SHAPES: Final = "HANGFLAT_FLAT_PICTURES"  # environment variable; any text but "" and "0" counts as yes
FINENESS: Final = 0.8  # pixels, of the flat shapes


def paint(
    canvas: Canvas, painted: Sequence[tuple[View, SheetOnCanvas, Floats, DressedScene]], target: Path
) -> tuple[str, str]:
    """Every view of a diver; which renderer was used and why not the other.

    painted : view, placement, points (n, 2) that hold the diver [reference pixels], and the diver
    """
    surfaces: list[Surface] = []
    sheets = []
    for view, placement, drawn, dress in painted:
        sheet, box = sheet_for(canvas, view, placement, _hull_box(drawn))
        sheets.append((Sheet(sheet.view, sheet.middle, sheet.pixels, sheet.scale, _numbers(surfaces, dress)), box))
    answer = Rendered((), "")
    if target.suffix.lower() == ".png":
        answer = _shaded(tuple(surfaces), [s for s, _ in sheets], canvas.style.outline)
    if answer.pictures:
        for picture, (_, box) in zip(answer.pictures, sheets, strict=True):
            paint_rendered(canvas, picture, box, 10.0)
        return "shaded", ""
    for view, placement, _, dress in painted:
        shapes = flat_shapes(dress.surfaces, view, FINENESS / placement.scale, line=canvas.style.outline)
        paint_flat(canvas, shapes, placement, 10.0)
    return "vector", answer.failure


def _numbers(surfaces: list[Surface], dress: DressedScene) -> tuple[int, ...]:
    """Numbers of a diver's surfaces among all, which those not there yet are added to."""
    known = {id(s): k for k, s in enumerate(surfaces)}
    for surface in dress.surfaces:
        if id(surface) not in known:
            known[id(surface)] = len(surfaces)
            surfaces.append(surface)
    return tuple(known[id(s)] for s in dress.surfaces)


def _shaded(surfaces: tuple[Surface, ...], sheets: list[Sheet], line: str) -> Rendered:
    if os.environ.get(FORCE_FLAT_SHAPES, "0") not in ("", "0"):
        return Rendered((), note("asked for by {name}", name=FORCE_FLAT_SHAPES))
    return rendered(surfaces, tuple(sheets), line)


def _hull_box(drawn: Floats, margin: float = 8.0) -> Box:
    low, high = drawn.min(axis=0) - margin, drawn.max(axis=0) + margin
    return Box(*(float(v) for v in (*low, *high)))
