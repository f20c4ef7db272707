"""A plate on the bench: read from whatever tells of one, and built."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from meshes.plate.back_plate import Plate
from scenarios.back_gear import Plate as PlateTable
from scenarios.errors import Problem, ScenarioError
from scenarios.materials import OTHER, Material, material
from scenarios.models import Scenario
from scenarios.plate_file import PlateFile, ReadPlate, read_plate
from scenarios.settings import Setting, setting_of, setting_to
from scenarios.toml_lines import key_lines, line_of
from sim.assembly.back_plate import plate_from
from sim.assembly.surroundings import surroundings


@dataclass(frozen=True, eq=False)
class BenchPlate:
    """A plate read and built.

    read : what tells of it;  plate : in its own frame;  water : density of the water to weigh it in [kg/m^3]
    """

    read: ReadPlate
    plate: Plate
    water: float

    @property
    def table(self) -> PlateTable:
        """What was written of it; SI."""
        return self.read.table

    @property
    def content(self) -> Scenario | PlateFile:
        """What the file was understood to say."""
        return self.read.content

    @property
    def path(self) -> Path:
        """Of the file, as given."""
        return self.read.path

    @property
    def name(self) -> str:
        """For reports: the file's title, or its name without folder and ending."""
        return self.content.title or (self.path.stem if self.path.suffix else str(self.path))

    @property
    def material(self) -> Material | None:
        """What it is made of; None for one that the table of materials does not have."""
        return None if self.table.material == OTHER else material(self.table.material)


def bench_plate(path: str | os.PathLike[str], settings: Iterable[str | Setting] = ()) -> BenchPlate:
    """The plate that a scenario, a file with [plate] alone, a drawing or a name of the catalogue tells of.

    settings : KEY=VALUE texts, as behind ``--set``: 'plate.thickness="4 mm"'
    Raises ScenarioError with every problem found.
    """
    read = read_plate(path, [one if isinstance(one, Setting) else setting_of(one) for one in settings])
    try:
        plate = plate_from(read.table)
    except ValueError as error:
        raise _blamed(read, error) from error
    return BenchPlate(read, plate, surroundings(read.water).density)


def option_settings(given: Sequence[tuple[str, str | None]]) -> list[Setting]:
    """Options such as ("thickness", "3 mm") as settings of [plate]; those that were not given are passed over."""
    found = []
    for key, text in given:
        if text is not None:
            value = setting_of(f"plate.{key}={text}").value if key == "bends" else text
            found.append(Setting(setting_to(f"plate.{key}", value).path, value, f"--{key} {text}"))
    return found


def blamed_on_options(error: ScenarioError) -> ScenarioError:
    """The same error, with options named as they were given."""
    problems = [
        Problem(p.place.removeprefix("--set "), p.message, p.key, p.line, p.source)
        if p.place.startswith("--set --")
        else p
        for p in error.problems
    ]
    return ScenarioError(problems)


def _blamed(read: ReadPlate, error: ValueError) -> ScenarioError:
    """A plate that cannot be built, with file and line; of a drawing by itself, how to give what it lacks."""
    text, said = read.file.text, str(error).removeprefix(f"{read.path.name}: ")
    if not text and " = " in said:
        said += " (behind the command: --unit, --bends, and --set 'plate.KEY=VALUE' for all other keys)"
    line = line_of(key_lines(text), ("plate",)) if text else None
    source = None if line is None else text.split("\n")[line - 1]
    return ScenarioError([Problem(read.file.name, said, "plate" if text else "", line, source)])
