"""The unit that a solid's file states for itself."""

from __future__ import annotations

import zipfile
from pathlib import Path
from types import MappingProxyType
from typing import Final
from xml.parsers import expat

# 3MF core specification 1.3, 3.4: the attribute "unit" of <model>, millimetres where there is none
NAMES_IN_3MF: Final = MappingProxyType(
    {"millimeter": "mm", "centimeter": "cm", "meter": "m", "inch": "in", "foot": "ft"}
)
MOST_READ: Final = 65_536  # bytes of a model part, at whose very head its unit stands


def unit_in_file(file: Path) -> str | None:
    """One of ``shape_file.UNITS``; None for a format that carries none, and for a unit that is not among them.

    GLB is in metres by its specification (glTF 2.0, 3.4).
    """
    kind = file.suffix.lower()
    if kind == ".glb":
        return "m"
    return _of_3mf(file) if kind == ".3mf" else None


def _of_3mf(file: Path) -> str | None:
    with zipfile.ZipFile(file) as archive:
        model = next((name for name in archive.namelist() if name.lower().endswith(".model")), None)
        if model is None:
            return None
        with archive.open(model) as stream:
            head = stream.read(MOST_READ)
    found: list[str | None] = []

    def begun(name: str, attributes: dict[str, str]) -> None:
        if not found:
            found.append(NAMES_IN_3MF.get(attributes.get("unit", "millimeter")))

    parser = expat.ParserCreate()
    parser.StartElementHandler = begun
    try:
        parser.Parse(head, False)
    except expat.ExpatError:  # one that the reader of the whole file forgives
        return None
    return found[0] if found else None
