"""On which occasions a rig has to hang flat: at the start, at the last stop, and if asked so in other water.

At the last stop the diver is as ``hangflat weigh`` has it: little gas left, the wing no fuller than neutral asks for,
a quiet breath. In other water the lead is first put right, shared out as it is worn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal

from scenarios.models import Scenario
from sim.answers.weigh.ballast import (
    LEAD_DENSITY,
    LeadParts,
    in_water,
    lead_parts,
    net_buoyancy,
    neutral_lead,
    scaled,
    with_lead,
)
from sim.answers.weigh.conditions import Conditions, as_worn_at_the_stop
from sim.answers.weigh.report import kept_neutral, other_waters
from sim.assembly.refilled import gas_sources, near_empty, refilled
from sim.case import Case
from sim.rig import Rig
from sim.statics.field import soft_rig
from sim.statics.flat import FlatAnswer, flat_answer
from sim.telling.record import Told

WaterKind = Literal["sea", "fresh"]
STOP: Final = Conditions()


@dataclass(frozen=True)
class Outcome:
    """What a rig comes to, held flat."""

    moment: Annotated[float, Told("what turns the diver", "N m", plus="head-up", key="pitch_moment_nm")]
    wing_gas: Annotated[float, Told("gas in the wing", "l")]
    net_buoyancy: Annotated[float, Told("of the whole", "kg", plus="floats")]


@dataclass(frozen=True)
class Elsewhere:
    """The diver in other water, weighted for it."""

    water: Annotated[WaterKind, Told("which")]
    lead: Annotated[float, Told("lead that is right there, shared out as it is worn", "kg")]
    start: Annotated[Outcome, Told("as full as the file says, at the file's depth")]
    end: Annotated[Outcome, Told("at the last stop, with nearly empty cylinders")]


@dataclass(frozen=True)
class Met:
    """What a rig comes to on every occasion.

    surplus : lead worn beyond what makes neutral at the last stop, below 0 is missing; at most all that is worn [kg]
    """

    start: Outcome
    end: Outcome
    surplus: float
    elsewhere: tuple[Elsewhere, ...] = ()

    @property
    def moments(self) -> tuple[float, ...]:
        """On each occasion [N m], plus turns head-up."""
        others = (m for e in self.elsewhere for m in (e.start.moment, e.end.moment))
        return (self.start.moment, self.end.moment, *others)

    def less(self, other: Met) -> tuple[float, ...]:
        """How much more it turns on each occasion than another [N m]."""
        return tuple(there - here for there, here in zip(self.moments, other.moments, strict=True))

    @property
    def worst(self) -> float:
        """The largest of the moments, its size [N m]."""
        return max(abs(m) for m in self.moments)


def met(case: Case, waters: Sequence[WaterKind] = ()) -> Met:
    """The diver of a scenario on every occasion; ``waters`` : others to look at besides the file's own.

    Raises ScenarioError for what cannot be built.
    """
    scenario = case.scenario("")
    rig, end = case.rig, _at_the_stop(case)
    others = dict(other_waters(case, rig)) if waters else {}
    return Met(
        start=_outcome(flat_answer(soft_rig(rig))),
        end=_outcome(flat_answer(soft_rig(end))),
        surplus=_surplus(case, end),
        elsewhere=tuple(_elsewhere(kind, others[kind], scenario) for kind in dict.fromkeys(waters) if kind in others),
    )


def _surplus(case: Case, end: Rig) -> float:
    worn = tuple(p for p in case.rig.parts if p.kind == "lead")
    lead = LeadParts(worn, {}, _density(case.scenario(""))) if worn else lead_parts(case)
    return lead.worn_mass - neutral_lead(end, lead)[0]


def _at_the_stop(case: Case) -> Rig:
    sources = gas_sources(case.scenario(""))
    return refilled(kept_neutral(as_worn_at_the_stop(case, STOP).rig), near_empty(sources, STOP.pressure))


def _elsewhere(kind: WaterKind, case: Case, scenario: Scenario) -> Elsewhere:
    start, end = kept_neutral(case.rig), _at_the_stop(case)
    wanted = max(net_buoyancy(with_lead(end, [])), 0.0) / in_water(end, _density(scenario))
    worn = [p for p in end.parts if p.kind == "lead"]
    mass = float(sum(p.solid.mass for p in worn))
    right = [scaled(p, wanted / mass) for p in worn] if mass > 0.0 else lead_parts(case).spread(wanted)
    both = (_outcome(flat_answer(soft_rig(with_lead(rig, right)))) for rig in (start, end))
    return Elsewhere(kind, wanted, *both)


def _density(scenario: Scenario) -> float:
    return scenario.lead[0].density if scenario.lead else LEAD_DENSITY


def _outcome(flat: FlatAnswer) -> Outcome:
    return Outcome(flat.pitch_moment, flat.wing_gas, flat.net_buoyancy)
