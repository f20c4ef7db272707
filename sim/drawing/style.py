"""Light, dark and print: the look of a picture's ground, letters and lines; meanings keep their hue in all."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

from sim.drawing.palette import (
    BUOYANCY,
    FAILS,
    GRID,
    HEAD_DOWN,
    HEAD_UP,
    INK,
    PAPER,
    PASSES,
    SOFT_INK,
    WATER_BOTTOM,
    WATER_TOP,
    WEIGHT,
)

StyleName = Literal["light", "dark", "print"]


@dataclass(frozen=True)
class Style:
    """Colours of one look.

    ground : colours of the sheet, above and below, None for a see-through one;  halo : about letters and lines
    grid : of the squares behind the diver, None for none;  outline : of the diver
    passes, fails : of what is measured
    weight : fill of the weight's arrow;  buoyancy : of the other, both edged in ink
    sky, sea : about a diver at the surface;  area, area_line : of one whom others are held against
    """

    ink: str
    soft_ink: str
    paper: str
    halo: str
    ground: tuple[str, str] | None
    grid: str | None
    outline: str
    head_up: str
    head_down: str
    passes: str
    fails: str
    weight: str
    buoyancy: str
    sky: str
    sea: str
    area: str
    area_line: str


LIGHT: Final = Style(
    ink=INK, soft_ink=SOFT_INK, paper=PAPER, halo="#ffffff", ground=(WATER_TOP, WATER_BOTTOM), grid=GRID,
    outline=INK, head_up=HEAD_UP, head_down=HEAD_DOWN, passes=PASSES, fails=FAILS,
    weight=WEIGHT, buoyancy=BUOYANCY, sky="#f4f8fa", sea=WATER_BOTTOM, area="#dde3e7", area_line="#9aa7b0",
)  # fmt: skip
PRINT: Final = replace(
    LIGHT, ink="#000000", soft_ink="#333333", ground=("#ffffff", "#ffffff"), grid=None, sky="#ffffff", sea="#dfe5e8",
    area="#e2e2e2", area_line="#9a9a9a",
)  # fmt: skip
DARK: Final = Style(
    ink="#f2f6f8", soft_ink="#b9c8d2", paper="#10222e", halo="#0b1a24", ground=("#1d3a4b", "#0b1a24"), grid="#3f6074",
    outline="#050b10", head_up="#9ad2ff", head_down="#ec8a1c",
    passes="#c9ec9a", fails="#cc6aa4", weight="#f2f6f8", buoyancy="#10222e", sky="#2d5064", sea="#0e2a3b",
    area="#47525a", area_line="#8d99a1",
)  # fmt: skip
STYLES: Final[dict[StyleName, Style]] = {"light": LIGHT, "dark": DARK, "print": PRINT}


def see_through(style: Style) -> Style:
    """The style without a ground, to be laid on a slide."""
    return replace(style, ground=None, grid=None)
