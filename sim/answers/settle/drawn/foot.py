"""The foot of a picture of divers: what its colours mean, the scale of the gas, small print, caution."""

from __future__ import annotations

from typing import Final

import numpy as np

from sim.answers.settle.drawn.words import FAILS, HEAD_DOWN, HEAD_UP, PASSES, thicker_words
from sim.drawing.canvas import Canvas, points
from sim.drawing.letters import set_width, size_for, wrapped_to
from sim.drawing.marks import draw_word
from sim.drawing.palette import GAS_LINE, GAS_THICK, GAS_THIN, rgb
from sim.drawing.scene import HangingScene
from sim.telling.language import told
from sim.telling.words import thickness_words

WIDTH, HEIGHT = 230.0, 18.0  # of the ramp
SIZE = 19.0  # of letters
SMALL = 18.0
FOOT: Final = 156.0  # reference pixels
LEFT: Final = 48.0
BESIDE_SCALE: Final = 440.0  # from the left edge of the gas scale to what stands beside it


def write_foot(
    canvas: Canvas, scene: HangingScene, deepest: float, said: str, small: str, *, turns: bool, measured: bool
) -> None:
    """Colours and gas scale, then sentences, small print and the scene's caution.

    deepest : [m] that the deepest gas colour stands for, 0 for no gas
    turns : whether anything is shown in the colours of turning;  measured : whether fit, reach or sight is shown
    """
    start = LEFT
    if deepest > 0.0:
        draw_gas_scale(canvas, (LEFT, 98.0), deepest, scene.gas_scale)
        start = LEFT + BESIDE_SCALE
    room, soft = canvas.width - start - LEFT, canvas.style.soft_ink
    draw_key(canvas, (start, 138.0), key_colours(canvas, turns, measured))
    for number, line in enumerate(wrapped_to(said, room, SMALL)[:2]):
        draw_word(canvas, (start, 112.0 - 23.0 * number), line, size=SMALL, across="left", halo=False)
    size = size_for(small, room, SMALL, zoom=canvas.zoom)
    draw_word(canvas, (start, 64.0), small, size=size, across="left", colour=soft, halo=False)
    size, lines = two_lines(scene.caution, canvas.width - 2.0 * LEFT)
    for number, line in enumerate(reversed(lines)):
        draw_word(canvas, (LEFT, 15.0 + 23.0 * number), line, size=size, across="left", colour=soft, halo=False)


def two_lines(words: str, room: float) -> tuple[float, list[str]]:
    """The caution in full, in letters as much smaller than usual as it takes to get it into two lines."""
    size = SMALL
    while len(lines := wrapped_to(words, room, size)) > 2:
        size *= 0.97
    return size, lines


def draw_gas_scale(canvas: Canvas, corner: tuple[float, float], deepest: float, enlarged: float) -> None:
    """Ramp of the suit gas colours from 0 to ``deepest`` [m], saying how much thicker the gas is drawn."""
    from matplotlib.patches import Rectangle

    left, bottom = corner
    share = np.linspace(0.0, 1.0, 128)[None, :, None]
    ramp = (1.0 - share) * np.asarray(rgb(GAS_THIN)) + share * np.asarray(rgb(GAS_THICK))
    canvas.axes.imshow(
        ramp, extent=(left, left + WIDTH, bottom, bottom + HEIGHT), aspect="auto", interpolation="bilinear", zorder=20
    )
    canvas.axes.set_xlim(0.0, canvas.width)
    canvas.axes.set_ylim(0.0, canvas.height)
    canvas.axes.add_artist(
        Rectangle(corner, WIDTH, HEIGHT, facecolor="none", edgecolor=GAS_LINE, linewidth=points(1.5), zorder=21)
    )
    for share_at, across in ((0.0, "left"), (0.5, "center"), (1.0, "right")):
        value = thickness_words(share_at * deepest, unit=share_at == 1.0)
        draw_word(canvas, (left + share_at * WIDTH, bottom - 14.0), value, size=SIZE, across=across, halo=False)
    said = thicker_words(enlarged)
    size = size_for(said, BESIDE_SCALE - 20.0, SIZE, zoom=canvas.zoom)
    draw_word(canvas, (left, bottom + HEIGHT + 16.0), said, size=size, across="left", halo=False)


def key_colours(canvas: Canvas, arrows: bool, measures: bool) -> list[tuple[str, str]]:
    """Colours that the picture uses and what each means."""
    style = canvas.style
    turning = [(style.head_up, told(HEAD_UP)), (style.head_down, told(HEAD_DOWN))] if arrows else []
    return turning + ([(style.passes, told(PASSES)), (style.fails, told(FAILS))] if measures else [])


def draw_key(canvas: Canvas, at: tuple[float, float], colours: list[tuple[str, str]]) -> None:
    """Colours and what they mean, side by side."""
    from matplotlib.patches import Rectangle

    x, y = at
    for colour, words in colours:
        canvas.axes.add_artist(
            Rectangle((x, y - 8.0), 26.0, 16.0, facecolor=colour, edgecolor=canvas.style.halo, zorder=30)
        )
        draw_word(canvas, (x + 34.0, y), words, size=SIZE, across="left", bold=True, halo=False)
        x += 34.0 + set_width(words, SIZE, bold=True) + 28.0
