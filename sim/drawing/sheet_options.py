"""What a user may choose of a picture: from where, which layers, how large, in which look."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from sim.drawing.style import STYLES, Style, StyleName, see_through

ViewName = Literal["side", "front", "top", "three-quarter", "all"]
Layer = Literal["arrows", "gas", "horizon", "arc", "fit", "reach", "sight"]
MEASURED: Final[frozenset[Layer]] = frozenset({"fit", "reach", "sight"})
USUAL: Final[frozenset[Layer]] = frozenset({"arrows", "gas", "horizon", "arc"})


@dataclass(frozen=True)
class Chosen:
    """The choices.

    size : of a PNG in pixels; its shape for SVG and PDF;  clear : a see-through ground
    """

    view: ViewName = "side"
    layers: frozenset[Layer] = USUAL
    size: tuple[int, int] = (1600, 1000)
    style: StyleName = "light"
    clear: bool = False

    @property
    def measured(self) -> bool:
        """Whether anything is wanted that needs a plate on the back to be measured."""
        return bool(self.layers & MEASURED)

    @property
    def look(self) -> Style:
        """Colours of ground, letters and lines."""
        style = STYLES[self.style]
        return see_through(style) if self.clear else style
