"""Where the diver is and what is breathed, moment by moment: as the file tells it, or a plain default."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.later import Later
from scenarios.models import Scenario
from sim.answers.later.loop import LOOP, oxygen_mass
from sim.assembly.refilled import BACK, OXYGEN, GasSource, main_sources
from sim.breathing_gas import Gas, gas_density
from sim.rig import Water

# The plain default, all common practice: a way down and up at usual speeds, a last stop, gas of a diver at ease
BEGIN: Final = 1.0  # m
DOWN: Final = 18.0 / 60.0  # m/s
UP: Final = 9.0 / 60.0  # m/s
GAS_USE: Final = 20e-3 / 60.0  # m^3/s at the diver's depth
OXYGEN_USE: Final = 0.8e-3 / 60.0  # m^3/s dry at 0 °C, one atmosphere: a 25th of what is breathed (NEDU 1-89)
ON_THE_LOOP: Final = 3600.0  # s at depth with a rebreather, whose gas would last for longer
LAST_STOP: Final = 4.0  # m
AT_THE_STOP: Final = 180.0  # s
RESERVE: Final = 5e6  # Pa, of the gauge, at the end
LONGEST: Final = 150.0  # s, from one moment that is worked out to the next ...
FARTHEST: Final = 5.0  # m ... and in depth
MOST: Final = 12  # moments in one stretch


@dataclass(frozen=True)
class Leg:
    """A stretch of time [s] from one depth to another [m].

    breathed : name of the source;  left, taken : names of stages at its beginning
    """

    lasts: float
    start: float
    end: float
    breathed: str
    left: tuple[str, ...] = ()
    taken: tuple[str, ...] = ()

    def times(self) -> Floats:
        """Moments that are worked out [s from its beginning], both ends among them."""
        steps = max(self.lasts / LONGEST, abs(self.end - self.start) / FARTHEST)
        return np.linspace(0.0, self.lasts, 1 + int(np.clip(np.ceil(steps - 1e-9), 1, MOST)))

    def depth(self, time: float) -> float:
        """[m] at a time [s] from its beginning."""
        return self.start + (self.end - self.start) * time / self.lasts


@dataclass(frozen=True)
class Course:
    """Legs one after another; gas breathed in a second, as its volume is at the diver's depth [m^3/s].

    oxygen_use : of the body in a second, on a rebreather, dry at 0 °C and one atmosphere [m^3/s]
    told : whether the file tells it, not the default
    """

    legs: tuple[Leg, ...]
    gas_use: float
    oxygen_use: float
    told: bool


def course_of(scenario: Scenario, sources: Sequence[GasSource], water: Water) -> Course:
    """What the file tells, else the default. ``water`` : at any depth, for its density and gravity."""
    if scenario.later is not None:
        table = scenario.later
        return Course(tuple(_told(table, scenario.rebreather is not None)), table.gas_use, table.oxygen_use, True)
    legs = _on_the_loop(scenario, sources) if scenario.rebreather else _default(scenario, sources, water)
    return Course(tuple(legs), GAS_USE, OXYGEN_USE, False)


def _told(later: Later, loop: bool) -> Iterator[Leg]:
    """loop : whether it is a rebreather that is on the back"""
    depth = later.begin
    for stretch in later.stretch:
        end = depth if stretch.to is None else stretch.to
        breathe = LOOP if loop and stretch.breathe == BACK else stretch.breathe
        yield Leg(stretch.lasts, depth, end, breathe, stretch.leave, stretch.take)
        depth = end


def _default(scenario: Scenario, sources: Sequence[GasSource], water: Water) -> Iterator[Leg]:
    """Down to the file's depth, there until the gas left is the way up's and the reserve, up to the last stop.

    Side-hung cylinders are breathed by turns, once in each stretch, so that all come to the reserve together.
    """
    deep = scenario.water.depth
    begin, stop = min(BEGIN, deep), min(LAST_STOP, deep)
    main = main_sources(sources)
    down = _by_turns((deep - begin) / DOWN, begin, deep, main) if deep > begin else []
    up = _by_turns((deep - stop) / UP, deep, stop, main) if deep > stop else []
    up += _by_turns(AT_THE_STOP, stop, stop, main)
    surface = water.pressure - water.density * water.gravity * scenario.water.depth
    yield from down
    for source in main:
        on_the_way = sum(
            breathed(leg, 0.0, leg.lasts, GAS_USE, source.gas, source.temperature, water, surface)
            for leg in down + up
            if leg.breathed == source.name
        )
        spare = source.mass(source.pressure) - source.mass(RESERVE) - on_the_way
        stay = spare / (gas_density(source.gas, water.pressure, source.temperature) * GAS_USE)
        if stay > 1.0:
            yield Leg(stay, deep, deep, source.name)
    yield from up


def _on_the_loop(scenario: Scenario, sources: Sequence[GasSource]) -> Iterator[Leg]:
    """Down to the file's depth, an hour there or until the oxygen left is the way up's and the reserve, and up."""
    deep = scenario.water.depth
    begin, stop = min(BEGIN, deep), min(LAST_STOP, deep)
    down, up = (deep - begin) / DOWN, (deep - stop) / UP
    oxygen = next(s for s in sources if s.name == OXYGEN)
    spare = oxygen.mass(oxygen.pressure) - oxygen.mass(RESERVE)
    stay = min(ON_THE_LOOP, spare / oxygen_mass(OXYGEN_USE) - down - up - AT_THE_STOP)
    for lasts, start, end in ((down, begin, deep), (stay, deep, deep), (up, deep, stop), (AT_THE_STOP, stop, stop)):
        if lasts > 1.0:
            yield Leg(lasts, start, end, LOOP)


def _by_turns(lasts: float, start: float, end: float, sources: Sequence[GasSource]) -> list[Leg]:
    """A stretch of time [s] from one depth to another [m], its time shared out evenly among the sources."""
    depths = np.linspace(start, end, len(sources) + 1).tolist()
    return [Leg(lasts / len(sources), a, b, s.name) for s, (a, b) in zip(sources, pairwise(depths), strict=True)]


def breathed(
    leg: Leg, start: float, end: float, gas_use: float, gas: Gas, temperature: float, water: Water, surface: float
) -> float:
    """Gas breathed [kg] between two times [s] of a leg; ``surface`` : air pressure there [Pa].

    Simpson's rule: the density is all but straight in the depth, which is straight in the time.
    """
    each = [
        gas_density(gas, surface + water.density * water.gravity * leg.depth(t), temperature)
        for t in (start, 0.5 * (start + end), end)
    ]
    return gas_use * (end - start) * (each[0] + 4.0 * each[1] + each[2]) / 6.0
