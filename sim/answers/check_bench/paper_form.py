"""A form to print and write on: pages of A5 upright, laid out in millimetres from the upper left corner.

What stands on a page is plain data, so that a layout can be checked without drawing it; letters keep their size in
points, since a page is drawn at its true size.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.drawing.canvas import new_figure
from sim.drawing.letters import set_width, wrapped_to
from sim.drawing.own_style import own_style
from sim.drawing.stamp import stamp

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

WIDTH, HEIGHT = 148.0, 210.0  # mm, A5 upright by ISO 216
INCH: Final = 25.4  # mm
POINT: Final = INCH / 72.0  # mm
LINE_HEIGHT: Final = 1.28  # of the letters' size, from one line to the next
BLACK: Final = "#000000"
GREY: Final = "#5c5c5c"  # what is read at home, not in the water; dark enough for a cheap printer
WHITE: Final = "#ffffff"
Across = Literal["left", "center", "right"]


@dataclass(frozen=True)
class Text:
    """One line of words; ``at`` : where its baseline starts, is centred or ends [mm];  size [pt]."""

    text: str
    at: tuple[float, float]
    size: float
    across: Across = "left"
    bold: bool = False
    colour: str = BLACK
    fixed: bool = False  # letters of one width, for what is typed


@dataclass(frozen=True)
class Frame:
    """A box to write in (or, small, to tick): upper left corner and size [mm]; ``line`` its width [mm]."""

    left: float
    top: float
    width: float
    height: float
    line: float = 0.3


@dataclass(frozen=True, eq=False)
class Stroke:
    """A line through points (n, 2) [mm]."""

    points: Floats
    width: float = 0.3
    colour: str = BLACK
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Patch:
    """An area with rings (n, 2) [mm], filled by the even-odd rule."""

    rings: tuple[Floats, ...]
    fill: str | None = None
    edge: str | None = BLACK
    width: float = 0.25
    dashes: tuple[float, ...] = ()


Mark = Text | Frame | Stroke | Patch


@dataclass(frozen=True, eq=False)
class Block:
    """Marks that belong together, from their own upper left corner; ``height`` : how far down the next one starts."""

    height: float
    marks: tuple[Mark, ...] = field(default=())


def moved(mark: Mark, right: float, down: float) -> Mark:
    """The mark elsewhere [mm]."""
    if isinstance(mark, Text):
        return replace(mark, at=(mark.at[0] + right, mark.at[1] + down))
    if isinstance(mark, Frame):
        return replace(mark, left=mark.left + right, top=mark.top + down)
    if isinstance(mark, Stroke):
        return replace(mark, points=mark.points + np.array([right, down]))
    return replace(mark, rings=tuple(ring + np.array([right, down]) for ring in mark.rings))


def below_each_other(blocks: Iterable[Block], left: float = 0.0, top: float = 0.0) -> Block:
    """One block of all, each under the one before."""
    marks: list[Mark] = []
    down = top
    for block in blocks:
        marks += [moved(m, left, down) for m in block.marks]
        down += block.height
    return Block(down, tuple(marks))


def beside_each_other(*blocks: tuple[float, Block]) -> Block:
    """One block of all, each at its distance from the left [mm]."""
    marks = [moved(m, left, 0.0) for left, block in blocks for m in block.marks]
    return Block(max(block.height for _, block in blocks), tuple(marks))


def space(height: float) -> Block:
    """Nothing."""
    return Block(height)


def line_step(size: float) -> float:
    """From one line to the next [mm] at letters of ``size`` [pt]."""
    return LINE_HEIGHT * POINT * size


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a line [mm] at letters of ``size`` [pt]."""
    return POINT * set_width(text, size, bold=bold)


def paragraph(text: str, room: float, size: float, *, bold: bool = False, colour: str = BLACK) -> Block:
    """Words in as many lines as they need in ``room`` [mm]."""
    lines = wrapped_to(text, room / POINT, size, bold=bold)
    step = line_step(size)
    marks = [
        Text(line, (0.0, 0.78 * step + k * step), size, bold=bold, colour=colour) for k, line in enumerate(lines)
    ]
    return Block(step * len(lines), tuple(marks))


def numbered(sentences: Sequence[str], room: float, size: float, first: int = 1) -> Block:
    """Sentences with their numbers before them."""
    lead = width_of("0.  ", size)
    rows = []
    for k, sentence in enumerate(sentences, first):
        words = paragraph(sentence, room - lead, size)
        number = Text(f"{k}.", (0.0, 0.78 * line_step(size)), size, bold=True)
        rows += [Block(words.height, (number, *(moved(m, lead, 0.0) for m in words.marks))), space(0.5)]
    return below_each_other(rows)


def shortened(text: str, room: float, size: float, *, bold: bool = False) -> str:
    """The text, its end cut off where it is wider than ``room`` [mm]."""
    if width_of(text, size, bold=bold) <= room:
        return text
    kept = text
    while kept and width_of(kept.rstrip() + "…", size, bold=bold) > room:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def figure_of(page: Block) -> Figure:
    """The page drawn at its true size."""
    figure = new_figure((WIDTH / INCH, HEIGHT / INCH), 200, WHITE)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_xlim(0.0, WIDTH)
    axes.set_ylim(HEIGHT, 0.0)
    axes.set_axis_off()
    for order, mark in enumerate(page.marks):
        _draw(axes, mark, order)
    return figure


def write_pages(pages: Sequence[Block], target: Path, title: str) -> None:
    """Write the pages as one PDF with its fonts inside; the same pages give the same bytes.

    Drawn in memory first, so that a failure to draw leaves no file.
    """
    own_style()
    from matplotlib import rc_context
    from matplotlib.backends.backend_pdf import PdfPages

    drawn = io.BytesIO()
    with (
        rc_context({"pdf.fonttype": 42}),
        PdfPages(drawn, metadata={"Title": title, **stamp("pdf")}) as document,
    ):
        for page in pages:
            document.savefig(figure_of(page))
    target.write_bytes(drawn.getvalue())


def _draw(axes: Axes, mark: Mark, order: int) -> None:
    from matplotlib.lines import Line2D
    from matplotlib.patches import PathPatch, Rectangle
    from matplotlib.path import Path as Outline

    if isinstance(mark, Text):
        axes.text(
            *mark.at, mark.text, fontsize=mark.size, ha=mark.across, va="baseline", color=mark.colour, zorder=order,
            fontweight="bold" if mark.bold else "normal", parse_math=False,
            fontfamily="DejaVu Sans Mono" if mark.fixed else "DejaVu Sans",
        )  # fmt: skip
    elif isinstance(mark, Frame):
        axes.add_artist(
            Rectangle(
                (mark.left, mark.top), mark.width, mark.height, facecolor=WHITE, edgecolor=BLACK,
                linewidth=mark.line / POINT, zorder=order, joinstyle="miter",
            )
        )  # fmt: skip
    elif isinstance(mark, Stroke):
        line = Line2D(
            mark.points[:, 0].tolist(), mark.points[:, 1].tolist(), color=mark.colour, zorder=order,
            linewidth=mark.width / POINT, solid_capstyle="round", dash_capstyle="butt",
        )  # fmt: skip
        if mark.dashes:
            line.set_dashes([d / mark.width for d in mark.dashes])
        axes.add_artist(line)
    elif mark.rings:
        path = Outline.make_compound_path(*(Outline(ring, closed=True) for ring in mark.rings))
        patch = PathPatch(
            path, facecolor=mark.fill or "none", edgecolor=mark.edge or "none", zorder=order,
            linewidth=mark.width / POINT if mark.edge else 0.0, joinstyle="round",
        )  # fmt: skip
        if mark.dashes:
            patch.set_linestyle((0.0, [d / mark.width for d in mark.dashes]))
        axes.add_artist(patch)
