"""All answers on fit for one diver and one plate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from sim.answers.fit.ashore import Ashore, ashore
from sim.answers.fit.look_ahead import AHEAD, LookAhead, look_ahead, look_ahead_margin
from sim.answers.fit.on_back import OnBack, on_back
from sim.answers.fit.reach import HandReach, out_of_reach, valve_reach
from sim.answers.fit.straps import Straps
from sim.answers.fit.verdict import Verdict
from sim.assembly.assembled import Assembled, Worn
from sim.telling.record import Kept, Told


@dataclass(frozen=True, eq=False)
class FitAnswer:
    """The answers; see the classes of its fields for units and frames.

    reach : of each valve, empty without cylinders on the back;  verdicts : every finding, in the order of telling
    """

    worn: Kept[Worn]
    on_back: Annotated[OnBack, Told("where the rig sits")]
    straps: Annotated[Straps, Told("the harness, for cutting webbing")]
    ashore: Annotated[Ashore, Told("the carry ashore")]
    reach: Annotated[tuple[HandReach, ...], Told("whether hands turn the valves")]
    look_ahead: Annotated[LookAhead, Told("what the eyes see")]
    verdicts: Kept[tuple[Verdict, ...]]


def fit_answer(assembled: Assembled) -> FitAnswer:
    """Everything that can be said on fit. Raises ValueError for a rig told by numbers, or worn without a plate."""
    worn = assembled.worn
    if worn is None:
        raise ValueError("fit needs a person with a plate on the back")
    on, hands, look = on_back(worn), valve_reach(worn), look_ahead(worn, assembled.rig)
    return FitAnswer(
        worn=worn,
        on_back=on,
        straps=on.straps,
        ashore=ashore(worn, assembled.rig.parts, on.place),
        reach=hands.hands,
        look_ahead=look,
        verdicts=(*on.verdicts, *hands.verdicts, *look.verdicts),
    )


def failing(worn: Worn) -> tuple[str, ...]:
    """Subjects of the verdicts of ``fit_answer`` that do not pass, in their order, and no more: quicker."""
    on = tuple(v.subject for v in on_back(worn).verdicts if v.passes is False)
    sees = look_ahead_margin(worn) >= 0.0
    return (*on, *out_of_reach(worn), *(() if sees else (AHEAD,)))
