"""How a diver is weighed: the last stop with little gas left, an empty wing, a suit as empty as is comfortable."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Any, Final

from scenarios.by_key import with_values
from scenarios.cylinders import Cylinders
from scenarios.diver import BreathingLevel
from scenarios.loose_gear import StageCylinder
from scenarios.models import Scenario
from scenarios.quantities import SI
from scenarios.rebreather import SmallCylinder
from scenarios.suit import DrySuit
from sim.case import Case
from sim.telling.record import Told

BREATH: Final[BreathingLevel] = "mid-breath"  # quiet breathing, on average
SUIT_GAS: Final = "vented"  # what the exhaust valve leaves, which is less than what takes all the squeeze off
Holder = Cylinders | StageCylinder | SmallCylinder


@dataclass(frozen=True)
class Conditions:
    """How the diver is weighed; what is left as it is here is common practice."""

    # the middle of the 3 to 5 m at which divers are weighed (common practice)
    depth: Annotated[float, Told("of the last stop", "m")] = 4.0
    # about what is left at the end (common practice)
    pressure: Annotated[float, Told("left in every cylinder, as the gauge shows", "bar")] = 5e6
    breath: Annotated[str, Told("how full the chest is, in the words of diver.breathing_level")] = BREATH
    suit_gas: Annotated[
        str | float | None,
        Told(
            'gas in the drysuit: "vented", "comfortable" or a volume in m^3', none="as the file says, or no drysuit"
        ),
    ] = None


def as_worn_at_the_stop(case: Case, how: Conditions) -> Case:
    """The case at the last stop, all that is worn as the file says, but for the gas in the cylinders.

    A drysuit is as the last venting left it unless the file states a volume or ``how`` says otherwise.
    """
    return case.vary(at_rest_changes(case.scenario(""), how) | {"water.depth": SI(how.depth)})


def at_rest_changes(scenario: Scenario, how: Conditions) -> dict[str, Any]:
    """What the conditions change of a scenario at whatever depth: breath and suit gas."""
    changes: dict[str, Any] = {}
    if scenario.diver.breathing_level != how.breath:
        changes["diver.breathing_level"] = how.breath
    suit = scenario.suit
    if isinstance(suit, DrySuit):
        wanted = how.suit_gas
        if wanted is None:
            wanted = SUIT_GAS if isinstance(suit.gas, str) else suit.gas
        if wanted != suit.gas:
            changes["suit.gas"] = wanted if isinstance(wanted, str) else SI(wanted)
    return changes


def told_for(scenario: Scenario, how: Conditions) -> Conditions:
    """The conditions as they come out for a scenario: a drysuit's gas said, none without a drysuit."""
    suit = scenario.suit
    if not isinstance(suit, DrySuit):
        return replace(how, suit_gas=None)
    if how.suit_gas is not None:
        return how
    return replace(how, suit_gas=SUIT_GAS if isinstance(suit.gas, str) else suit.gas)


@dataclass(frozen=True)
class AtTheStop:
    """Makes of a scenario the one at the last stop with little gas left and no lead."""

    how: Conditions

    def __call__(self, scenario: Scenario) -> Scenario:
        changes: dict[str, object] = {"lead": (), "water.depth": self.how.depth}
        for key, holder in _gas_holders(scenario):
            changes[f"{key}.pressure"] = min(self.how.pressure, holder.fill)
        if isinstance(scenario.suit, DrySuit):
            changes["suit.gas"] = self.how.suit_gas
        changes["diver.breathing_level"] = self.how.breath
        return with_values(scenario, changes)


def _gas_holders(scenario: Scenario) -> Iterator[tuple[str, Holder]]:
    """Everything that gas is breathed from, by its key."""
    if scenario.cylinders is not None:
        yield "cylinders", scenario.cylinders
    if scenario.rebreather is not None:
        yield "rebreather.oxygen", scenario.rebreather.oxygen
        yield "rebreather.diluent", scenario.rebreather.diluent
    yield from ((f"gear.{i}", g) for i, g in enumerate(scenario.gear) if isinstance(g, StageCylinder))
