"""Where the diver held flat lies in one view: the panel, as large as the room and the words about it allow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.settle.drawn.story import Story
from sim.drawing.canvas import SheetOnCanvas, fitted
from sim.drawing.free_space import Box, spread_over
from sim.drawing.scene import LooseGas
from sim.drawing.sheet_options import Layer
from sim.drawing.surfaces import DressedScene
from sim.drawing.views import View, flatly, head_view, projected, side_view, three_quarter_view, top_view

BIGGEST: Final = 640.0  # pixels a metre
VIEWS: Final = {"side": side_view, "front": head_view, "top": top_view, "three-quarter": three_quarter_view}
IN_ROW: Final = 26.0  # kept over and under one of several
ABOVE: Final = 66.0  # kept over and under the diver for names
BESIDE: Final = 110.0  # and at its ends
BEFORE: Final = 330.0  # for the arc before the head and its words


@dataclass(frozen=True, eq=False)
class FlatPanel:
    """One view of the diver held flat.

    name : of the view;  placement : from its sheet to reference pixels;  room : of the panel
    drawn : (n, 2) points spread over the diver [pixels];  small : one of several, with fewer marks
    words : in its upper left corner
    full : moment [N m] for which an arrow has its whole length; None for the greatest of this diver's
    """

    name: str
    view: View
    placement: SheetOnCanvas
    room: Box
    drawn: Floats
    small: bool = False
    words: str = ""
    full: float | None = None

    def at(self, body_points: Floats) -> Floats:
        """Reference pixels (n, 2) of body points (n, 3) or (3,)."""
        return self.placement.on_canvas(projected(self.view, body_points))

    @property
    def in_row(self) -> bool:
        """Whether it is one diver of several: as large as can be, with what turns them most and no more."""
        return self.full is not None

    @property
    def turning(self) -> bool:
        """Whether what turns the diver about the axis across the body can be seen here."""
        return self.name == "side" or (self.name == "three-quarter" and (self.in_row or not self.small))

    def coloured(self, layers: frozenset[Layer]) -> bool:
        """Whether anything in it is drawn in the colours of turning: arrows and the arc, or discs from above."""
        return bool(layers & {"arrows", "arc"}) if self.turning else self.name == "top" and "arrows" in layers


def panel_of(
    name: str, story: Story, dress: DressedScene, room: Box, *, small: bool = False, most: float = BIGGEST,
    words: str = "", full: float | None = None,
) -> FlatPanel:  # fmt: skip
    """The view ``name`` of the diver, as large as the room and the words about it allow.

    most : greatest scale [pixels a metre];  words : in the upper left corner
    full : moment [N m] of an arrow of whole length, for one diver of several
    """
    scene = story.flat
    view = VIEWS[name](scene.up, scene.cm)
    sheet, faces = seen_triangles(view, dress)
    hull = np.concatenate([sheet, _bubble_corners(scene.loose_gas, view)])
    turning = name == "side" or (name == "three-quarter" and (full is not None or not small))
    named = turning or name == "front" or not small
    above = IN_ROW if full is not None else ABOVE if named else 34.0
    after = BEFORE if turning else 20.0 if small else BESIDE
    before = 20.0 if small and not turning else BESIDE
    inner = (room.left + before, room.bottom + above, room.right - after, room.top - above)
    placement = fitted(*extent(hull), inner, most)
    return FlatPanel(
        name, view, placement, room, spread_over(placement.on_canvas(sheet), faces, 18.0), small, words, full
    )


def seen_triangles(view: View, dress: DressedScene) -> tuple[Floats, NDArray[np.int64]]:
    """All that is drawn as triangles: corners (n, 2) on the sheet [m], and their numbers (m, 3)."""
    meshes = [s.mesh for s in dress.surfaces]
    firsts = np.cumsum([0, *(len(m.vertices) for m in meshes)])
    return seen_corners(view, dress), np.concatenate([m.faces + f for m, f in zip(meshes, firsts, strict=False)])


def seen_corners(view: View, dress: DressedScene) -> Floats:
    """Their corners (n, 2) alone."""
    corners = np.concatenate([s.mesh.vertices for s in dress.surfaces])
    return flatly(view, corners)


def extent(points: Floats) -> tuple[Floats, Floats]:
    """Lowest and highest of (n, 2) in each direction; column by column, which is ten times as quick."""
    return np.array([column.min() for column in points.T]), np.array([column.max() for column in points.T])


def bubble_radii(gas: LooseGas) -> Floats:
    """(n,) [m]"""
    return np.asarray(np.cbrt(0.75 * np.clip(gas.volume, 0.0, None) / np.pi))


def _bubble_corners(gas: LooseGas | None, view: View) -> Floats:
    """Sheet points (n, 2) that hold the bubbles of gas that has no bag to be drawn in."""
    if gas is None:
        return np.zeros((0, 2))
    middles, radii = projected(view, gas.centre)[:, :2], bubble_radii(gas)[:, None]
    return np.concatenate([middles - radii, middles + radii])
