"""What a rebreather uses: oxygen for the body, and the gas that keeps the loop full as the depth changes.

The oxygen that the body uses comes back as carbon dioxide, which the canister catches: its mass goes from the oxygen
cylinder into the canister, and the diver becomes no lighter by it. The carbon that the body gives with it, some
0.17 g for each gram of oxygen, is left out, as is the water that comes with it. Lungs and counterlungs keep their
volume: diluent is let in on the way down, and gas is let out into the water on the way up. All of the loop's gas is
weighed as diluent at the body's temperature; its own weight aboard is left out, as in the rig.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from scipy.constants import atm, zero_Celsius

from scenarios.models import Scenario
from sim.assembly.diver import chest_gas
from sim.assembly.learnt import with_learnt_values
from sim.assembly.rebreather import breath_of
from sim.assembly.refilled import DILUENT, OXYGEN, GasSource, with_parts
from sim.breathing_gas import gas_density, mixture
from sim.rig import Rig
from sim.said import word

LOOP: Final = word("rebreather")
BODY: Final = zero_Celsius + 37.0  # K


@dataclass(frozen=True)
class Loop:
    """A rebreather's two cylinders, and the gas in lungs and counterlungs together [m^3]."""

    oxygen: GasSource
    diluent: GasSource
    volume: float

    def gas(self, pressure: float) -> float:
        """Gas in the loop [kg] at an absolute pressure [Pa], as diluent."""
        return self.volume * gas_density(self.diluent.gas, pressure, BODY)


def loop_of(scenario: Scenario, sources: Sequence[GasSource]) -> Loop | None:
    """The loop of a scenario's rebreather; None without one."""
    table = scenario.rebreather
    if table is None:
        return None
    diver = with_learnt_values(scenario).diver
    named = {s.name: s for s in sources}
    return Loop(named[OXYGEN], named[DILUENT], breath_of(table, diver).in_counterlungs + chest_gas(diver))


def oxygen_mass(oxygen_use: float) -> float:
    """Oxygen used in a second [kg/s], of a flow [m^3/s] as it is told of bodies: dry, at 0 °C and one atmosphere."""
    return oxygen_use * gas_density(mixture(1.0), atm, zero_Celsius)


def with_caught(rig: Rig, mass: float) -> Rig:
    """The rig with so much more [kg] caught in the canister of its rebreather."""
    canister = word("canister")
    return with_parts(
        rig,
        [
            replace(part, solid=replace(part.solid, mass=part.solid.mass + mass))
            if part.kind == "rebreather" and part.name == canister
            else part
            for part in rig.parts
        ],
    )
