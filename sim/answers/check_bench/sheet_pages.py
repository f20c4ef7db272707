"""The four pages of the sheet for the water, laid out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

import numpy as np

from sim.answers.check_bench.bench_file import Worn
from sim.answers.check_bench.held_diver import Figure, drawn
from sim.answers.check_bench.paper_form import (
    GREY,
    HEIGHT,
    WIDTH,
    Block,
    Frame,
    Text,
    below_each_other,
    beside_each_other,
    line_step,
    moved,
    numbered,
    paragraph,
    shortened,
    space,
)
from sim.answers.check_bench.sheet_boxes import boxes, ways, weighing_boxes
from sim.answers.check_bench.sheet_diver import SheetDiver
from sim.answers.check_bench.sheet_figures import sheet_figure
from sim.answers.check_bench.sheet_layout import (
    BODY,
    FOOT,
    KEY_SIZE,
    ROOM,
    SIDE,
    SMALL,
    TOP,
    boxed,
    centred,
    choice,
    heading,
    label_and_key,
    labelled,
    row_of,
    ticked,
    title,
    two_ticks,
    water_above,
)
from sim.answers.check_bench.sheet_listing import into_the_file
from sim.answers.check_bench.sheet_words import (
    ALL_OPTIONAL,
    CAUTIONS,
    FREEZE_STEPS,
    NO_NAMES,
    NO_PLAN,
    PLACES,
    WEIGHING,
    balance_steps,
    brings,
    float_steps,
)
from sim.telling.language import say, told

ROWS_TO_WEIGH: Final = 5
MOST_LINES: Final = 3  # of names of other gear
SHOWN: Final[tuple[Worn, ...]] = ("as worn", "legs straight")  # straps are put onto the first by the drawing
WIDEST_HELD: Final = 34.0  # mm
MOST_TALL: Final = HEIGHT - TOP - FOOT - 3.0  # mm, of a page's content: above the line at its foot
LEAST_BETWEEN: Final = 0.3  # of what is left between two blocks in English
TURN: Final = -np.radians(30.0)  # head-down: which way does not matter to the test


def sheet_pages(diver: SheetDiver) -> tuple[Block, ...]:
    """All pages, each from the paper's upper left corner."""
    figures: dict[Worn, Figure] = {worn: sheet_figure(diver, worn) for worn in SHOWN}
    figures["lower legs strapped"] = figures["as worn"]
    made = (
        _before(diver),
        _in_water(diver, figures),
        _freeze_and_scale(diver, figures["as worn"]),
        into_the_file(diver),
    )
    return tuple(_page(diver, k, len(made), below_each_other(_closed_up(blocks))) for k, blocks in enumerate(made, 1))


def _closed_up(blocks: Iterable[Block]) -> list[Block]:
    """The blocks of a page, with less between them where another language needs more room."""
    blocks = list(blocks)
    over = sum(b.height for b in blocks) - MOST_TALL
    between = sum(b.height for b in blocks if not b.marks)
    kept = 1.0 if over <= 0.0 else max(1.0 - over / between, LEAST_BETWEEN)
    return [b if b.marks else space(kept * b.height) for b in blocks]


def _page(diver: SheetDiver, number: int, of: int, content: Block) -> Block:
    """The content between the margins, with a line at the foot."""
    whose = shortened(diver.file or say("any diver"), 55.0, KEY_SIZE)
    foot = HEIGHT - FOOT
    last = say("page {number} of {all}; A5, print at true size", number=number, all=of)
    marks = [moved(m, SIDE, TOP) for m in content.marks]
    marks += [
        Text(say("Pool sheet for {whose}", whose=whose), (SIDE, foot), KEY_SIZE, colour=GREY),
        Text(last, (WIDTH - SIDE, foot), KEY_SIZE, "right", colour=GREY),
    ]
    return Block(HEIGHT, tuple(marks))


def _before(diver: SheetDiver) -> Iterator[Block]:
    """Page 1: cautions, who brings what, what to note."""
    yield title(say("Pool sheet"), say("How a diver hangs: three short trials, and boxes for what they show."))
    yield heading(say("Before the water: tick each"))
    rows = [space(2.5)]
    for words in CAUTIONS:
        rows += [ticked(told(words), ROOM - 6.0, 10.5), space(1.6)]
    cautions = below_each_other([*rows, space(0.9)])
    frame = Frame(0.0, 0.0, ROOM, cautions.height, 0.8)
    yield Block(cautions.height + 1.5, (frame, *(moved(m, 3.0, 0.0) for m in cautions.marks)))
    yield paragraph(told(NO_PLAN), ROOM, BODY)
    yield space(3.5)
    yield heading(say("Who brings what"))
    for who, what in brings(diver):
        brought = paragraph(what, ROOM - 23.0, BODY)
        yield beside_each_other((0.0, paragraph(who, 23.0, BODY, bold=True)), (23.0, brought))
        yield space(1.2)
    yield space(2.5)
    yield heading(say("Note"))
    found = {b.number: b for b in boxes(diver)}
    yield row_of([found["0a"], found["0b"]], (64.0, 58.0), diver.gauge, 4.0)
    yield space(1.5)
    yield beside_each_other((0.0, choice(found["0c"], 76.0)), (80.0, labelled(found["0d"], 46.0, diver.gauge)))
    yield space(2.5)
    yield paragraph(told(NO_NAMES), ROOM, BODY)
    yield space(1.0)
    yield paragraph(told(ALL_OPTIONAL), ROOM, BODY)


def _in_water(diver: SheetDiver, figures: Mapping[Worn, Figure]) -> Iterator[Block]:
    """Page 2: neutral float and balancing lead."""
    found = {b.number: b for b in boxes(diver)}
    yield heading(say("1  Neutral float: how much lead?"))
    still = drawn(figures["as worn"], 48.0)
    picture = below_each_other([water_above(50.0, 9.0, say("3 to 5 m")), space(0.5), moved_right(still, 1.0)])
    yield beside_each_other((0.0, numbered(float_steps(diver), ROOM - 54.0, BODY)), (ROOM - 50.0, picture))
    yield space(1.0)
    yield row_of([found[n] for n in ("1a", "1b", "1c") if n in found], (54.0, 34.0, 34.0), diver.gauge, 2.0)
    yield space(4.0)
    yield heading(say("2  Balancing lead: what keeps you flat?"))
    yield numbered(balance_steps(diver), ROOM, BODY)
    yield space(1.0)
    yield from _balance_table(diver, figures)
    yield paragraph(told(PLACES), ROOM, SMALL)


def _balance_table(diver: SheetDiver, figures: Mapping[Worn, Figure]) -> Iterator[Block]:
    """A column for each way of wearing, a row for each box."""
    columns = ways(diver)
    left, gap = 30.0, 2.0
    wide = (ROOM - left) / len(columns) - gap
    at = [left + gap + k * (wide + gap) for k in range(len(columns))]
    pictures = [_held(figures, worn, wide) for worn in columns]
    tallest = max(p.height for p in pictures)
    yield beside_each_other(
        (0.0, paragraph(say("The buddy's hands hold you flat, then let go."), left - 3.0, SMALL)),
        *((x, Block(tallest, p.marks)) for x, p in zip(at, pictures, strict=True)),
    )
    yield space(0.5)
    names = [centred(told(worn), wide, SMALL) for worn in columns]
    tallest = max(n.height for n in names)
    low = [below_each_other([space(tallest - n.height), n]) for n in names]
    yield beside_each_other(*zip(at, low, strict=True))
    found = [b for b in boxes(diver) if b.table == "balance"]
    for row in zip(*([b for b in found if b.worn == w] for w in columns), strict=True):
        key = say("{key} or {also}", key=row[0].key, also=row[0].also) if row[0].also else row[0].key
        words = [paragraph(told(row[0].label), left, SMALL), paragraph(key, left, KEY_SIZE, colour=GREY)]
        cells = [(x, boxed(b, wide, diver.gauge)) for x, b in zip(at, row, strict=True)]
        yield beside_each_other((0.0, below_each_other(words)), *cells)
        yield space(1.0)
    yield row_of([b for b in found if b.worn is None], (40.0, 83.0), diver.gauge, 3.0)
    yield space(1.5)


def _held(figures: Mapping[Worn, Figure], worn: Worn, wide: float) -> Block:
    size = min(wide, WIDEST_HELD)
    figure = drawn(figures[worn], size, hands=True, straps=worn == "lower legs strapped")
    return moved_right(figure, 0.5 * (wide - size))


def moved_right(block: Block, right: float) -> Block:
    """The block some way [mm] from the left."""
    return beside_each_other((right, block))


def _freeze_and_scale(diver: SheetDiver, figure: Figure) -> Iterator[Block]:
    """Page 3: freeze test, and what scale and bar say at home."""
    found = {b.number: b for b in boxes(diver)}
    yield heading(say("3  Freeze test: how fast do you turn?"))
    picture = drawn(figure, 50.0, turned=TURN)
    yield beside_each_other(
        (0.0, numbered(tuple(map(told, FREEZE_STEPS)), ROOM - 60.0, BODY)), (ROOM - 56.0, picture)
    )
    yield space(1.0)
    beside = row_of([found[n] for n in ("3g", "3h") if n in found], (20.0, 26.0), diver.gauge, 2.0)
    yield beside_each_other((0.0, choice(found["3a"], 76.0)), (78.0, beside))
    yield space(1.5)
    tries = [b for b in found.values() if b.key == "times_to_30"]
    yield label_and_key(say("Seconds from letting go to 30 degrees, one box a try"), tries[0].key, ROOM)
    yield beside_each_other(*((25.5 * k, boxed(b, 24.0, diver.gauge)) for k, b in enumerate(tries)))
    yield space(4.0)
    yield heading(say("4  At home: scale and bar"))
    yield paragraph(told(WEIGHING), ROOM, SMALL)
    yield space(0.8)
    yield from _weighing_table(diver)


def _weighing_table(diver: SheetDiver) -> Iterator[Block]:
    widths = (28.0, 25.0, 25.0, 22.0, 20.0)
    at = [sum(widths[:k]) + 1.5 * k for k in range(len(widths))]
    heads = []
    for x, wide, box in zip(at, widths, weighing_boxes(0), strict=True):
        words = [paragraph(told(box.label), wide, SMALL, bold=True), paragraph(box.key, wide, KEY_SIZE, colour=GREY)]
        heads.append((x, below_each_other(words)))
    yield beside_each_other(*heads)
    yield space(0.6)
    names = [t.name for t in diver.to_weigh]
    for row in range(ROWS_TO_WEIGH):
        name, dry, wet, along, end = weighing_boxes(row)
        cells = [boxed(name, widths[0], diver.gauge, names[row] if row < len(names) else "")]
        cells += [boxed(b, w, diver.gauge) for b, w in zip((dry, wet, along), widths[1:], strict=False)]
        yield beside_each_other(*zip(at, [*cells, two_ticks(end.choices[:2])], strict=True))
        yield space(0.8)
    if diver.other_gear:
        yield paragraph(_others(diver.other_gear), ROOM, SMALL)


def _others(names: Sequence[str]) -> str:
    """As many of the names as there is room for."""
    words = [say("May be weighed, too, by these names: {names}.", names=", ".join(names))]
    words += [
        say("May be weighed, too, by these names: {names} and more.", names=", ".join(names[:k]))
        for k in range(len(names) - 1, 0, -1)
    ]
    room = (MOST_LINES + 0.5) * line_step(SMALL)
    return next((one for one in words if paragraph(one, ROOM, SMALL).height <= room), words[-1])
