"""Where everything of the fit drawing goes on its page, before anything is drawn; all in reference pixels."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.drawn.dimension_lines import Dimension
from sim.answers.fit.drawn.scene import FitScene
from sim.answers.fit.drawn.sheet import A4, BACK_AXES, PIXEL, SIDE_AXES, OnPage, Word, page_view, spread_out
from sim.answers.fit.drawn.verdict_list import column_height
from sim.drawing.free_space import Box
from sim.drawing.palette import INK, SOFT_INK
from sim.telling.language import quantity, say

SCALES: Final = (8, 9, 10, 12, 15, 20)  # one to this
MARGIN: Final = 30.0
DRAWINGS: Final = Box(MARGIN, 96.0, 846.0, A4[1] - 104.0)
COLUMN: Final = Box(868.0, 96.0, A4[0] - MARGIN, A4[1] - 66.0)
CHAIN: Final = 64.0  # room of a chain of dimensions with its words
GUTTER: Final = 122.0  # between the views, for the names of heights
ABOVE: Final = 34.0  # over the views, for widths
NAME_SIZE: Final = 11.5
BELOW_GEAR: Final = 0.07  # m of leg shown below cylinders and buttocks
INSET: Final = (176.0, 236.0)  # least and greatest height of the room for the plate by itself
APART: Final = 10.0  # between verdicts and plate
SIGHT: Final = 0.20  # m, drawn length of a line of sight


@dataclass(frozen=True, eq=False)
class Level:
    """A height of body or rig that both views share.

    x : [m];  y : on the page;  name : its words in the gutter;  dashes : of its line;  colour : of it
    """

    x: float
    y: float
    name: Word
    dashes: tuple[float, ...]
    colour: str


@dataclass(frozen=True, eq=False)
class FitLayout:
    """The page before it is drawn.

    back, side : the two views;  back_box, side_box : what they fill;  one_to : the scale
    levels : heights named between the views;  dimensions : measured lines;  words : all else that is written
    """

    one_to: int
    back: OnPage
    side: OnPage
    back_box: Box
    side_box: Box
    levels: tuple[Level, ...]
    dimensions: tuple[Dimension, ...]
    words: tuple[Word, ...]
    column: Box
    inset: Box


def laid_out(scene: FitScene) -> FitLayout:
    """Largest of SCALES at which both views and their words have room, and the place of everything."""
    low, high, half, front, behind = _extent(scene)
    one_to, scale = _scale(high - low, 2.0 * half + behind - front)
    spare = DRAWINGS.right - DRAWINGS.left - 2.0 * CHAIN - GUTTER - (2.0 * half + behind - front) * scale
    spare_height = DRAWINGS.top - DRAWINGS.bottom - ABOVE - (high - low) * scale
    bottom, top = DRAWINGS.bottom + 0.5 * spare_height, DRAWINGS.top - ABOVE - 0.5 * spare_height
    left = DRAWINGS.left + CHAIN + 0.2 * spare
    back_box = Box(left, bottom, left + 2.0 * half * scale, top)
    left = back_box.right + GUTTER + 0.3 * spare
    side_box = Box(left, bottom, left + (behind - front) * scale, top)
    base = bottom - low * scale
    back = page_view(BACK_AXES, (back_box.left + half * scale, base), scale)
    side = page_view(SIDE_AXES, (side_box.left - front * scale, base), scale)
    spare = COLUMN.top - COLUMN.bottom - APART - column_height(scene.verdicts, COLUMN.right - COLUMN.left)
    split = COLUMN.bottom + min(max(spare, INSET[0]), INSET[1])
    return FitLayout(
        one_to=one_to,
        back=back,
        side=side,
        back_box=back_box,
        side_box=side_box,
        levels=_levels(scene, back, 0.5 * (back_box.right + side_box.left)),
        dimensions=_dimensions(scene, back, side, back_box, side_box),
        words=(*_hand_words(scene, back), *_sight_words(scene, side)),
        column=Box(COLUMN.left, split + APART, COLUMN.right, COLUMN.top),
        inset=Box(COLUMN.left, COLUMN.bottom, COLUMN.right, split),
    )


def knob_height(scene: FitScene) -> float | None:
    """x [m] of the highest of the valve knobs that hands reach for."""
    return max((float(h.knob[0]) for h in scene.hands), default=None)


def _extent(scene: FitScene) -> tuple[float, float, float, float, float]:
    """Lowest and highest x, greatest |y|, least and greatest z [m] that the views show."""
    marks = scene.body.landmarks
    solids = dict(scene.body.segments)
    trunk = np.concatenate([m.vertices for n in ("head", "upper trunk", "lower trunk") if (m := solids[n].mesh)])
    gear = [m.vertices for m in (*scene.cylinders, *scene.valves)] + [h.chain for h in scene.hands]
    everything = np.concatenate([trunk, scene.body.drawing.vertices, *gear])
    seen = np.concatenate([trunk, *gear])
    bottom = min(scene.cylinder_bottom or np.inf, float(marks["left hip side"][0]))
    high, front = float(seen[:, 0].max()), float(seen[:, 2].min())
    if scene.lift is not None:
        tips = scene.lift.eyes + SIGHT * np.stack([scene.lift.sight, [1.0, 0.0, 0.0]])
        high = max(high, float(tips[:, 0].max()) + 0.04)
        front = min(front, float(tips[:, 2].min()))
    return bottom - BELOW_GEAR, high, float(np.abs(everything[:, 1]).max()), front, float(seen[:, 2].max())


def _scale(tall: float, wide: float) -> tuple[int, float]:
    """One to how much, and reference pixels a metre."""
    room = DRAWINGS.right - DRAWINGS.left - 2.0 * CHAIN - GUTTER, DRAWINGS.top - DRAWINGS.bottom - ABOVE
    for one_to in SCALES:
        scale = 1.0 / (one_to * PIXEL)
        if wide * scale <= room[0] and tall * scale <= room[1]:
            break
    return one_to, scale


def _levels(scene: FitScene, back: OnPage, middle: float) -> tuple[Level, ...]:
    marks = scene.body.landmarks
    gap = 100.0 * scene.drop
    far = quantity(abs(gap), "cm", 1)
    if abs(gap) < 0.05:
        strap = say("waist strap")
    elif gap > 0:
        strap = say("waist strap\n{far} below waist", far=far)
    else:
        strap = say("waist strap\n{far} above waist", far=far)
    told = [
        (say("neck bone (C7)"), float(marks["c7"][0]), (5.0, 2.5), SOFT_INK),
        (say("shoulder line"), float(marks["left acromion"][0]), (5.0, 2.5), SOFT_INK),
        (say("natural waist"), float(marks["natural waist back"][0]), (9.0, 2.5, 1.5, 2.5), INK),
        (say("hip bones (iliac crest)"), float(marks["iliac crest back"][0]), (1.5, 2.5), INK),
        (strap, scene.strap, (), INK),
        (say("buttocks"), float(marks["left hip side"][0]), (5.0, 2.5), SOFT_INK),
    ]
    told.sort(key=lambda t: t[1])
    lines = [name.count("\n") + 1 for name, *_ in told]
    heights = [back.level(x) for _, x, _, _ in told]
    middles = _kept_apart(heights, lines)
    return tuple(
        Level(x, y, Word(name, (middle, at), NAME_SIZE, "center"), dashes, colour)
        for (name, x, dashes, colour), y, at in zip(told, heights, middles, strict=True)
    )


def _kept_apart(wanted: list[float], lines: list[int]) -> list[float]:
    """Middles of words of one or two lines each, lowest first, kept apart."""
    row = 1.3 * NAME_SIZE
    return spread_out(wanted, [0.5 * row * (a + b) for a, b in itertools.pairwise(lines)])


def _dimensions(scene: FitScene, back: OnPage, side: OnPage, back_box: Box, side_box: Box) -> tuple[Dimension, ...]:
    marks = scene.body.landmarks
    c7 = marks["c7"]
    top = scene.seat.rotation @ scene.plate.top + scene.seat.origin
    left, found = back_box.left - 10.0, []
    edge = scene.plate.width / 2

    def upright(a: Floats, b: Floats, words: str) -> Dimension:
        ends = np.concatenate([back.at(a), back.at(b)])
        return Dimension(ends, left, "up", float(b[0] - a[0]), words)

    slot = scene.seat.rotation @ scene.plate.waist_slots[0] + scene.seat.origin
    found.append(upright(slot, top + [0.0, edge, 0.0], say("plate top\nto waist\nstrap")))
    found.append(upright(top + [0.0, edge, 0.0], c7, say("plate top\nto neck\nbone")))
    acromia = np.concatenate([back.at(marks["left acromion"]), back.at(marks["right acromion"])])
    breadth = float(marks["left acromion"][1] - marks["right acromion"][1])
    found.append(Dimension(acromia, back_box.top + 14.0, "across", breadth, say("shoulder bones (acromia)"), 1))
    right = side_box.right + 12.0
    bottom, knob = scene.cylinder_bottom, knob_height(scene)

    def behind(x: float, y: float, words: str) -> Dimension:
        z = float(max(m.vertices[:, 2].max() for m in scene.cylinders)) if scene.cylinders else 0.1
        ends = np.concatenate([side.at([x, 0.0, z]), side.at([y, 0.0, z])])
        return Dimension(ends, right, "up", abs(y - x), words, 1)

    if bottom is not None:
        hips = float(marks["left hip side"][0])
        several = len(scene.cylinders) > 1
        if bottom < hips:
            words = say("cylinders\nbelow\nbuttocks") if several else say("cylinder\nbelow\nbuttocks")
        else:
            words = say("cylinders\nabove\nbuttocks") if several else say("cylinder\nabove\nbuttocks")
        found.append(behind(bottom, hips, words))
        found.append(behind(bottom, max(float(m.vertices[:, 0].max()) for m in scene.cylinders), say("cylinder")))
    if knob is not None:
        words = say("valves\nabove\nneck bone") if knob > c7[0] else say("valves\nbelow\nneck bone")
        found.append(behind(float(c7[0]), knob, words))
    return tuple(found)


def _hand_words(scene: FitScene, back: OnPage) -> list[Word]:
    """Beside the head, outside the lines that rise from the acromia."""
    words = []
    for hand in scene.hands:
        marks = scene.body.landmarks
        acromion = marks["left acromion"] if hand.side == "left" else marks["right acromion"]
        x, y = back.at(acromion)[0, 0], back.level(_crown(scene))
        outward = -1.0 if hand.side == "left" else 1.0
        spare = _spare(hand.margin)
        if hand.side == "left":
            told = say("left hand:\n{spare}", spare=spare)
        else:
            told = say("right hand:\n{spare}", spare=spare)
        words.append(Word(told, (float(x) + 7.0 * outward, y), NAME_SIZE, "right" if outward < 0.0 else "left"))
    return words


def _spare(margin: float) -> str:
    """As "3.0 cm to spare", "1.2 cm short"."""
    if not np.isfinite(margin):
        return say("no way there")
    size = quantity(abs(100.0 * margin), "cm", 1)
    return say("{size} to spare", size=size) if margin >= 0.0 else say("{size} short", size=size)


def _crown(scene: FitScene) -> float:
    return float(scene.body.landmarks["crown"][0]) + 0.02


def _sight_words(scene: FitScene, side: OnPage) -> list[Word]:
    lift = scene.lift
    if lift is None:
        return []
    ahead = side.at(lift.eyes + [SIGHT, 0.0, 0.0])[0]
    beside = side.at(lift.eyes + 0.6 * SIGHT * lift.sight)[0]
    short = float(np.degrees(lift.below_ahead))
    told = say("sees {short:.0f}° below ahead", short=short) if short > 0.5 else say("sees straight ahead")
    return [
        Word(say("ahead, when flat"), (float(ahead[0]), float(ahead[1]) + 4.0), NAME_SIZE, "center", "bottom"),
        Word(told, (float(beside[0]) - 10.0, float(beside[1])), NAME_SIZE, "right"),
    ]
