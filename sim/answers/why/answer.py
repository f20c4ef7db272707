"""Which item turns the diver held flat: ``hangflat.why/1``, worked out and as it is told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.settle.answer import Item, WaterThere, Whole
from sim.answers.settle.told import item_told, water_told, whole_told
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget
from sim.telling.caution import CAUTION
from sim.telling.drawn_plate import DrawnPlate, told_drawn_plate
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.why/1"


@dataclass(frozen=True)
class Moments:
    """What turns the diver held flat, face down, about the held point."""

    pitch_moment: Annotated[float, Told("the trimming moment", "N m", plus="head-up")]
    roll_moment: Annotated[float, Told("what rolls the diver", "N m", plus="lifts the left side")]


@dataclass(frozen=True, kw_only=True, eq=False)
class WhyAnswer:
    """The moment budget."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("of the file")]
    drawn_plate: Annotated[DrawnPlate | None, Told("the plate as drawn", none="no drawing shows it")]
    water: Annotated[WaterThere, Told("the water about the diver")]
    whole: Annotated[Whole, Told("diver, gear and gas together, held flat")]
    flat: Annotated[Moments, Told("the diver held flat, face down")]
    items: Annotated[tuple[Item, ...], Told("each thing worn, largest moment first; they add up to the flat's")]
    estimated: Annotated[tuple[str, ...], Told("inputs that were estimated, not given")]
    notes: Annotated[tuple[str, ...], Told("sentences on the rig")]
    caution: Annotated[str, Told("what this is not")] = CAUTION
    chart: Annotated[WrittenFile | None, Told("the chart, where one was asked for", left_out=True)] = None


def why_answer(case: Case) -> WhyAnswer:
    """Moment budget of a case. Raises ScenarioError for what cannot be built."""
    assembled, soft = case.assembled, soft_rig(case.rig)
    flat = flat_answer(soft)
    return WhyAnswer(
        title=assembled.title,
        drawn_plate=told_drawn_plate(assembled),
        water=water_told(assembled.rig.water),
        whole=whole_told(flat),
        flat=Moments(flat.pitch_moment, flat.roll_moment),
        items=tuple(item_told(i) for i in sorted(moment_budget(soft, flat), key=lambda i: -abs(i.moment))),
        estimated=tuple(assembled.estimated),
        notes=tuple(assembled.notes),
    )
