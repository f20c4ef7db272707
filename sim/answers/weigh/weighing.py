"""The lead of a diver, and what of it is too much, for those who need no more of the weighing."""

from __future__ import annotations

from dataclasses import replace

from scenarios.models import Scenario
from sim.answers.weigh.ballast import LEAD_DENSITY, in_water, lead_parts, net_buoyancy, neutral_lead
from sim.answers.weigh.conditions import AtTheStop, Conditions, as_worn_at_the_stop, told_for
from sim.assembly.refilled import gas_sources, near_empty, refilled
from sim.assembly.scenario_rig import scenario_rig
from sim.case import Case
from sim.rig import Rig


def weighed_lead(scenario: Scenario) -> float:
    """Lead [kg] in place of what is worn with which the diver is neutral so; 0 for one who sinks without.

    Raises UnbuildableError for a scenario that cannot be built.
    """
    stop = AtTheStop(told_for(scenario, Conditions()))
    rig = scenario_rig(stop(scenario))
    return max(net_buoyancy(rig) / in_water(rig, LEAD_DENSITY), 0.0)


def surplus_lead(case: Case, how: Conditions | None = None) -> float:
    """Lead that is worn beyond what makes the diver of a scenario neutral at the last stop [kg]; below 0 is missing.

    At most all that is worn: who is too heavy without any has no more to take off. One rig is assembled for it.
    Raises ScenarioError for a parts file and for what cannot be built.
    """
    case.scenario("a parts file says of no part that it is lead: give a scenario file")
    lead = lead_parts(case)
    return lead.worn_mass - neutral_lead(rig_at_the_stop(case, Conditions() if how is None else how), lead)[0]


def rig_at_the_stop(case: Case, how: Conditions) -> Rig:
    """As worn, with little gas left, the wing no fuller than neutral asks for."""
    rig = as_worn_at_the_stop(case, how).rig
    neutral = rig if rig.wing is None else replace(rig, wing=replace(rig.wing, gas=None))
    return refilled(neutral, near_empty(gas_sources(case.scenario("")), how.pressure))
