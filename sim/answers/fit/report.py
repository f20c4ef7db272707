"""Everything that ``hangflat fit`` says of one diver with one or several plates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from scenarios.errors import Problem, ScenarioError
from sim.answers.fit.answer import FitAnswer, fit_answer
from sim.answers.fit.plates import AskedPlate, asked_plates, blaming_plate
from sim.answers.fit.set_up import set_ups
from sim.answers.fit.told.set_up import SetUpFit, set_up_changes
from sim.assembly.assembled import Assembled
from sim.case import Case


@dataclass(frozen=True, eq=False)
class PlateFit:
    """One plate on the diver: its name, the diver with it, the answers, and how to wear it (None without harness).

    taken : what was not given with a drawing and is the file's own plate's, in words
    """

    name: str
    case: Case
    answer: FitAnswer
    set_up: SetUpFit | None
    taken: tuple[str, ...] = ()

    @property
    def assembled(self) -> Assembled:
        """The rig with it."""
        return self.case.assembled


def fit_report(case: Case, plates: Sequence[str] = ()) -> tuple[PlateFit, ...]:
    """Answers for a scenario with its own plate, or with each of ``plates`` in its place.

    A plate is a catalogue entry or the path of a drawing; ``; KEY=VALUE`` behind it sets keys of the table [plate],
    see ``fit_plates``.
    Raises ScenarioError for what cannot be built, for a parts file, and for a diver without a plate.
    """
    return tuple(_fitted(case, plate) for plate in asked_plates(case, plates))


def _fitted(case: Case, plate: AskedPlate) -> PlateFit:
    with blaming_plate(plate):
        dressed = case.vary(plate.settings)
        answer = fit_answer(wearing_plate(dressed))
    return PlateFit(plate.name, dressed, answer, _set_up(dressed, answer), plate.taken)


def _set_up(case: Case, answer: FitAnswer) -> SetUpFit | None:
    """The nearest set-up that will do, with all its answers; None without a harness to adjust."""
    if not any(part.kind == "harness" for part in case.rig.parts):
        return None
    found = set_ups(answer.worn)
    if found.nearest is None or found.nearest is found.as_worn:
        return SetUpFit(found, answer, None if found.nearest is None else answer)
    changed = wearing_plate(case.vary(set_up_changes(found.nearest, found.as_worn)))
    return SetUpFit(found, answer, fit_answer(changed))


def wearing_plate(case: Case) -> Assembled:
    """A rig with a person and a plate. Raises ScenarioError for any other, saying what is missing."""
    case.scenario("fit needs a person; a parts file has none: give a scenario file")
    if case.worn is None:
        message = 'fit needs a plate; add [plate] with catalogue = "standard steel", or give --plate'
        raise ScenarioError([Problem(str(case.path), message, "plate")])
    return case.assembled
