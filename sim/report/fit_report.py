"""Everything that ``hangflat fit`` says of one diver with one or several plates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from scenarios.errors import Problem, ScenarioError
from scenarios.settings import SAME_THING, setting_of
from sim.assembly.assembled import Assembled
from sim.assembly.from_file import assembled_from_file, wearer_from_file
from sim.assembly.scenario_rig import Wearer
from sim.fit.answer import FitAnswer, fit_answer
from sim.fit.set_up import set_ups
from sim.report.fit_plates import AskedPlate, asked_plates, blaming_plate
from sim.report.fit_set_up import SetUpFit, set_up_settings

HEIGHTS: Final = tuple(SAME_THING)  # keys, either of which says how low a rig hangs


@dataclass(frozen=True, eq=False)
class PlateFit:
    """One plate on the diver: its name, the rig with it, the answers, and how to wear it (None without harness).

    taken : what was not given with a drawing and is the file's own plate's, in words
    """

    name: str
    assembled: Assembled
    answer: FitAnswer
    set_up: SetUpFit | None
    taken: tuple[str, ...] = ()


def fit_report(path: Path, settings: Sequence[str] = (), plates: Sequence[str] = ()) -> tuple[PlateFit, ...]:
    """Answers for a scenario file with its own plate, or with each of ``plates`` in its place.

    A plate is a catalogue entry or the path of a drawing; ``; KEY=VALUE`` behind it sets keys of the table [plate],
    see ``fit_plates``.
    Raises ScenarioError for input that cannot be read, for a parts file, and for a diver without a plate.
    """
    wearer = wearer_from_file(path, settings)
    return tuple(_fitted(path, plate, settings, wearer) for plate in asked_plates(path, settings, plates))


def _fitted(path: Path, plate: AskedPlate, settings: Sequence[str], wearer: Wearer | None) -> PlateFit:
    put = (*settings, *plate.settings)
    with blaming_plate(plate):
        assembled = worn_from_file(path, put, wearer)
    answer = fit_answer(assembled)
    return PlateFit(plate.name, assembled, answer, _set_up(path, put, wearer, assembled, answer), plate.taken)


def _set_up(
    path: Path, settings: Sequence[str], wearer: Wearer | None, assembled: Assembled, answer: FitAnswer
) -> SetUpFit | None:
    """The nearest set-up that will do, with all its answers; None without a harness to adjust."""
    if not any(part.kind == "harness" for part in assembled.rig.parts):
        return None
    found = set_ups(answer.worn)
    if found.nearest is None or found.nearest is found.as_worn:
        return SetUpFit(found, answer, None if found.nearest is None else answer)
    changed = worn_from_file(
        path, (*without_height(settings), *set_up_settings(found.nearest, found.as_worn)), wearer
    )
    return SetUpFit(found, answer, fit_answer(changed))


def without_height(settings: Sequence[str]) -> tuple[str, ...]:
    """The what-ifs less those that say how low the rig hangs, which another is about to say."""
    return tuple(s for s in settings if setting_of(s).path not in HEIGHTS)


def worn_from_file(path: Path, settings: Sequence[str], wearer: Wearer | None = None) -> Assembled:
    """A rig with a person and a plate. Raises ScenarioError for any other, saying what is missing."""
    assembled = assembled_from_file(path, settings, wearer)
    if assembled.looks is None:
        raise ScenarioError([Problem(str(path), "fit needs a person; a parts file has none: give a scenario file")])
    if assembled.worn is None:
        message = 'fit needs a plate; add [plate] with catalogue = "standard steel", or give --plate'
        raise ScenarioError([Problem(str(path), message, "plate")])
    return assembled
