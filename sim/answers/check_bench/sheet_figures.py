"""The divers drawn on the sheet: the one of the scenario, or a middling one for any diver."""

from __future__ import annotations

from typing import Any, Final

from scenarios.models import Scenario
from scenarios.reading import scenario_of
from sim.answers.check_bench.bench_file import Worn
from sim.answers.check_bench.held_diver import Figure, figure_from
from sim.answers.check_bench.sheet_diver import SheetDiver
from sim.answers.check_bench.situations import Situation
from sim.assembly.posed_diver import posed_diver
from sim.assembly.scenario_rig import scenario_rig

# Drawn where no scenario is given; invented
MIDDLING: Final[dict[str, Any]] = {
    "diver": {"sex": "female", "height": "172 cm", "mass": "68 kg"},
    "suit": {"catalogue": "trilaminate", "undergarment": "medium"},
    "plate": {"catalogue": "standard steel"},
    "harness": {"catalogue": "one-piece webbing"},
    "cylinders": {"catalogue": "steel 12 l 232 bar", "gas": "air", "pressure": "100 bar"},
    "wing": {"catalogue": "single"},
    "fins": {"catalogue": "rubber"},
    "gear": [{"catalogue": "mask"}],
    "pose": {"name": "flat, knees bent"},
}


def sheet_figure(diver: SheetDiver, worn: Worn) -> Figure:
    """The diver as held in a trial; straps are put on by the drawing."""
    told = diver.scenario or scenario_of(MIDDLING)
    return _figure(Situation("legs straight" if worn == "legs straight" else "as worn").of(told))


def _figure(scenario: Scenario) -> Figure:
    wearer = posed_diver(scenario)
    rig = scenario_rig(scenario, wearer)
    return figure_from(wearer.body.drawing, rig.parts, wearer.body.joints)
