"""Pictures whose pixels are those of the sheet, which are laid there as they are."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from sim.drawing.canvas import Canvas
from sim.drawing.free_space import Box

if TYPE_CHECKING:
    from matplotlib.image import AxesImage

Bytes = NDArray[np.uint8]


def lay_pixels(canvas: Canvas, box: Box, picture: Callable[[int, int], Bytes], zorder: float) -> None:
    """Lay a picture into a box that ends on whole pixels.

    picture : RGBA (height, width, 4), first row on top, of the (height, width) that it is asked for: for PNG the true
        pixels of the box, for SVG and PDF as many more as matplotlib finds fine enough
    matplotlib's own way, through floating-point colours, takes several times as long.
    """
    image = _pixels(canvas, picture)
    image.set_extent((box.left, box.right, box.bottom, box.top))
    image.set_zorder(zorder)
    canvas.axes.add_artist(image)


def _pixels(canvas: Canvas, picture: Callable[[int, int], Bytes]) -> AxesImage:
    from matplotlib.image import AxesImage
    from matplotlib.transforms import IdentityTransform

    class Pixels(AxesImage):
        """An image that makes its pixels itself."""

        def make_image(self, renderer: Any, magnification: float = 1.0, unsampled: bool = False) -> Any:
            """RGBA, last row on top, where its lower left corner lies, and how it is turned."""
            left, right, bottom, top = self.get_extent()
            corners = self.axes.transData.transform([(left, bottom), (right, top)]) * magnification
            (x, y), (width, height) = corners[0], np.rint(corners[1] - corners[0]).astype(int)
            return np.ascontiguousarray(picture(int(height), int(width))[::-1]), x, y, IdentityTransform()

    image = Pixels(canvas.axes, interpolation="nearest")
    image.set_data(np.zeros((1, 1, 4), dtype=np.uint8))
    return image
