"""What the sheet for the water is laid out with: margins, headings, boxes with number, unit and the file's key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.check_bench.paper_form import (
    GREY,
    WIDTH,
    Block,
    Frame,
    Mark,
    Stroke,
    Text,
    below_each_other,
    beside_each_other,
    line_step,
    moved,
    paragraph,
    shortened,
    space,
    width_of,
)
from sim.answers.check_bench.sheet_boxes import SheetBox
from sim.telling.language import told

SIDE: Final = 11.0  # mm, margins at the sides: a thumb's breadth, ...
TOP: Final = 17.0  # ... more at the top, where a clipboard clips
FOOT: Final = 8.0
ROOM: Final = WIDTH - 2.0 * SIDE
BODY: Final = 9.5  # pt, sentences
SMALL: Final = 9.0  # pt, labels
KEY_SIZE: Final = 7.5  # pt, what is read at home only
BOX: Final = 10.0  # mm, height of a box: a wet hand with a pencil
TICK: Final = 3.6  # mm
SMALL_TICK: Final = 2.6  # mm, beside a unit
UNIT_ROOM: Final = 9.0  # mm beside a box
NUMBER_ROOM: Final = 7.5  # mm of a box that its number takes
INSIDE: Final = 1.0  # mm from a box's edge to its number


def title(words: str, below: str) -> Block:
    """The sheet's name."""
    return below_each_other([paragraph(words, ROOM, 18.0, bold=True), paragraph(below, ROOM, BODY), space(2.5)])


def heading(words: str) -> Block:
    """Words over a line."""
    text = paragraph(words, ROOM, 12.0, bold=True)
    line = Stroke(np.array([[0.0, text.height + 0.2], [ROOM, text.height + 0.2]]), 0.5)
    return Block(text.height + 1.9, (*text.marks, line))


def ticked(words: str, room: float, size: float) -> Block:
    """A sentence with a square before it."""
    text = paragraph(words, room - TICK - 2.5, size)
    square = Frame(0.0, 0.5 * (line_step(size) - TICK), TICK, TICK)
    return Block(text.height, (square, *(moved(m, TICK + 2.5, 0.0) for m in text.marks)))


def centred(words: str, wide: float, size: float) -> Block:
    """Bold words in the middle of ``wide`` [mm]."""
    text = paragraph(words, wide, size, bold=True)
    marks = (replace(m, at=(0.5 * wide, m.at[1]), across="center") for m in text.marks if isinstance(m, Text))
    return Block(text.height + 0.8, tuple(marks))


def boxed(box: SheetBox, wide: float, gauge: str, given: str = "") -> Block:
    """The box with its number inside and its unit beside it, ``wide`` [mm] in all."""
    unit = {"pressure": gauge, "words": "", "one of": ""}.get(box.want, box.want)
    mass = box.want == "kg or lb"
    beside = UNIT_ROOM if mass else width_of(unit, BODY) + 1.5 if unit else 0.0
    inner = wide - beside
    marks: list[Mark] = [Frame(0.0, 0.0, inner, BOX), *_number(box)]
    if mass:
        for k, name in enumerate(("kg", "lb")):
            down = 1.4 + 4.6 * k
            marks += [
                Frame(inner + 1.2, down, SMALL_TICK, SMALL_TICK, 0.25),
                Text(name, (inner + 1.2 + SMALL_TICK + 0.8, down + 2.4), SMALL),
            ]
    elif unit:
        marks.append(Text(unit, (inner + 1.5, 0.5 * BOX + 1.2), BODY))
    if given:
        words = shortened(given, inner - 2.0 * INSIDE - width_of("0a ", KEY_SIZE, bold=True), SMALL)
        marks.append(Text(words, (inner - INSIDE, BOX - 2.2), SMALL, "right"))
    return Block(BOX, tuple(marks))


def labelled(box: SheetBox, wide: float, gauge: str) -> Block:
    """The box under its label, with the file's key in grey after it."""
    return below_each_other([label_and_key(told(box.label), box.key, wide), boxed(box, wide, gauge, box.given)])


def label_and_key(label: str, key: str, wide: float) -> Block:
    """What to write on the left, the file's key in grey on the right."""
    step = line_step(SMALL)
    return Block(
        step + 0.4,
        (
            Text(label, (0.0, 0.78 * step), SMALL),
            Text(key, (wide, 0.78 * step), KEY_SIZE, "right", colour=GREY),
        ),
    )


def row_of(boxes: Sequence[SheetBox], widths: Sequence[float], gauge: str, gap: float) -> Block:
    """Labelled boxes beside each other."""
    made, left = [], 0.0
    for box, wide in zip(boxes, widths, strict=False):
        made.append((left, labelled(box, wide, gauge)))
        left += wide + gap
    return beside_each_other(*made)


def choice(box: SheetBox, wide: float) -> Block:
    """Words to tick one of, in a frame as high as a box."""
    over = label_and_key(told(box.label), box.key, wide)
    choices = tuple(map(told, box.choices))
    top = over.height
    marks: list[Mark] = [*over.marks, Frame(0.0, top, wide, BOX), *(moved(m, 0.0, top) for m in _number(box))]
    widths = [TICK + 1.5 + width_of(word, BODY) for word in choices]
    gap = (wide - NUMBER_ROOM - sum(widths)) / len(widths)
    for k, word in enumerate(choices):
        left = NUMBER_ROOM + sum(widths[:k]) + gap * k
        marks += [
            Frame(left, top + 0.5 * (BOX - TICK), TICK, TICK),
            Text(word, (left + TICK + 1.5, top + 0.5 * BOX + 1.2), BODY),
        ]
    return Block(top + BOX, tuple(marks))


def two_ticks(words: Sequence[str]) -> Block:
    """Words to tick one of, below each other beside a box."""
    marks: list[Mark] = []
    for k, word in enumerate(map(told, words)):
        down = 1.2 + 4.8 * k
        marks += [Frame(0.0, down, SMALL_TICK, SMALL_TICK, 0.25), Text(word, (SMALL_TICK + 1.0, down + 2.4), SMALL)]
    return Block(BOX, tuple(marks))


def water_above(wide: float, depth: float, words: str) -> Block:
    """The surface, an arrow down from it to ``depth`` [mm] lower, and how deep that is."""
    x = np.linspace(0.0, wide, 120)
    waves = np.stack([x, 1.0 + 0.5 * np.sin(2.0 * np.pi * x / 6.0)], axis=1)
    tip: Floats = np.array([3.0, depth])
    arrow = np.array([[3.0, 1.8], tip])
    barb = np.array([tip + [-0.9, -1.8], tip, tip + [0.9, -1.8]])
    size = line_step(SMALL)
    return Block(
        depth, (Stroke(waves, 0.4), Stroke(arrow, 0.3), Stroke(barb, 0.3), Text(words, (5.0, 2.2 + size), SMALL))
    )


def _number(box: SheetBox) -> tuple[Mark, ...]:
    return (Text(box.number, (INSIDE, INSIDE + 2.1), KEY_SIZE, bold=True),)
