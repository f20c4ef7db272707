"""A diver given the lead they were weighed with neither sinks nor floats, as they were weighed."""

import tomllib

import pytest

from scenarios.new_scenario import NewScenario, new_scenario_text
from scenarios.reading import scenario_of
from sim.answers.weigh.weighing import weighed_lead
from sim.assembly.scenario_rig import assembled_scenario
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

MAN = ("male", "180 cm", "80 kg")


def scenario(*person, lead="", settings=None, **worn):
    document = tomllib.loads(new_scenario_text(NewScenario(*person, **worn)))
    for table, values in (settings or {}).items():
        document[table] |= values
    if lead:
        document["lead"] = [{"mass": lead, "place": "belt"}]
    return scenario_of(document)


AS_WEIGHED = {"water": {"depth": "4 m"}, "cylinders": {"pressure": "50 bar"}, "wing": {"gas": "0 l"}}


@pytest.mark.parametrize(
    "worn",
    [
        {"suit": "trilaminate", "undergarment": "heavy"},
        {"suit": "wetsuit 7 mm", "count": "one", "cylinders": "aluminium 11.1 l 207 bar", "plate": "small carbon"},
    ],
    ids=["drysuit", "wetsuit"],
)
def test_the_lead_makes_neutral(worn):
    lead = weighed_lead(scenario(*MAN, **worn))
    assert lead > 1.0
    there = scenario(*MAN, lead=f"{lead:.6f} kg", settings=AS_WEIGHED, **worn)
    # the belt moves the held point by a centimetre, and with it the pressure by 1e-3 of 140 kPa and the suit's gas
    assert flat_answer(soft_rig(assembled_scenario(there, "").rig)).net_buoyancy == pytest.approx(0.0, abs=0.05)


def test_who_sinks_without_needs_none():
    heavy = scenario(*MAN, suit="none", count="two", cylinders="steel 15 l 300 bar")
    assert weighed_lead(heavy) == 0.0
