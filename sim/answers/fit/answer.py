"""All answers on fit for one diver and one plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from sim.answers.fit.ashore import Ashore, ashore
from sim.answers.fit.demands.every import failing_of, verdicts_of
from sim.answers.fit.found import Found
from sim.answers.fit.look_ahead import LookAhead
from sim.answers.fit.on_back import OnBack
from sim.answers.fit.reach import HandReach
from sim.answers.fit.straps import Straps
from sim.answers.fit.verdict import Verdict
from sim.assembly.assembled import Assembled, Worn
from sim.telling.record import Kept, Told


@dataclass(frozen=True, eq=False)
class FitAnswer:
    """The answers; see the classes of its fields for units and frames.

    reach, slung : of valves on the back and of those that hang;  verdicts : every finding, in the order of telling
    """

    worn: Kept[Worn]
    on_back: Annotated[OnBack, Told("where the rig sits")]
    straps: Annotated[Straps, Told("the harness, for cutting webbing")]
    ashore: Annotated[Ashore, Told("the carry ashore")]
    reach: Annotated[tuple[HandReach, ...], Told("whether hands turn the valves")]
    slung: Annotated[
        tuple[HandReach, ...], Told("the same of cylinders that hang at the side or under the chest, arms from below")
    ]
    look_ahead: Annotated[LookAhead, Told("what the eyes see")]
    verdicts: Kept[tuple[Verdict, ...]]


def fit_answer(assembled: Assembled) -> FitAnswer:
    """Everything that can be said on fit. Raises ValueError for a rig told by numbers, or worn without a plate."""
    found = found_on(assembled)
    return FitAnswer(
        worn=found.worn,
        on_back=found.on_back,
        straps=found.on_back.straps,
        ashore=ashore(found.worn, assembled.rig.parts, found.on_back.place),
        reach=found.reach,
        slung=found.slung,
        look_ahead=found.look_ahead,
        verdicts=verdicts_of(found),
    )


def failing(assembled: Assembled) -> tuple[str, ...]:
    """Subjects of the verdicts of ``fit_answer`` that do not pass, in their order, and no more: quicker.

    Raises ValueError as ``fit_answer`` does.
    """
    return failing_of(found_on(assembled))


def found_on(assembled: Assembled) -> Found:
    """What is found on the diver of a rig. Raises ValueError for a rig told by numbers, or worn without a plate."""
    if assembled.worn is None:
        raise ValueError("fit needs a person with a plate on the back")
    return Found(assembled.worn, assembled.rig)
