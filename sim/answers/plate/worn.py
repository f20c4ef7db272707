"""What a plate does to people, added to what is said of the plate itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from sim.answers.plate.answer import PlateAnswer
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.laid import laid, laid_beside, wearing, wears

if TYPE_CHECKING:
    from sim.answers.plate.design.brief import Group

OF_EACH = 20  # women and men for whom a plate is searched; each is worked out with some fifty plates


def on_people(
    answer: PlateAnswer, bench: BenchPlate, people: int = 0, beside: Sequence[str] = (), *, divers: bool = False,
    change: bool = False, design: Group | None = None, most_mass: float | None = None,
) -> PlateAnswer:  # fmt: skip
    """The answer with whom it suits, what it does to divers, what to change and a better one, as asked.

    Raises ScenarioError for what cannot be worn, ValueError for people below 0.
    """
    if people:
        from sim.answers.plate.suits.run import drawn_suited
        from sim.answers.plate.suits.told import people_told

        case = wearing(bench)
        suited = drawn_suited((laid(case, bench), *laid_beside(case, beside)), people)
        answer = replace(answer, people=people_told(suited, wears(bench)))
    if divers or change:
        from sim.answers.plate.change.answer import change_told
        from sim.answers.plate.divers.answer import divers_told, reference_divers

        cases = reference_divers(bench)
        answer = replace(answer, divers=divers_told(bench, cases)) if divers else answer
        answer = replace(answer, change=change_told(bench, cases)) if change else answer
    if design is not None:
        from sim.answers.plate.design.answer import design_told
        from sim.answers.plate.design.brief import group_brief
        from sim.answers.plate.design.search import searched

        brief = group_brief(bench, (), design, OF_EACH, most_mass)
        found = searched(brief, wearing(bench))
        answer = replace(answer, design=design_told(brief, found, wears(bench)))
    return answer
