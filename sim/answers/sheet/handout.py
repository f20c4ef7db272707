"""All answers that a hand-out tells, worked out once for each diver."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from scenarios.models import Scenario
from sim.answers.change.answer import ChangeAnswer, change_answer
from sim.answers.change.report import change_report
from sim.answers.compare.compared import Comparison, compared, named
from sim.answers.fit.answer import FitAnswer, fit_answer
from sim.answers.posture.posture import Posture, posture_of
from sim.answers.settle.report import SettleReport, report_of
from sim.answers.weigh.answer import WeighAnswer
from sim.answers.weigh.report import weigh_answer
from sim.answers.why.answer import WhyAnswer, why_answer
from sim.case import Case

MOST: Final = 40  # divers: a class, and as many as a reader of one document bears (assumed)
# Shares of the time that the steps for one diver take, measured on the demo divers
STEPS: Final = {"settle": 0.15, "why": 0.01, "weigh": 0.05, "posture": 0.05, "fit": 0.04, "change": 0.70}


@dataclass(frozen=True, eq=False)
class DiverAnswers:
    """What was worked out of one diver.

    name : short, of the file;  posture, change : None for a parts file, which tells no person
    fit : None without a person who wears a plate
    """

    name: str
    case: Case
    settle: SettleReport
    why: WhyAnswer
    weigh: WeighAnswer
    posture: Posture | None
    fit: FitAnswer | None
    change: ChangeAnswer | None


@dataclass(frozen=True, eq=False)
class Handout:
    """A hand-out's divers in the order given; ``comparison`` of two, None for one or a class."""

    divers: tuple[DiverAnswers, ...]
    comparison: Comparison | None


def handout(cases: Sequence[Case], progress: Callable[[float], None] = lambda _: None) -> Handout:
    """Work out all that is told of one diver, of two and their differences, or of a class.

    progress : told the share done, 0 to 1
    Raises ValueError for no case or more than MOST, ScenarioError for what cannot be built.
    """
    if not 1 <= len(cases) <= MOST:
        raise ValueError(f"a hand-out tells of 1 to {MOST} divers, got {len(cases)}")
    parts = len(cases) + (len(cases) == 2)
    names = named([case.path for case in cases])
    divers = tuple(
        _worked_out(case, name, lambda share, k=k: progress((k + share) / parts))  # type: ignore[misc]
        for k, (case, name) in enumerate(zip(cases, names, strict=True))
    )
    pair = compared(cases, lambda share: progress((2.0 + share) / parts)) if len(cases) == 2 else None
    return Handout(divers, pair)


def _worked_out(case: Case, name: str, progress: Callable[[float], None]) -> DiverAnswers:
    done = 0.0

    def step(what: str) -> None:
        nonlocal done
        done += STEPS[what]
        progress(done)

    person = isinstance(case.content, Scenario)
    settle = report_of(case.assembled)
    step("settle")
    why = why_answer(case)
    step("why")
    weigh = weigh_answer(case)
    step("weigh")
    posture = posture_of(case) if person else None
    step("posture")
    fit = None if case.worn is None else fit_answer(case.assembled)
    step("fit")
    change = change_answer(change_report(case)) if person else None
    step("change")
    return DiverAnswers(name, case, settle, why, weigh, posture, fit, change)
