"""Which file something was written to, as a line below an answer."""

from __future__ import annotations

from pathlib import Path
from typing import Final, Literal

from sim.said import word
from sim.telling.language import told

Written = Literal["Picture", "Chart", "Table", "Map", "Drawing", "Tiles", "Written", "Film", "Model", "Sheet"]
NAMES: Final[dict[Written, str]] = {
    "Picture": word("Picture"), "Chart": word("Chart"), "Table": word("Table"), "Map": word("Map"),
    "Drawing": word("Drawing"), "Tiles": word("Tiles"), "Written": word("Written"),
    "Film": word("Film"), "Model": word("Model"), "Sheet": word("Sheet"),
}  # fmt: skip


def file_line(what: Written, file: str | Path) -> str:
    """As "Picture: diver.png"."""
    return f"{told(NAMES[what])}: {file}"
