"""Everything that ``hangflat fit`` says of one diver with one or several plates: ``hangflat.fit/1``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from scenarios.quantities import SI
from sim.answers.fit.answer import FitAnswer, fit_answer
from sim.answers.fit.plates import AskedPlate, asked_plates, blaming_plate, wearing_plate
from sim.answers.fit.set_up import SetUp, set_ups
from sim.answers.fit.sweep import FitSweep
from sim.answers.fit.told.people import PeopleFit
from sim.answers.fit.told.set_up import SetUpFit, set_up_fit
from sim.answers.fit.verdict import Verdict
from sim.case import Case
from sim.telling.caution import CAUTION
from sim.telling.drawn_plate import DrawnPlate, told_drawn_plate
from sim.telling.made_by import MadeBy
from sim.telling.record import Kept, Told
from sim.telling.written_file import WrittenFile


@dataclass(frozen=True, eq=False, kw_only=True)
class PlateFit:
    """One plate on the diver.

    case : the diver with it
    """

    case: Kept[Case]
    name: Annotated[str, Told("its name", key="plate")]
    drawn_plate: Annotated[DrawnPlate | None, Told("what was read off its drawing", none="no drawing shows it")]
    answer: Annotated[FitAnswer, Told("where it sits, and what hands and eyes reach", beside=True)]
    set_up: Annotated[SetUpFit | None, Told("how to wear it so that it passes", none="without a harness")]
    verdicts: Annotated[tuple[Verdict, ...], Told("every finding")]
    notes: Annotated[tuple[str, ...], Told("plain sentences")]


@dataclass(frozen=True, eq=False, kw_only=True)
class FitReport:
    """All that is told.

    Points (3,) are in body axes (x to the head, y to the left, z to the back, from midway between the hip joints,
    trunk standing), so that a height is an x. A margin is what is left before something fails, below 0 what is
    missing. Fields may be added, never renamed or removed under this format number.
    """

    format: Annotated[str, Told("hangflat.fit/1")] = "hangflat.fit/1"
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("of the file")]
    plates: Annotated[tuple[PlateFit, ...], Told("each plate")]
    estimated: Annotated[tuple[str, ...], Told("names of inputs that were estimated, not given")]
    caution: Annotated[str, Told("the caution")] = CAUTION
    picture: Annotated[WrittenFile | None, Told("the drawing", left_out=True)] = None
    sweep: Annotated[FitSweep | None, Told("the trade-off over a length", left_out=True)] = None
    people: Annotated[PeopleFit | None, Told("for whom the plates pass", left_out=True)] = None


def fit_report(case: Case, plates: Sequence[str] = ()) -> FitReport:
    """Answers for a scenario with its own plate, or with each of ``plates`` in its place.

    A plate is a catalogue entry or the path of a drawing; ``; KEY=VALUE`` behind it sets keys of the table [plate],
    see ``asked_plates``.
    Raises ScenarioError for what cannot be built, for a parts file, and for a diver without a plate.
    """
    fits = tuple(_fitted(case, plate) for plate in asked_plates(case, plates))
    first = fits[0].case.assembled
    return FitReport(title=first.title, plates=fits, estimated=first.estimated)


def _fitted(case: Case, plate: AskedPlate) -> PlateFit:
    with blaming_plate(plate):
        dressed = case.vary(plate.settings)
        answer = fit_answer(wearing_plate(dressed))
    return PlateFit(
        case=dressed,
        name=plate.name,
        drawn_plate=told_drawn_plate(dressed.assembled, plate.taken),
        answer=answer,
        set_up=_set_up(dressed, answer),
        verdicts=answer.verdicts,
        notes=dressed.assembled.notes,
    )


def _set_up(case: Case, answer: FitAnswer) -> SetUpFit | None:
    """The nearest set-up that will do, with all its answers; None without a harness to adjust."""
    if not any(part.kind == "harness" for part in case.rig.parts):
        return None
    found = set_ups(answer.worn)
    if found.nearest is None or found.nearest is found.as_worn:
        return set_up_fit(found, answer, None if found.nearest is None else answer)
    changed = wearing_plate(case.vary(_changes(found.nearest, found.as_worn)))
    return set_up_fit(found, answer, fit_answer(changed))


def _changes(wanted: SetUp, worn: SetUp) -> dict[str, SI]:
    """What of a case is varied to wear a rig as wanted which is now as worn.

    Nothing is said of cylinders that stay where they are: there may be none.
    """
    moved = {} if wanted.shift == worn.shift else {"cylinders.shift": SI(wanted.shift)}
    return {"harness.drop": SI(wanted.drop), **moved}
