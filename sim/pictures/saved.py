"""Writing a finished figure: whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path
from typing import Any, Final

from sim.pictures.canvas import Canvas

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
    """Write beside the target first, then move into place, so that no half picture is ever found there."""
    kind = target.suffix.lower().removeprefix(".")
    options: dict[str, Any] = {"pil_kwargs": {"compress_level": 3}} if kind == "png" else {}
    options["metadata"] = {"Date": None} if kind == "svg" else {"CreationDate": None} if kind == "pdf" else None
    handle, name = tempfile.mkstemp(suffix=target.suffix, prefix=".picture-", dir=target.parent)
    os.close(handle)
    try:
        canvas.figure.savefig(name, format=kind, dpi=canvas.figure.dpi, **options)
        os.chmod(name, 0o644)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
