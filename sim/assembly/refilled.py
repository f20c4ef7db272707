"""A rig whose cylinders hold more or less gas, or with one handed over; only what hangs on lines is laid out anew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, replace
from itertools import count
from typing import Final

import numpy as np
from scipy.constants import atm

from scenarios.breathing import GasMix
from scenarios.cylinders import Cylinders
from scenarios.loose_gear import StageCylinder
from scenarios.models import Scenario
from scenarios.rebreather import SmallCylinder
from sim.assembly.back_cylinders import water_capacity_of
from sim.assembly.learnt import with_learnt_values
from sim.assembly.rehung import hung_parts
from sim.assembly.surroundings import mixed
from sim.breathing_gas import Gas, fill_mass
from sim.rig import Part, Rig, rig_of
from sim.said import word

BACK: Final = word("back")
OXYGEN: Final = word("oxygen of the rebreather")
DILUENT: Final = word("diluent of the rebreather")
ITERATIONS: Final = 80
CLOSE: Final = 1e-12  # of the mass sought
MOST: Final = 5e7  # Pa absolute, the equation of state's end


@dataclass(frozen=True)
class GasSource:
    """What is breathed from: the cylinders on the back together, or one stage or side-hung cylinder.

    name : "back", or the stage's, with a number where an earlier one is called so
    mix : as divers write it;  gas : what that is;  on_back : the cylinders there
    by_turns : side-hung along the flank: breathed by turns where nothing is on the back
    handed_over : whether it can be: it hangs on clips
    parts : which of a rig's "breathing gas" parts, counted from 0, hold it, a cylinder each
    capacity : water capacity of one [m^3];  temperature : of the gas [K];  pressure : of the gauge now [Pa]
    """

    name: str
    mix: str
    gas: Gas
    parts: tuple[int, ...]
    capacity: float
    temperature: float
    pressure: float
    on_back: bool = False
    by_turns: bool = False
    handed_over: bool = False

    def mass(self, pressure: float) -> float:
        """Gas in all its cylinders [kg] at a gauge pressure [Pa], as a real gas."""
        return len(self.parts) * fill_mass(self.gas, self.capacity, pressure + atm, self.temperature)

    def gauge(self, mass: float) -> float:
        """Gauge pressure [Pa] of so much gas [kg] in all its cylinders; below 0 where they hold less than they would
        at the air's own pressure. The mass rises with the pressure: steps of an ideal gas, kept in a bracket."""
        low, high = -atm, MOST - atm
        guess = self.pressure
        for _ in range(ITERATIONS):
            excess = self.mass(guess) - mass
            if abs(excess) <= CLOSE * max(mass, 1e-3) or high - low < 1e-6:
                break
            low, high = (low, guess) if excess > 0.0 else (guess, high)
            step = guess - excess * (guess + atm) / (excess + mass)  # as an ideal gas goes on from here
            guess = step if low < step < high else 0.5 * (low + high)
        return guess


def gas_sources(scenario: Scenario) -> tuple[GasSource, ...]:
    """The cylinders on the back, if any, or a rebreather's, then every stage in the file's order."""
    scenario = with_learnt_values(scenario)
    found, after = [], 0
    if scenario.cylinders is not None:
        after = scenario.cylinders.count
        found.append(_source(BACK, scenario.cylinders, scenario.cylinders.gas, tuple(range(after)), scenario))
    if (loop := scenario.rebreather) is not None:
        for name, small in ((OXYGEN, loop.oxygen), (DILUENT, loop.diluent)):
            found.append(_source(name, small, small.gas, (after,), scenario))
            after += 1
    stages = [item for item in scenario.gear if isinstance(item, StageCylinder)]
    for item in stages:
        name = _name_beside(item.name, {s.name for s in found}, {s.name for s in stages})
        found.append(_source(name, item, item.gas, (after,), scenario))
        after += 1
    return tuple(found)


def _name_beside(name: str, taken: Set[str], told: Set[str]) -> str:
    """The name, or where it is taken the first of "name 2", "name 3" ... that neither is nor is told of another."""
    numbered = (f"{name} {i}" for i in count(2))
    return name if name not in taken else next(n for n in numbered if n not in taken | told)


def _source(
    name: str,
    table: Cylinders | SmallCylinder | StageCylinder,
    mix: GasMix,
    parts: tuple[int, ...],
    scenario: Scenario,
) -> GasSource:
    temperature = scenario.water.temperature if table.temperature is None else table.temperature
    capacity = water_capacity_of(table.water_capacity, table.free_gas, table.working_pressure)
    return GasSource(
        name, mix.name, mixed(mix), parts, capacity, temperature, table.fill,
        on_back=isinstance(table, Cylinders),
        by_turns=isinstance(table, StageCylinder) and table.hangs == "along the flank",
        handed_over=isinstance(table, StageCylinder),
    )  # fmt: skip


def main_sources(sources: Sequence[GasSource]) -> tuple[GasSource, ...]:
    """What is breathed unless something else is told, and feeds wing and suit (the first does): the cylinders on the
    back, or without them those along the flanks; none for a diver who carries neither."""
    back = tuple(s for s in sources if s.on_back)
    return back or tuple(s for s in sources if s.by_turns)


def near_empty(sources: Sequence[GasSource], pressure: float) -> dict[GasSource, float]:
    """Gas [kg] in each source at a gauge pressure [Pa]; what holds less as the file says keeps that."""
    return {s: s.mass(min(pressure, s.pressure)) for s in sources}


def refilled(rig: Rig, masses: Mapping[GasSource, float], handed_over: Sequence[GasSource] = ()) -> Rig:
    """The rig with so much gas [kg] in each source, and without the stages that are ``handed_over``.

    The amount of gas in suit and wing stays. A rig held at its CM stays held at its new one.
    """
    each = {k: m / len(s.parts) for s, m in masses.items() for k in s.parts}
    gone = {k for s in handed_over for k in s.parts}
    gas = [i for i, p in enumerate(rig.parts) if p.kind == "breathing gas"]
    away = {i + beside for k, i in enumerate(gas) if k in gone for beside in (-1, 0, 1)}  # cylinder, gas, fittings
    number = {i: k for k, i in enumerate(gas)}
    parts = [_holding(part, each.get(number.get(i, -1))) for i, part in enumerate(rig.parts)]
    for i in (i - 1 for i in gas if rig.parts[i - 1].hangs is not None and i not in away):
        if parts[i + 1].solid.mass != rig.parts[i + 1].solid.mass:
            parts[i : i + 3] = hung_parts(parts[i : i + 3], rig.water.density)
    return with_parts(rig, [part for i, part in enumerate(parts) if i not in away])


def with_parts(rig: Rig, parts: Sequence[Part]) -> Rig:
    """The rig with other rigid parts, its pockets of gas as they are."""
    held = None if np.array_equal(rig.held, rig.whole.cm) else rig.held
    return rig_of(parts, rig.water, suit=rig.suit, wing=rig.wing, held=held)


def _holding(part: Part, mass: float | None) -> Part:
    return part if mass is None else replace(part, solid=replace(part.solid, mass=mass))
