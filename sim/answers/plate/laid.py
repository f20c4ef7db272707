"""A plate from the bench laid on divers: a case with it in place of the plate worn there."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from scenarios.demos import demo_path
from scenarios.errors import Problem, ScenarioError, shortened
from scenarios.models import Scenario
from scenarios.reading import read_loaded
from scenarios.settings import Setting, setting_of, setting_to, with_settings
from sim.answers.fit.plates import asked_plates, plate_names
from sim.answers.plate.bench import BenchPlate, bench_plate
from sim.assembly.assembled import Worn
from sim.case import Case
from sim.said import note

# What people wear where the plate's file says nothing of it: the twin set of the demos, bands at their usual place
REFERENCE: Final = "small-woman-steel"
USUAL: Final = {"cylinders.shift": "0 cm"}
TABLES: Final = (".toml",)


@dataclass(frozen=True, eq=False)
class LaidPlate:
    """A plate on a diver: its name for reports, and the case that wears it."""

    name: str
    case: Case


def wearing(bench: BenchPlate, scenario: Path | None = None) -> Case:
    """Whose gear is worn with a plate: ``scenario``'s, that of the plate's own file, or the demos'.

    Raises ScenarioError for a file that is no scenario.
    """
    if scenario is not None:
        case = Case.read(scenario)
    elif isinstance(bench.content, Scenario):
        case = Case(read_loaded(bench.read.file, bench.read.settings))
    else:
        case = Case.read(demo_path(REFERENCE)).vary(USUAL)
    case.scenario("whom a plate suits hangs on what else is worn; a parts file does not say: give a scenario file")
    return case


def wears(bench: BenchPlate, scenario: Path | None = None) -> str:
    """What is worn with a plate besides it, in words: see ``wearing``."""
    if scenario is not None:
        return note("cylinders, suit and all else as in {file}", file=scenario.name)
    if isinstance(bench.content, Scenario):
        return note("cylinders, suit and all else as in {file}", file=bench.path.name)
    return note("the twin set, suit and all else of the demo {demo}, the bands at their usual place", demo=REFERENCE)


def laid(case: Case, bench: BenchPlate) -> LaidPlate:
    """The plate on the diver of a case. Raises ScenarioError for what cannot be worn."""
    return LaidPlate(bench.name, case.vary([setting_to("plate", plate_value(bench))]))


def laid_beside(case: Case, plates: Sequence[str]) -> tuple[LaidPlate, ...]:
    """Other plates on the same diver: catalogue entries, drawings with their keys, or files with [plate].

    Raises ScenarioError for a plate that there is not.
    """
    found = []
    for text, name in zip(plates, plate_names(plates), strict=True):
        first, *keys = (part.strip() for part in text.split(";"))
        if Path(first).suffix.lower() in TABLES:
            changes = [setting_of(f"plate.{key}") for key in keys if key]
            other = bench_plate(first, changes)
            found.append(replace(laid(case, other), name=other.content.title or name))
            continue
        try:
            (asked,) = asked_plates(case, [text])
            found.append(LaidPlate(name, case.vary(asked.settings)))
        except ScenarioError as error:
            place = f"--beside {shortened(text)}"
            raise ScenarioError([replace(p, place=place) for p in error.problems]) from None
    return tuple(found)


def plate_value(bench: BenchPlate) -> Any:
    """What ``plate = `` would say of it in a file anywhere: a name, or a table whose file is found from there."""
    read = bench.read
    value = with_settings(read.file.data, _plain(read.settings)).get("plate")
    if not isinstance(value, Mapping) or not isinstance(value.get("file"), str):
        return value
    return {**value, "file": os.path.abspath(read.path.parent / value["file"])}


def _plain(settings: Sequence[Setting]) -> list[Setting]:
    return [setting for setting in settings if setting.path[:1] == ("plate",)]


def worn_plate(plate: LaidPlate) -> Worn:
    """What the diver of a case wears. Raises ScenarioError for a case without a person or a plate."""
    if plate.case.worn is None:
        raise ScenarioError([Problem(str(plate.case.path), f'nobody wears the plate "{plate.name}" here', "plate")])
    return plate.case.worn
