"""Everything that ``hangflat fit`` says of one diver with one or several plates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from scenarios.errors import Problem, ScenarioError
from sim.assembly.assembled import Assembled
from sim.assembly.from_file import assembled_from_file
from sim.assembly.scenario_rig import Wearer
from sim.fit.answer import FitAnswer, fit_answer


@dataclass(frozen=True, eq=False)
class PlateFit:
    """One plate on the diver: its name, the rig with it, and the answers."""

    name: str
    assembled: Assembled
    answer: FitAnswer


def fit_report(path: Path, settings: Sequence[str] = (), plates: Sequence[str] = ()) -> tuple[PlateFit, ...]:
    """Answers for a scenario file with its own plate, or with each of ``plates`` in its place.

    A plate is a catalogue entry or the path of a drawing; ``; KEY=VALUE`` behind it sets keys of the table [plate].
    Raises ScenarioError for input that cannot be read, for a parts file, and for a diver without a plate.
    """
    if not plates:
        return (_fitted(path, "the plate of the file", settings),)
    return tuple(_fitted(path, plate, (*settings, *plate_settings(plate))) for plate in plates)


def plate_settings(plate: str) -> tuple[str, ...]:
    """The ``--set`` what-ifs that put a plate on: "small steel; mass=2.2 kg", "mine.dxf; unit=mm"."""
    name, *keys = (part.strip() for part in plate.split(";"))
    is_file = Path(name).suffix.lower() in (".dxf", ".svg", ".stl", ".3mf", ".glb", ".step", ".stp", ".obj", ".ply")
    first = f'plate.file="{Path(name).resolve()}"' if is_file else f"plate={name}"
    return (first, *(f"plate.{key}" for key in keys if key))


def _fitted(path: Path, name: str, settings: Sequence[str]) -> PlateFit:
    assembled = worn_from_file(path, settings)
    return PlateFit(name, assembled, fit_answer(assembled))


def worn_from_file(path: Path, settings: Sequence[str], wearer: Wearer | None = None) -> Assembled:
    """A rig with a person and a plate. Raises ScenarioError for any other, saying what is missing."""
    assembled = assembled_from_file(path, settings, wearer)
    if assembled.looks is None:
        raise ScenarioError([Problem(str(path), "fit needs a person; a parts file has none: give a scenario file")])
    if assembled.worn is None:
        message = 'fit needs a plate; add [plate] with catalogue = "standard steel", or give --plate'
        raise ScenarioError([Problem(str(path), message, "plate")])
    return assembled
