"""The sheet of paper: one axes over the whole figure, measured in reference pixels, and where metres land on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.drawing.own_style import own_style
from sim.drawing.style import LIGHT, Style

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

REFERENCE: Final = (1600, 1000)
FEWEST, MOST = 320, 8000  # pixels along a side


@dataclass(frozen=True, eq=False)
class Canvas:
    """A figure whose axes count reference pixels from the lower left corner.

    width, height : in reference pixels;  zoom : true pixels a reference pixel;  style : its look
    """

    figure: Figure
    axes: Axes
    width: float
    height: float
    zoom: float
    style: Style = LIGHT


@dataclass(frozen=True, eq=False)
class SheetOnCanvas:
    """Sheet metres (right, up) to reference pixels: ``origin + scale * sheet``."""

    origin: tuple[float, float]
    scale: float

    def on_canvas(self, sheet: ArrayLike) -> Floats:
        """Reference pixels (n, 2) of sheet positions (n, 2 or 3) [m]."""
        flat = np.atleast_2d(np.asarray(sheet, dtype=float))[:, :2]
        return np.asarray(flat * self.scale + np.asarray(self.origin))


def new_figure(size: tuple[float, float], dpi: float | None = None, facecolor: str = "white") -> Figure:
    """An empty figure of ``size`` inches, bound to no screen."""
    own_style()
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=size, dpi=dpi, facecolor=facecolor)
    FigureCanvasAgg(figure)
    return figure


def blank(size: tuple[int, int], zoom: float | None = None, style: Style = LIGHT) -> Canvas:
    """Empty canvas of ``size`` true pixels, ``zoom`` of them to a reference pixel.

    By default the zoom at which REFERENCE just fits. Raises ValueError for a size out of bounds.
    """
    width, height = size
    if not (FEWEST <= width <= MOST and FEWEST <= height <= MOST):
        raise ValueError(f"a picture is {FEWEST} to {MOST} pixels wide and high, got {width} x {height}")
    zoom = min(width / REFERENCE[0], height / REFERENCE[1]) if zoom is None else zoom
    dots = 100.0 * zoom
    figure = new_figure((width / dots, height / dots), dots, "none" if style.ground is None else style.paper)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_xlim(0.0, width / zoom)
    axes.set_ylim(0.0, height / zoom)
    axes.set_axis_off()
    return Canvas(figure, axes, width / zoom, height / zoom, zoom, style)


def points(pixels: float) -> float:
    """Typographic points of a length in reference pixels, as font sizes and line widths want them."""
    return 0.72 * pixels


def halo_of(width: float, colour: str, opacity: float = 0.85) -> list[Any]:
    """Path effect that draws nothing but a halo about a line or a word."""
    from matplotlib import patheffects

    return [patheffects.Stroke(linewidth=points(width), foreground=colour, alpha=opacity)]


def haloed(width: float = 4.0, colour: str = "#ffffff", opacity: float = 0.85) -> list[Any]:
    """Path effect that lifts a line or a word off whatever is behind it."""
    from matplotlib import patheffects

    return [patheffects.withStroke(linewidth=points(width), foreground=colour, alpha=opacity)]


def fitted(low: Floats, high: Floats, room: tuple[float, float, float, float], most: float) -> SheetOnCanvas:
    """SheetOnCanvas that centres the sheet rectangle ``low``..``high`` [m] in ``room`` (left, bottom, right, top).

    ``most`` : greatest scale [pixels a metre], so that a short diver is not drawn as big as a tall one.
    """
    left, bottom, right, top = room
    span = np.maximum(high - low, 1e-6)
    scale = float(min((right - left) / span[0], (top - bottom) / span[1], most))
    middle = 0.5 * (low + high)
    return SheetOnCanvas(
        (0.5 * (left + right) - scale * float(middle[0]), 0.5 * (bottom + top) - scale * float(middle[1])), scale
    )
