"""Puts the diver on the canvas, shaded where a graphics library works and in flat shapes where none does."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sim.drawing.canvas import Canvas, SheetOnCanvas
from sim.drawing.flat_shapes import FlatShape
from sim.drawing.free_space import Box
from sim.drawing.offscreen import Sheet
from sim.drawing.pixels import lay_pixels
from sim.drawing.views import View


def sheet_for(canvas: Canvas, view: View, placement: SheetOnCanvas, drawn: Box) -> tuple[Sheet, Box]:
    """What to render so that the picture lands pixel on pixel, and the box it fills, in reference pixels.

    drawn : reference pixels that the diver may touch; cut to the canvas and rounded outwards to whole pixels
    """
    zoom = canvas.zoom
    left, right = (
        int(v) for v in (np.floor(max(drawn.left, 0) * zoom), np.ceil(min(drawn.right, canvas.width) * zoom))
    )
    low, high = (
        int(v) for v in (np.floor(max(drawn.bottom, 0) * zoom), np.ceil(min(drawn.top, canvas.height) * zoom))
    )
    high = min(high, round(canvas.height * zoom))
    right = min(right, round(canvas.width * zoom))
    box = Box(left / zoom, low / zoom, right / zoom, high / zoom)
    middle = (np.array([box.left + box.right, box.bottom + box.top]) / 2 - placement.origin) / placement.scale
    pixels = (max(right - left, 1), max(high - low, 1))
    return Sheet(view, (float(middle[0]), float(middle[1])), pixels, placement.scale * zoom), box


def paint_rendered(canvas: Canvas, picture: NDArray[np.uint8], box: Box, zorder: float) -> None:
    """Lay a rendered RGBA picture (h, w, 4) into its box, whose pixels are its own."""
    lay_pixels(canvas, box, lambda height, width: picture, zorder)


def paint_flat(
    canvas: Canvas, shapes: tuple[FlatShape, ...], placement: SheetOnCanvas, zorder: float, keep: Box | None = None
) -> None:
    """Paint flat shapes in their order; what lies outside ``keep`` is cut off.

    Added as artists, not patches: the limits are fixed, and working them out from every curve takes seconds.
    """
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    for number, shape in enumerate(shapes):
        path = Path.make_compound_path(*(Path(placement.on_canvas(ring), closed=True) for ring in shape.rings))
        patch = PathPatch(
            path, facecolor=shape.colour, edgecolor="none", linewidth=0.0, zorder=zorder + 1e-4 * number
        )
        canvas.axes.add_artist(patch)
        if keep is not None:
            corners = [
                (keep.left, keep.bottom),
                (keep.right, keep.bottom),
                (keep.right, keep.top),
                (keep.left, keep.top),
            ]
            patch.set_clip_path(Path(corners + corners[:1], closed=True), canvas.axes.transData)
