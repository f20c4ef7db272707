"""Measured lines as an engineer draws them: extension lines, arrow heads, the length in centimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.drawn.sheet import Word, area, stroke
from sim.drawing.canvas import Canvas
from sim.drawing.palette import INK, SOFT_INK
from sim.telling.language import quantity

HEAD: Final = (8.0, 2.6)  # length and half width of an arrow head, reference pixels
OVERSHOOT: Final = 3.0  # of an extension line beyond the dimension line
GAP: Final = 3.0  # between what is measured and its extension line
SIZE: Final = 11.5  # of the figures


@dataclass(frozen=True, eq=False)
class Dimension:
    """A length measured along the page's height ("up") or across it ("across").

    ends : (2, 2) of the measured points, reference pixels;  line : where the dimension line runs (x for "up")
    length : [m] as told;  side : of the line on which its words stand, -1 left or below, +1 right or above
    """

    ends: Floats
    line: float
    way: Literal["up", "across"]
    length: float
    words: str = ""
    side: int = -1

    @property
    def feet(self) -> Floats:
        """(2, 2) where the arrow heads touch the extension lines."""
        along = 1 if self.way == "up" else 0
        feet = np.full((2, 2), self.line)
        feet[:, along] = self.ends[:, along]
        return feet

    @property
    def word(self) -> Word:
        """The length, with what is measured where that is told."""
        middle = self.feet.mean(axis=0)
        said = in_centimetres(self.length) + (f"\n{self.words}" if self.words else "")
        if self.way == "up":
            return Word(said, (middle[0] + self.side * 5.0, middle[1]), SIZE, "right" if self.side < 0 else "left")
        place = (middle[0], middle[1] + self.side * 4.0)
        said = said.replace("\n", " ")
        if self.words:
            said = f"{self.words} {in_centimetres(self.length)}"
        return Word(said, place, SIZE, "center", "bottom" if self.side > 0 else "top")


def in_centimetres(length: float) -> str:
    """As "39.5 cm"; a length that rounds to nothing has no sign."""
    shown = round(100.0 * length, 1)
    return quantity(shown if shown else 0.0, "cm", 1, dash=True)


def draw_dimension(canvas: Canvas, dimension: Dimension, zorder: float = 45.0) -> None:
    """Lines and arrow heads; the words are written with all others, so that they can be kept apart."""
    feet, along = dimension.feet, 1 if dimension.way == "up" else 0
    for foot, end in zip(feet, dimension.ends, strict=True):
        reach = foot[1 - along] - end[1 - along]
        if abs(reach) <= GAP:
            continue
        way = np.zeros(2)
        way[1 - along] = np.sign(reach)
        stroke(canvas, [end + GAP * way, foot + OVERSHOOT * way], colour=SOFT_INK, width=0.6, zorder=zorder)
    span = float(abs(feet[1, along] - feet[0, along]))
    outside = span < 3.0 * HEAD[0]
    way = (feet[1] - feet[0]) / max(span, 1e-9) if span > 0.0 else np.eye(2)[along]
    tail = 2.2 * HEAD[0] * way if outside else np.zeros(2)
    stroke(canvas, [feet[0] - tail, feet[1] + tail], colour=INK, width=0.8, zorder=zorder)
    turned = -1.0 if outside else 1.0
    for foot, inward in ((feet[0], turned * way), (feet[1], -turned * way)):
        draw_arrow_head(canvas, foot, -inward, zorder)


def draw_arrow_head(canvas: Canvas, tip: Floats, way: Floats, zorder: float = 45.0, size: float = 1.0) -> None:
    """A filled arrow head whose tip is at ``tip`` (2,), pointing along ``way`` (2,) unit."""
    length, half = size * HEAD[0], size * HEAD[1]
    base, across = tip - length * way, half * np.array([-way[1], way[0]])
    area(canvas, [np.array([tip, base + across, base - across, tip])], fill=INK, zorder=zorder)
