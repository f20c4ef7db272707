"""On which occasions a rig has to hang flat: at the start, at the last stop, and if asked so in other water.

At the last stop the diver is as ``hangflat weigh`` has it: little gas left, the wing no fuller than neutral asks for,
a quiet breath. In other water the lead is first put right: less of what is worn, or more on the belt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal

from sim.answers.weigh.ballast import LeadParts, lead_parts, neutral_lead, with_lead
from sim.answers.weigh.conditions import Conditions
from sim.answers.weigh.report import kept_neutral, other_waters
from sim.answers.weigh.weighing import rig_at_the_stop
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
    lead: Annotated[float, Told("lead that is right there: less of what is worn, or more of it on the belt", "kg")]
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


def met(case: Case, waters: Sequence[WaterKind] = (), places: LeadParts | None = None) -> Met:
    """The diver of a scenario on every occasion.

    waters : others to look at besides the file's own
    places : where lead could lie, if known: the belt lies on the waist, wherever the rig hangs

    Raises ScenarioError for what cannot be built.
    """
    rig, end = case.rig, rig_at_the_stop(case, STOP)
    lead = _worn_lead(case, places, bool(waters))
    others = dict(other_waters(case, rig)) if waters else {}
    return Met(
        start=_outcome(flat_answer(soft_rig(rig))),
        end=_outcome(flat_answer(soft_rig(end))),
        surplus=_surplus(end, lead),
        elsewhere=tuple(_elsewhere(kind, others[kind], lead) for kind in dict.fromkeys(waters) if kind in others),
    )


def _worn_lead(case: Case, places: LeadParts | None, elsewhere: bool) -> LeadParts:
    worn = tuple(p for p in case.rig.parts if p.kind == "lead")
    if worn and not elsewhere:
        return LeadParts(worn, {}, case.scenario("").lead[0].density)
    found = lead_parts(case) if places is None else places
    return LeadParts(worn, found.places, found.density)


def _surplus(end: Rig, lead: LeadParts) -> float:
    return lead.worn_mass - neutral_lead(end, lead)[0]


def _elsewhere(kind: WaterKind, case: Case, lead: LeadParts) -> Elsewhere:
    start, end = kept_neutral(case.rig), rig_at_the_stop(case, STOP)
    mass, _ = neutral_lead(end, lead)
    more = mass - lead.worn_mass
    right = [*lead.worn, lead.at("belt", more)] if more > 0.0 else lead.spread(mass)
    both = (_outcome(flat_answer(soft_rig(with_lead(rig, right)))) for rig in (start, end))
    return Elsewhere(kind, mass, *both)


def _outcome(flat: FlatAnswer) -> Outcome:
    return Outcome(flat.pitch_moment, flat.wing_gas, flat.net_buoyancy)
