"""All answers on fit for one diver and one plate."""

from __future__ import annotations

from dataclasses import dataclass

from sim.answers.fit.ashore import Ashore, ashore
from sim.answers.fit.look_ahead import AHEAD, LookAhead, look_ahead, look_ahead_margin
from sim.answers.fit.on_back import OnBack, on_back
from sim.answers.fit.reach import Reach, out_of_reach, valve_reach
from sim.answers.fit.verdict import Verdict
from sim.assembly.assembled import Assembled, Worn


@dataclass(frozen=True, eq=False)
class FitAnswer:
    """The answers; see the classes of its fields for units and frames."""

    worn: Worn
    on_back: OnBack
    ashore: Ashore
    reach: Reach
    look_ahead: LookAhead

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """Every finding, in the order in which they are told."""
        return (*self.on_back.verdicts, *self.reach.verdicts, *self.look_ahead.verdicts)


def fit_answer(assembled: Assembled) -> FitAnswer:
    """Everything that can be said on fit. Raises ValueError for a rig told by numbers, or worn without a plate."""
    worn = assembled.worn
    if worn is None:
        raise ValueError("fit needs a person with a plate on the back")
    on = on_back(worn)
    return FitAnswer(
        worn=worn,
        on_back=on,
        ashore=ashore(worn, assembled.rig.parts, on.place),
        reach=valve_reach(worn),
        look_ahead=look_ahead(worn, assembled.rig),
    )


def failing(worn: Worn) -> tuple[str, ...]:
    """Subjects of the verdicts of ``fit_answer`` that do not pass, in their order, and no more: quicker."""
    on = tuple(v.subject for v in on_back(worn).verdicts if v.passes is False)
    sees = look_ahead_margin(worn) >= 0.0
    return (*on, *out_of_reach(worn), *(() if sees else (AHEAD,)))
