"""Writing a finished figure."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from sim.drawing.canvas import Canvas
from sim.drawing.stamp import stamp

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ENDINGS: Final = (".png", ".svg", ".pdf")


def checked_path(path: str | Path) -> Path:
    """The path, if a picture can go there. Raises ValueError for its ending, FileNotFoundError for its folder."""
    target = Path(path)
    if target.suffix.lower() not in ENDINGS:
        raise ValueError(f"a picture ends in {', '.join(ENDINGS)}, got {target.name!r}")
    if not target.parent.is_dir():
        raise FileNotFoundError(f"there is no folder {str(target.parent)!r} to put the picture in")
    return target


def save(canvas: Canvas, target: Path) -> None:
    """Write a canvas; see ``save_figure``."""
    save_figure(canvas.figure, target)


def save_figure(figure: Figure, target: Path, *, dpi: float | None = None) -> None:
    """Draw in memory, then write, so that a failure to draw leaves no file; the same scene gives the same bytes.

    dpi : dots an inch of a PNG, the figure's own if left out
    The file says what it was made by, as ``stamp`` has it.
    """
    from matplotlib import rc_context

    kind = target.suffix.lower().removeprefix(".")
    options: dict[str, Any] = {"pil_kwargs": {"compress_level": 3}} if kind == "png" else {}
    drawn = io.BytesIO()
    with rc_context({"svg.hashsalt": "hangflat", "pdf.fonttype": 42}):
        figure.savefig(drawn, format=kind, dpi=dpi or figure.dpi, metadata=stamp(kind), **options)
    target.write_bytes(drawn.getvalue())


def save_pages(figures: Sequence[Figure], target: Path) -> None:
    """Write figures as the pages of one PDF, in memory first, like ``save_figure``."""
    from matplotlib.backends.backend_pdf import PdfPages

    drawn = io.BytesIO()
    with PdfPages(drawn, metadata=stamp("pdf")) as pages:
        for figure in figures:
            pages.savefig(figure)
    target.write_bytes(drawn.getvalue())
