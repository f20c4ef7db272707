"""How large a sheet a drawing at full size needs, and in which tiles it goes on small ones; all in millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import Final, Literal

Paper = Literal["a4", "letter"]
INCH: Final = 25.4
A_SIZES: Final = {
    "A4": (210.0, 297.0), "A3": (297.0, 420.0), "A2": (420.0, 594.0), "A1": (594.0, 841.0), "A0": (841.0, 1189.0),
}  # ISO 216  # fmt: skip
SMALL: Final = {"a4": A_SIZES["A4"], "letter": (215.9, 279.4)}  # what printers at home take
MARGIN: Final = 10.0  # that a printer leaves white
OVERLAP: Final = 10.0  # of neighbouring tiles
LARGEST: Final = 3000.0  # of a sheet's side: what is drawn larger is no plate
MOST_TILES: Final = 60


@dataclass(frozen=True)
class Rectangle:
    """Left and bottom edge, width and height."""

    left: float
    bottom: float
    width: float
    height: float


@dataclass(frozen=True)
class Tile:
    """A part of a drawing on a page of its own: ``row`` from the top and ``column`` from the left, from 0."""

    row: int
    column: int
    shown: Rectangle

    @property
    def name(self) -> str:
        """As "2-3": second row, third column."""
        return f"{self.row + 1}-{self.column + 1}"


@dataclass(frozen=True)
class Tiling:
    """Pages of one size, (width, height), and the tiles on them, row by row."""

    paper: tuple[float, float]
    rows: int
    columns: int
    tiles: tuple[Tile, ...]


def sheet_for(width: float, height: float) -> tuple[str, tuple[float, float]]:
    """Name and size of the smallest sheet that holds so much between its margins; one to measure beyond A0."""
    for name, (short, long) in A_SIZES.items():
        for size in ((short, long), (long, short)):
            if width <= size[0] - 2 * MARGIN and height <= size[1] - 2 * MARGIN:
                return name, size
    size = (10.0 * ceil((width + 2 * MARGIN) / 10.0), 10.0 * ceil((height + 2 * MARGIN) / 10.0))
    return f"{size[0]:.0f} × {size[1]:.0f} mm", size


def tiled(drawn: Rectangle, paper: Paper = "a4") -> Tiling:
    """Tiles that cover what is drawn, upright or across, whichever needs fewer.

    Raises ValueError for more than MOST_TILES.
    """
    short, long = SMALL[paper]
    found = min((_laid(drawn, size) for size in ((short, long), (long, short))), key=lambda one: one[0] * one[1])
    rows, columns, size = found
    if rows * columns > MOST_TILES:
        raise ValueError(
            f"at full size it needs {rows * columns} pages of {paper.capitalize()}, more than {MOST_TILES}; is its "
            "unit right?"
        )
    return Tiling(size, rows, columns, tuple(_tiles(drawn, size, rows, columns)))


def _laid(drawn: Rectangle, size: tuple[float, float]) -> tuple[int, int, tuple[float, float]]:
    columns, rows = (
        max(1, ceil((span - OVERLAP) / (side - 2 * MARGIN - OVERLAP) - 1e-9))
        for span, side in zip((drawn.width, drawn.height), size, strict=True)
    )
    return rows, columns, size


def _tiles(drawn: Rectangle, size: tuple[float, float], rows: int, columns: int) -> Iterator[Tile]:
    wide, tall = (side - 2 * MARGIN for side in size)
    top = drawn.bottom + drawn.height
    for row in range(rows):
        for column in range(columns):
            left, high = drawn.left + column * (wide - OVERLAP), top - row * (tall - OVERLAP)
            yield Tile(row, column, Rectangle(left, high - tall, wide, tall))
