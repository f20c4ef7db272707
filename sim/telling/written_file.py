"""A file that was written beside an answer, as the answer names it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from sim.telling.record import Told


@dataclass(frozen=True)
class WrittenFile:
    """A picture, chart or table that was asked for."""

    file: Annotated[str, Told("where it was written")]


def written(path: Path | None) -> WrittenFile | None:
    """None where nothing was asked for."""
    return None if path is None else WrittenFile(str(path))
