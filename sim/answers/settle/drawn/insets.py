"""What the colours on the picture of a diver mean: the gas in the suit, and the arrows."""

from __future__ import annotations

import numpy as np

from sim.answers.settle.drawn.words import FAILS, HEAD_DOWN, HEAD_UP, PASSES, thicker_words
from sim.drawing.canvas import Canvas, points
from sim.drawing.letters import set_width
from sim.drawing.marks import draw_word
from sim.drawing.palette import GAS_LINE, GAS_THICK, GAS_THIN, rgb
from sim.telling.language import told

WIDTH, HEIGHT = 230.0, 18.0  # of the ramp
SIZE = 19.0  # of letters


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
        value = f"{1000.0 * share_at * deepest:g}" + (" mm" if share_at == 1.0 else "")
        draw_word(canvas, (left + share_at * WIDTH, bottom - 14.0), value, size=SIZE, across=across)
    said = thicker_words(enlarged)
    draw_word(canvas, (left, bottom + HEIGHT + 16.0), said, size=SIZE, across="left")


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
        draw_word(canvas, (x + 34.0, y), words, size=SIZE, across="left", bold=True)
        x += 34.0 + set_width(words, SIZE, bold=True) + 28.0
