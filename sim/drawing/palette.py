"""Colours, chosen so that no meaning rests on red against green.

Marks and gas take the eight colours of Okabe and Ito (2008, "Color Universal Design", from memory); solid things
are greys and muted tones told apart by lightness.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.rig import Kind

INK: Final = "#17232e"
SOFT_INK: Final = "#41525f"
PAPER: Final = "#ffffff"
WATER_TOP: Final = "#f5fafb"
WATER_BOTTOM: Final = "#c3dbe6"
GRID: Final = "#8fb3c4"

# One meaning for each colour, in every picture; opposites differ in lightness too, so that grey tells them apart.
WEIGHT: Final = INK  # the arrow of weight is filled
BUOYANCY: Final = PAPER  # that of buoyancy is hollow, edged in ink
HEAD_UP: Final = "#00588c"  # turns head-up
HEAD_DOWN: Final = "#e0780f"  # turns head-down
PASSES: Final = "#356a10"  # fits, is met, is nearer to balance than now
FAILS: Final = "#dd92bd"  # does not, is further from it
# sets, plates, cases, without a judgement: told apart by dashes and marks too
SERIES: Final = (INK, "#8a6d1f", "#6f5aa3", "#95a3ab", "#cdb86a", "#bda9e0")
SERIES_PALE: Final = "#c8ccd6"  # a bar or a band of the one thing shown

GAS_THIN: Final = "#d5f1ee"
GAS_THICK: Final = "#138f95"
GAS_LINE: Final = "#0c6f74"

SKIN: Final = "#d3ab8e"
SUIT: Final = "#7d8791"
WETSUIT: Final = "#5d6670"
WING_CLOTH: Final = "#efe3c2"


@dataclass(frozen=True)
class Finish:
    """How a solid thing looks: colour and share of mirror-like shine 0..1."""

    colour: str
    shine: float = 0.15


_FINISHES: Final[dict[Kind, Finish]] = {
    "suit": Finish(SUIT),
    "wetsuit": Finish(WETSUIT),
    "hood": Finish("#3f4952"),
    "mask": Finish("#39424b", 0.5),
    "boots": Finish("#39424b"),
    "gloves": Finish("#39424b"),
    "fins": Finish("#4a555f", 0.3),
    "plate": Finish("#dfe3e6", 0.7),
    "harness": Finish("#30363c"),
    "wing": Finish(WING_CLOTH, 0.1),
    "cylinder": Finish("#b9c1c6", 0.6),
    "valve": Finish("#8c959b", 0.7),
    "manifold": Finish("#8c959b", 0.7),
    "bands": Finish("#6d767d", 0.6),
    "regulator": Finish("#454d55", 0.5),
    "hose": Finish("#23292f", 0.3),
    "lead": Finish("#5a5560", 0.3),
    "light": Finish("#2f3a36", 0.4),
    "stage": Finish("#cfc7b2", 0.5),
    "rebreather": Finish("#6f7b74", 0.3),
    "counterlungs": Finish("#4c5a66"),
    "other": Finish("#8b8378"),
}


def finish_of(kind: Kind) -> Finish:
    """Look of a part of this kind; kinds without a look of their own share that of "other"."""
    return _FINISHES.get(kind, _FINISHES["other"])


def rgb(colour: str) -> tuple[float, float, float]:
    """Red, green, blue 0..1 of "#rrggbb"."""
    red, green, blue = bytes.fromhex(colour.removeprefix("#"))
    return red / 255.0, green / 255.0, blue / 255.0
