"""Records that the viewer in a browser reads, by the names of their fields; lengths m, body axes.

Arrays are base64 text (``view.packed``), places in grains, so that a page of them stays small.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple

from sim.drawing.palette import BUOYANCY, HEAD_DOWN, HEAD_UP, WEIGHT

ScriptWords = Mapping[str, str | float]  # what the script says, and what it divides a moment by, by its own names


class ShownLayer(NamedTuple):
    """What can be switched on and off: its name in the script, its words, whether it is on at first."""

    name: str
    words: str
    on: bool


@dataclass(frozen=True)
class Colours:
    """Of the arrows, as a browser takes them."""

    weight: str = WEIGHT
    buoyancy: str = BUOYANCY
    up: str = HEAD_UP
    down: str = HEAD_DOWN


@dataclass(frozen=True)
class ShownItem:
    """What turns the diver: moment [N m], plus head-up; ``at`` where its arrow starts (3,) [m]."""

    name: str
    words: str
    moment: float
    at: tuple[float, ...]


@dataclass(frozen=True)
class ShownSurface:
    """A solid: ``positions`` in grains, two bytes each; ``faces`` of two bytes, four where it is ``wide``.

    group : the layer it is switched with;  layer : gas, drawn over what is solid;  shine, metal : 0..1
    colours : four bytes a vertex, or four for all
    """

    name: str
    group: str
    layer: bool
    shine: float
    metal: float
    positions: str
    faces: str
    wide: bool
    colours: str


@dataclass(frozen=True)
class SuitScale:
    """Which surface the suit's gas is, and how its thickness is drawn and coloured.

    patches : of the motion's thicknesses;  enlarged : how far the skin goes out for each metre of gas
    deepest : thickness [m] of the colour ``thick``;  thin, thick : 0..255
    """

    surface: int
    patches: int
    enlarged: float
    deepest: float
    thin: tuple[float, ...]
    thick: tuple[float, ...]


@dataclass(frozen=True)
class ShownSuit(SuitScale):
    """With how the layer follows the patches: skin in grains, its normals, near patches and their shares."""

    skin: str
    normals: str
    near: str
    share: str


@dataclass(frozen=True)
class ShownWing:
    """Which surface the wing is, its cells, and those near each vertex with their shares."""

    surface: int
    cells: int
    cloth: tuple[float, ...]
    thick: tuple[float, ...]
    near: str
    share: str


@dataclass(frozen=True)
class ShownMotion:
    """Frames in single precision: time [s], turn as quaternions, CM and CB [m], pitch [deg], moment [N m], plus
    head-up both; thickness of the suit's gas [m] and gas in the wing's cells [m^3]."""

    time: str
    turn: str
    cm: str
    cb: str
    pitch: str
    moment: str
    suit: str | None
    wing: str | None


@dataclass(frozen=True)
class ToldView:
    """All but the shapes. grain [m];  held : the body point of which moments are taken (3,) [m]
    reach : of what is farthest from it [m];  numbers : beside the diver, with their names
    """

    title: str
    sentence: str
    caution: str
    words: ScriptWords
    grain: float
    held: tuple[float, ...]
    reach: float
    colours: Colours
    layers: tuple[ShownLayer, ...]
    wing: ShownWing | None
    items: tuple[ShownItem, ...]
    numbers: tuple[tuple[str, str], ...]
    motion: ShownMotion | None


@dataclass(frozen=True)
class View(ToldView):
    """The whole."""

    surfaces: tuple[ShownSurface, ...]
    suit: ShownSuit | None
