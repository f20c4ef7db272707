"""A plate's technical drawing at full size over small pages that are laid on one another, crosses on crosses."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING, Final

from sim.answers.plate.drawn.marks import LETTERS, ROW, Mark, Word, line
from sim.answers.plate.drawn.paper import MARGIN, OVERLAP, Paper, Rectangle, Tile, Tiling, tiled
from sim.answers.plate.drawn.printed import draw, page
from sim.answers.plate.drawn.sheet import BAR, Drawing, beneath, measured_bar
from sim.drawing.letters import wrapped_to
from sim.drawing.saved import checked_path, save_pages
from sim.telling.language import quantity, say

if TYPE_CHECKING:
    from matplotlib.figure import Figure

CROSSES: Final = (0.15, 0.85)  # of an overlap's length: where crosses stand on it
ARM: Final = 4.0  # mm of a cross


def draw_tiles(drawing: Drawing, path: str | Path, paper: Paper = "a4") -> Tiling:
    """Draw the views at full size on pages to be joined (PDF); the first shows how, and holds the words.

    Raises ValueError for too many pages.
    """
    tiling = tiled(drawing.extent, paper)
    pages = [_first(drawing, tiling, paper)]
    for tile in tiling.tiles:
        figure = page((*drawing.views, *_overlap(tile, tiling)), tiling.paper, tile.shown, MARGIN, MARGIN)
        _footer(figure, tile, tiling)
        pages.append(figure)
    save_pages(pages, checked_path(path))
    return tiling


def _footer(figure: Figure, tile: Tile, tiling: Tiling) -> None:
    """In the margin below: which page it is, and a bar to check the printer by."""
    wide, tall = tiling.paper
    axes = figure.add_axes((0.0, 0.0, 1.0, MARGIN / tall))
    axes.set_xlim(0.0, wide)
    axes.set_ylim(0.0, MARGIN)
    axes.set_axis_off()
    said = say(
        "{tile}: row {row} of {rows}, column {column} of {columns}",
        tile=tile.name,
        row=tile.row + 1,
        rows=tiling.rows,
        column=tile.column + 1,
        columns=tiling.columns,
    )
    draw(axes, [Word(said, (MARGIN, 7.0)), *measured_bar(wide - MARGIN - BAR, 7.0, "100 mm")])


def _overlap(tile: Tile, tiling: Tiling) -> Iterator[Mark]:
    """The middle of what a page shares with each neighbour, crosses that come to lie on theirs, and their names."""
    shown, half = tile.shown, OVERLAP / 2
    right, top = shown.left + shown.width, shown.bottom + shown.height
    beside = [(shown.left + half, -1)] * (tile.column > 0) + [(right - half, 1)] * (tile.column < tiling.columns - 1)
    above = [(top - half, -1)] * (tile.row > 0) + [(shown.bottom + half, 1)] * (tile.row < tiling.rows - 1)
    for x, side in beside:
        yield line((x, shown.bottom), (x, top), look="cut")
        name = Tile(tile.row, tile.column + side, shown).name
        at = (x - side * 1.5, shown.bottom + 0.62 * shown.height)
        yield Word(say("joins {tile}", tile=name), at, across="right" if side > 0 else "left")
    for y, down in above:
        yield line((shown.left, y), (right, y), look="cut")
        name = Tile(tile.row + down, tile.column, shown).name
        yield Word(say("joins {tile}", tile=name), (shown.left + 0.3 * shown.width, y + 2.6 * down), across="center")
    xs, ys = [x for x, _ in beside], [y for y, _ in above]
    crosses = [(x, shown.bottom + share * shown.height) for x in xs for share in CROSSES]
    crosses += [(shown.left + share * shown.width, y) for y in ys for share in CROSSES]
    for x, y in (*crosses, *product(xs, ys)):
        yield line((x - ARM, y), (x + ARM, y), look="edge")
        yield line((x, y - ARM), (x, y + ARM), look="edge")


def _first(drawing: Drawing, tiling: Tiling, paper: Paper) -> Figure:
    """How the pages lie: the views small with the tiles' frames on them, below what to do and all words."""
    wide, tall = (side - 2 * MARGIN for side in tiling.paper)
    words = list(beneath(drawing, 0.0, wide, 0.0, bar=False))
    at = words[-1].at[1] - 1.5 * ROW
    for row in wrapped_to(_how(paper), wide, LETTERS):
        words.append(Word(row, (0.0, at)))
        at -= ROW
    room = tall + at
    figure = page((), tiling.paper, Rectangle(0.0, 0.0, wide, tall), MARGIN, MARGIN)
    draw(figure.axes[0], [Word(w.text, (0.0, w.at[1] - at), w.size, bold=w.bold, warns=w.warns) for w in words])
    tiles = [tile.shown for tile in tiling.tiles]
    bottom, top = min(t.bottom for t in tiles), max(t.bottom + t.height for t in tiles)
    left, right = min(t.left for t in tiles), max(t.left + t.width for t in tiles)
    scale = 0.97 * min(wide / (right - left), room / (top - bottom))
    low = MARGIN / tiling.paper[1]
    small = figure.add_axes(
        (MARGIN / tiling.paper[0], low - at / tiling.paper[1], wide / tiling.paper[0], room / tiling.paper[1])
    )
    small.set_xlim((left + right) / 2 - wide / scale / 2, (left + right) / 2 + wide / scale / 2)
    small.set_ylim((bottom + top) / 2 - room / scale / 2, (bottom + top) / 2 + room / scale / 2)
    small.set_axis_off()
    draw(small, drawing.views, scale)
    draw(small, [mark for tile in tiling.tiles for mark in _frame(tile)])
    return figure


def _how(paper: Paper) -> str:
    return say(
        "Print all pages at 100 % (no fitting to the page) on {paper}, and measure the bar on each. Lay each page on "
        "its neighbours so that crosses fall on crosses; {overlap} overlap. This page is not to scale.",
        paper=paper.capitalize(),
        overlap=quantity(OVERLAP, "mm", 0),
    )


def _frame(tile: Tile) -> Iterator[Mark]:
    box = tile.shown
    right, top = box.left + box.width, box.bottom + box.height
    corners = ((box.left, box.bottom), (right, box.bottom), (right, top), (box.left, top), (box.left, box.bottom))
    yield line(*corners, look="frame")
    middle = ((box.left + right) / 2, (box.bottom + top) / 2)
    yield Word(tile.name, middle, 8.0, across="center", bold=True, warns=True)
