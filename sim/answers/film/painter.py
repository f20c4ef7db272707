"""Diver, marks, graphs and words as one picture after another.

What stays (water, scales, title) is drawn once; onto a copy of it goes the diver, and onto that the few lines and
words that change, each an artist that is moved and drawn again. So letters are as crisp as in a still.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.film.footage import RATE, Footage, Picture
from sim.answers.film.graphs import Graphs
from sim.answers.film.moving_marks import ForceMarks, GasBars, TurnMarks
from sim.answers.film.stage import FOOT, HEAD, PANEL, draw_setting, staged, swing_of
from sim.answers.film.turning import rotations
from sim.drawing.canvas import blank, points
from sim.drawing.letters import size_for, wrapped_to
from sim.drawing.offscreen import Sheet
from sim.drawing.palette import INK, PAPER
from sim.drawing.views import SLIDE_RIGHT, SLIDE_UP, View

if TYPE_CHECKING:
    from matplotlib.artist import Artist

Bytes = NDArray[np.uint8]
CAPTION: Final = 33.0  # size of its letters
LEAST_CAPTION: Final = 25.0  # before it takes a second line


class Painter:
    """Paints the pictures of a footage.

    hull : (n, 3) body points [m] that hold all that is drawn of the diver
    burnt : whether captions stand in the picture
    deepest, enlarged : of the suit's gas, for its scale; deepest is 0 where there is none
    """

    def __init__(
        self, footage: Footage, size: tuple[int, int], hull: Floats, held: Floats, *, burnt: bool, deepest: float,
        enlarged: float,
    ) -> None:  # fmt: skip
        self.footage = footage
        self.canvas = canvas = blank(size)
        self.turned = rotations([p.up for p in footage.pictures], [p.number("pitch") for p in footage.pictures])
        most = max(float(np.abs(c.moment).max()) for c in footage.curves)
        swings = np.array([swing_of(p.number("moment"), most) for p in footage.pictures])
        self.stage = staged(canvas, self.turned, swings, hull, held)
        self._burnt = burnt
        draw_setting(canvas, footage, self.stage, deepest, enlarged)
        self._words = canvas.axes.text(
            0.5 * canvas.width, 62.0, "", color=INK, fontsize=points(CAPTION), ha="center", va="bottom", zorder=50,
            linespacing=1.2, fontweight="bold", animated=True,
            bbox={"boxstyle": "round,pad=0.4", "facecolor": PAPER, "edgecolor": "none", "alpha": 0.9},
        )  # fmt: skip
        self._graphs = Graphs(canvas, footage, PANEL, HEAD, FOOT)
        placement = self.stage.placement
        self._turn = TurnMarks(canvas, np.asarray(placement.origin), self.stage.radius * placement.scale, most)
        self._forces = ForceMarks(canvas)
        self._gas = GasBars(canvas, footage)
        drawn: Any = canvas.figure.canvas
        drawn.draw()
        self._ground = np.array(drawn.buffer_rgba())
        self._caption = ""
        self._drawn = drawn
        self._painted: tuple[Picture, str, Bytes] | None = None  # the last one, and what it shows

    def sheet(self, number: int) -> Sheet:
        """What is to be rendered for the picture of the given number."""
        return Sheet(self.view(number), self.stage.middle, self.stage.box[2:], self.stage.scale)

    def view(self, number: int) -> View:
        """From the side, world-up upwards; the head to the right as long as the diver is not past the vertical."""
        x, y, z = self.turned[number]
        return View(np.stack([x, z, -y]), self.stage.held, (SLIDE_RIGHT, SLIDE_UP))

    def painted(self, number: int, diver: Bytes) -> Bytes:
        """Picture (h, w, 3) of the given number, with the rendered ``diver`` (h, w, 4) of the stage's box."""
        picture, caption = self.footage.pictures[number], self._caption_at(number / RATE)
        before = self._painted
        if before is not None and before[1] == caption and before[0].looks_like(picture):
            return before[2]
        sheet: Any = np.asarray(self._drawn.buffer_rgba())
        sheet[:] = self._ground
        left, top, width, height = self.stage.box
        laid_over(sheet[top : top + height, left : left + width, :3], diver)
        for artist in self._set(picture, number):
            if artist.get_visible():
                artist.draw(self._drawn.get_renderer())
        self._painted = picture, caption, np.ascontiguousarray(sheet[..., :3])
        return self._painted[2]

    def _set(self, picture: Picture, number: int) -> list[Artist]:
        """Everything that changes, brought to the picture, in the order in which it is drawn over the diver."""
        view = self.view(number)
        centres = (np.stack([picture.centre("cm"), picture.centre("cb")]) - view.centre) @ view.axes.T
        right, up = view.axes[0, 0], view.axes[1, 0]  # of the body's long axis
        ahead = float(np.arctan2(up, right))
        self._forces.set(self.stage.placement.on_canvas(centres), ahead, picture)
        self._turn.set(
            ahead, picture.number("moment"), folded=bool(right < 0.0),
            from_level=self.footage.what in ("emptying", "sweep"),
        )  # fmt: skip
        self._gas.set(picture)
        self._graphs.set(picture)
        artists = [*self._turn.artists, *self._forces.artists, *self._gas.artists, *self._graphs.artists]
        return artists + self._captioned(self._caption_at(number / RATE))

    def _caption_at(self, time: float) -> str:
        """What is to stand in the picture."""
        shown = self.footage.captions if self._burnt else ()
        return next((c.text for c in shown if c.start <= time < c.end), "")

    def _captioned(self, text: str) -> list[Artist]:
        if text != self._caption:
            self._caption = text
            room = self.canvas.width - 200.0
            size = size_for(text, room, CAPTION, bold=True, least=LEAST_CAPTION, zoom=self.canvas.zoom)
            self._words.set_fontsize(points(size))
            self._words.set_text("\n".join(wrapped_to(text, room, size, bold=True)))
        return [self._words] if text else []


def laid_over(ground: Bytes, picture: Bytes) -> None:
    """Lay RGBA (h, w, 4), colours multiplied by opacity already, onto RGB (h, w, 3)."""
    rows, columns = np.flatnonzero(picture[..., 3].any(axis=1)), np.flatnonzero(picture[..., 3].any(axis=0))
    if not len(rows):
        return
    part = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    over = picture[part]
    through = ground[part] * (255 - over[..., 3:].astype(np.uint16))
    ground[part] = np.minimum(over[..., :3] + (through + 127) // 255, 255)
