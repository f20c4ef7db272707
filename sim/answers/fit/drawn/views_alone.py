"""The two views of the fit drawing by themselves, to stand among text: few words, large letters, no measures."""

from __future__ import annotations

import itertools
from dataclasses import replace
from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.drawn.drawing import draw_level, draw_marks
from sim.answers.fit.drawn.layout import FitLayout, Level, laid_out
from sim.answers.fit.drawn.scene import FitScene
from sim.answers.fit.drawn.sheet import ZOOM, Word, spread_out, write
from sim.answers.fit.drawn.views import paint_back, paint_side
from sim.drawing.canvas import blank
from sim.drawing.free_space import Box
from sim.drawing.palette import PAPER
from sim.drawing.saved import checked_path, save
from sim.telling.language import say

SIZE: Final = 19.0  # of letters, reference pixels
ROW: Final = 1.25 * SIZE
JOINT: Final = 5.0  # kept clear about a joint
EDGE: Final = 6.0  # about everything


def draw_fit_views(scene: FitScene, path: str | Path, *, named: bool = True) -> Path:
    """Diver and rig from behind and from the side, heights named between them, to a PNG, SVG or PDF.

    named : False leaves out heights and words, for a drawing so small that they could not be read

    Raises ValueError for another ending, OSError when the file cannot be written.
    """
    target = checked_path(path)
    layout = laid_out(scene)
    levels = _levels(layout) if named else []
    words = shown_words(scene, layout) if named else []
    shown = _shown(scene, layout, words)
    canvas = blank((round((shown.right - shown.left) * ZOOM), round((shown.top - shown.bottom) * ZOOM)), ZOOM)
    canvas.figure.set_facecolor(PAPER)
    canvas.axes.set_xlim(shown.left, shown.right)
    canvas.axes.set_ylim(shown.bottom, shown.top)
    keep = Box(shown.left, layout.back_box.bottom, shown.right, shown.top)
    paint_back(canvas, scene, layout.back, keep)
    paint_side(canvas, scene, layout.side, keep)
    for level in levels:
        draw_level(canvas, level, layout)
    draw_marks(canvas, scene, layout)
    for word in words:
        write(canvas, word)
    save(canvas, target)
    return target


def shown_words(scene: FitScene, layout: FitLayout) -> list[Word]:
    """All that is written."""
    return [*(level.name for level in _levels(layout)), *_words(scene, layout)]


def _levels(layout: FitLayout) -> list[Level]:
    """Their names in a line each, without what stands in brackets or below."""
    middles = spread_out([level.y for level in layout.levels], ROW)
    return [
        replace(level, name=replace(level.name, text=_short(level.name.text), at=(level.name.at[0], y), size=SIZE))
        for level, y in zip(layout.levels, middles, strict=True)
    ]


def _short(name: str) -> str:
    return name.split("\n")[0].split(" (")[0]


def _words(scene: FitScene, layout: FitLayout) -> list[Word]:
    """What hands and eyes reach, and the names of the views above all of it."""
    words: list[Word] = []
    arms = drawn_arms(scene, layout)
    for word in sorted((replace(w, size=SIZE) for w in layout.words), key=lambda w: w.box.bottom):
        words.append(_above(word, words, arms))
    top = max([layout.back_box.top, *(word.box.top for word in words)])
    for box, name in ((layout.back_box, say("from behind")), (layout.side_box, say("from the left side"))):
        words.append(Word(name, (0.5 * (box.left + box.right), top + SIZE), SIZE, "center", bold=True))
    return words


def _above(word: Word, others: list[Word], arms: Floats) -> Word:
    """The word, raised until it stands on no other, and on none of the points ``arms`` (n, 2)."""
    while word.box.holds(arms) or any(word.box.overlaps(other.box) for other in others):
        word = replace(word, at=(word.at[0], word.at[1] + 0.25 * SIZE))
    return word


def drawn_arms(scene: FitScene, layout: FitLayout) -> Floats:
    """Points (n, 2) close together along the arms from shoulder to hand, and about their joints, in both views."""
    found = [np.zeros((0, 2))]
    shares, circle = np.linspace(0.0, 1.0, 40)[:, None], np.linspace(0.0, 2.0 * np.pi, 12)[:, None]
    for hand in scene.hands:
        for page in (layout.back, layout.side):
            chain = page.at(hand.chain)
            found += [a + shares * (b - a) for a, b in itertools.pairwise(chain)]
            found += [joint + JOINT * np.hstack([np.cos(circle), np.sin(circle)]) for joint in chain[:3]]
    return np.concatenate(found)


def _shown(scene: FitScene, layout: FitLayout, words: list[Word]) -> Box:
    """All of both views, every word, and where hands get."""
    box = layout.back_box.joined(layout.side_box)
    for word in words:
        box = box.joined(word.box)
    for hand in scene.hands:
        for page, rings in ((layout.back, hand.behind), (layout.side, hand.beside if hand.side == "left" else ())):
            for at in map(page.at, rings):
                box = box.joined(Box(*(float(v) for v in (*at.min(axis=0), *at.max(axis=0)))))
    return Box(box.left - EDGE, layout.back_box.bottom, box.right + EDGE, box.top + EDGE)
