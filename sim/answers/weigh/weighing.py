"""The lead that a diver is weighed with: neutral in shallow water with little gas left and nothing in the wing."""

from __future__ import annotations

from typing import Final

from scenarios.loose_gear import Lead
from scenarios.models import Scenario
from sim.assembly.scenario_rig import assembled_scenario
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

DEPTH: Final = 4.0  # m, the middle of the 3 to 5 m at which divers are weighed (common practice)
PRESSURE: Final = 5e6  # Pa, 50 bar: about what is left at the end (common practice)


def weighed_lead(scenario: Scenario) -> float:
    """Lead [kg], beside what is worn already, with which the diver is neutral so; 0 for one who sinks without.

    Raises UnbuildableError for a scenario that cannot be built.
    """
    there: dict[str, object] = {"water": scenario.water.model_copy(update={"depth": DEPTH})}
    if scenario.cylinders is not None:
        there["cylinders"] = scenario.cylinders.model_copy(update={"pressure": PRESSURE})
    if scenario.wing is not None:
        there["wing"] = scenario.wing.model_copy(update={"gas": 0.0})
    rig = assembled_scenario(scenario.model_copy(update=there), "").rig
    density = float(Lead.model_fields["density"].default)
    return max(flat_answer(soft_rig(rig)).net_buoyancy / (1.0 - rig.water.density / density), 0.0)
