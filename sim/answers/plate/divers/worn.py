"""One diver with one plate: the answers that a plate moves, as numbers."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Annotated, Any, Final

import numpy as np

from sim.answers.fit.answer import found_on
from sim.answers.fit.ashore import ashore
from sim.answers.fit.demands.plate_bottom import PLATE_BOTTOM
from sim.answers.fit.demands.plate_top import PLATE_TOP
from sim.answers.fit.demands.plate_width import PLATE_WIDTH
from sim.answers.fit.demands.shoulder_straps import SHOULDER_STRAPS
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.weigh.ballast import LEAD_DENSITY, in_water, lead_parts, neutral_lead
from sim.answers.weigh.conditions import Conditions, as_worn_at_the_stop
from sim.assembly.refilled import gas_sources, near_empty, refilled
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.record import Told

AT_THE_END: Final = Conditions()


@dataclass(frozen=True)
class WornAnswers:
    """What is found of a diver with a plate."""

    start_moment: Annotated[
        float, Told("what turns the diver held flat, cylinders as told", "N m", plus="turns head-up")
    ]
    end_moment: Annotated[float, Told("the same at 50 bar", "N m", plus="turns head-up")]
    lead: Annotated[
        float,
        Told("that makes the diver neutral at the last stop; below 0 they are too heavy by so much lead", "kg"),
    ]
    looks: Annotated[float, Told("how high the eyes look, held flat: 0 straight ahead", "deg", plus="above it")]
    reach: Annotated[
        float | None,
        Told("what the hand has to spare at the valve hardest to reach", "m", none="no valve in its way"),
    ]
    straps: Annotated[
        float, Told("what is left before a strap is on the shoulder's ball, on the neck or below its slot", "m")
    ]
    length: Annotated[
        float, Told("what is left before the plate's lower edge is too near the buttocks, or its top too high", "m")
    ]
    width: Annotated[float, Told("what is left before the plate is wider than the back under it, each side", "m")]
    carried: Annotated[float, Told("rig and lead on the belt, carried ashore", "kg")]
    lean: Annotated[float, Told("forward lean that balances it, stiff from the ankles", "deg")]


def worn_answers(case: Case) -> WornAnswers:
    """What is found. Raises ValueError for a case without a person or a plate, ScenarioError for what cannot be."""
    found, (start, end) = found_on(case.assembled), turning(case)
    carried = ashore(found.worn, case.rig.parts, found.on_back.place)
    reach = VALVE_REACH.margin(found)
    return WornAnswers(
        start_moment=start,
        end_moment=end,
        lead=_lead(case),
        looks=found.look_ahead.ahead,
        reach=reach if np.isfinite(reach) else None,
        straps=SHOULDER_STRAPS.margin(found),
        length=min(PLATE_BOTTOM.margin(found), PLATE_TOP.margin(found)),
        width=PLATE_WIDTH.margin(found),
        carried=carried.carried,
        lean=carried.lean_from_ankles,
    )


def turning(case: Case) -> tuple[float, float]:
    """What turns the diver held flat [N m], plus head-up: cylinders as told, and near empty."""
    emptied = near_empty(gas_sources(case.scenario("")), AT_THE_END.pressure)
    return tuple(flat_answer(soft_rig(rig)).pitch_moment for rig in (case.rig, refilled(case.rig, emptied)))  # type: ignore[return-value]


def difference(after: WornAnswers, before: WornAnswers) -> WornAnswers:
    """How much each answer moved; None where one of the two has none."""
    return WornAnswers(**{f.name: _less(getattr(after, f.name), getattr(before, f.name)) for f in fields(after)})


def _less(after: float | None, before: float | None) -> Any:
    return None if after is None or before is None else after - before


def _lead(case: Case) -> float:
    """Lead [kg] for neutral at the last stop, wing empty; what is too heavy counts as lead, below 0."""
    stop = as_worn_at_the_stop(case, AT_THE_END)
    end = refilled(stop.rig, near_empty(gas_sources(case.scenario("")), AT_THE_END.pressure))
    lead, heavy = neutral_lead(end, lead_parts(case))
    return lead - heavy / in_water(end, LEAD_DENSITY)
