"""A plate without its diver: from a file with [plate] alone, a drawing, the catalogue, or a scenario."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field

from scenarios.back_gear import DRAWING_KINDS, FLAT_DRAWINGS, OptionalPlate, Plate
from scenarios.catalogue import entries
from scenarios.checking import checked
from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.reading import read_loaded
from scenarios.settings import Setting, with_settings
from scenarios.table import Table
from scenarios.toml_file import TomlFile, read_toml
from scenarios.water import Water

PLATE_FORMAT = "plate/1"


class PlateFile(Table):
    """What a file of a plate alone may say."""

    format: Annotated[Literal["plate/1"], Field(description="Kind of file; may be left out")] = "plate/1"
    title: Annotated[str | None, Field(description="A line for pictures and reports", max_length=120)] = None
    plate: Annotated[OptionalPlate, Field(description="The plate")]
    water: Annotated[Water, Field(description="Water to weigh it in")] = Water()


@dataclass(frozen=True)
class ReadPlate:
    """A plate as read.

    content : the file's checked model;  table : of the plate;  water : to weigh it in
    notes : what is odd about the file, as sentences
    file : as it stands on the disk;  settings : the what-ifs on it
    """

    content: Scenario | PlateFile
    table: Plate
    water: Water
    notes: tuple[str, ...]
    file: TomlFile
    settings: tuple[Setting, ...]

    @property
    def path(self) -> Path:
        """Of the file, as given."""
        return self.file.path


def read_plate(path: str | os.PathLike[str], settings: Sequence[Setting] = ()) -> ReadPlate:
    """A plate and the water to weigh it in, from whatever tells of one, with what-ifs.

    path : a scenario, a file with [plate] alone, a drawing, or an entry of the catalogue
    Raises ScenarioError with every problem found, and for a file that tells of no plate.
    """
    place, changes = Path(path), tuple(settings)
    if place.suffix.lower() in DRAWING_KINDS:
        file = TomlFile(place, "", {"plate": {"file": place.name}})
        _ask(place, with_settings(file.data, changes)["plate"])
    elif not place.exists() and str(path).lower() in entries("plate"):
        file = TomlFile(place, "", {"plate": {"catalogue": str(path).lower()}})
    else:
        file = read_toml(place)
    content, notes = _content(file, changes)
    if content.plate is None:
        message = 'there is no plate in it; add [plate] with catalogue = "standard steel" or file = "mine.dxf"'
        raise ScenarioError([Problem(file.name, message, "plate")])
    return ReadPlate(content, content.plate, content.water, notes, file, changes)


def _content(file: TomlFile, settings: tuple[Setting, ...]) -> tuple[Scenario | PlateFile, tuple[str, ...]]:
    """The model, and notes. Raises ScenarioError for a parts file, too, which holds numbers alone."""
    named = file.data.get("format")
    if "diver" in file.data or "part" in file.data or named not in (None, PLATE_FORMAT):
        loaded = read_loaded(file, settings)
        if isinstance(loaded.content, PartsFile):
            message = "a parts file holds numbers, not the shape of a plate; give a scenario, or a file with [plate]"
            raise ScenarioError([Problem(file.name, message)])
        return loaded.content, loaded.notes
    document, folder = with_settings(file.data, settings), str(file.path.parent)
    return checked(PlateFile, document, name=file.name, text=file.text, settings=settings, folder=folder), ()


def _ask(drawing: Path, table: Mapping[str, Any]) -> None:
    """Raises ScenarioError that asks for all that no drawing says, at once."""
    if not drawing.is_file():
        raise ScenarioError([Problem(str(drawing), "there is no such file; check the name and the folder")])
    if "catalogue" in table:
        return
    made_of, thick = "material" in table, drawing.suffix.lower() not in FLAT_DRAWINGS or "thickness" in table
    if not made_of:
        unsaid = _NEITHER if not thick else _NO_MATERIAL
    elif not thick:
        unsaid = _NO_THICKNESS
    else:
        return
    raise ScenarioError([Problem(str(drawing), unsaid)])


_NO_MATERIAL = (
    'the drawing does not say what it is made of (--material "stainless steel"; hangflat catalogue materials lists '
    "them)"
)
_NO_THICKNESS = 'the drawing does not say how thick its sheet is (--thickness "3 mm")'
_NEITHER = (
    'the drawing does not say what it is made of (--material "stainless steel"; hangflat catalogue materials lists '
    'them), nor how thick its sheet is (--thickness "3 mm")'
)
