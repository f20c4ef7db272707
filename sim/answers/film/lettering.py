"""Words on a film, each with its halo as one drawing, so that they fit at any size.

``draw_word`` of the stills sets letters apart from their halo, to stay text in SVG and PDF; at the small sizes of a
film the two then lie beside one another.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.drawing.canvas import Canvas, haloed, points
from sim.drawing.palette import INK

if TYPE_CHECKING:
    from matplotlib.text import Text


def word(
    canvas: Canvas, at: tuple[float, float], text: str, *, size: float, colour: str = INK, across: str = "left",
    along: str = "center", bold: bool = False, zorder: float = 40.0, moves: bool = False,
) -> Text:  # fmt: skip
    """Words at a place, ``size`` in reference pixels; ``moves`` : set anew and drawn by hand in each picture."""
    return canvas.axes.text(
        *at, text, color=colour, fontsize=points(size), ha=across, va=along, zorder=zorder, animated=moves,
        fontweight="bold" if bold else "normal", path_effects=haloed(5.0), linespacing=1.25 if "\n" in text else 1.0,
    )  # fmt: skip
