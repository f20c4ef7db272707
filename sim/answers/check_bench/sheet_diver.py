"""What a sheet for the water must know of the diver whom it is for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from scenarios.models import Scenario
from scenarios.suit import DrySuit
from scenarios.unit_table import units_of
from sim.answers.check_bench.predicted import modelled
from sim.case import NO_DIVER, Case
from sim.rig import Kind, Part

USUAL_GAUGE: Final = "bar"
NOT_GEAR: Final[frozenset[Kind]] = frozenset({"body", "breathing gas", "suit gas", "wing gas"})


@dataclass(frozen=True)
class ToWeigh:
    """One thing for the scale; ``parts`` : what the model calls its parts."""

    name: str
    parts: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class SheetDiver:
    """One diver, or any diver.

    file, scenario : the scenario's name and what it tells, None for any diver
    straps : the lower legs can be strapped for a trial;  drysuit, wing, cylinders : worn, or perhaps worn
    gauge : unit of the pressure
    to_weigh : gear, what turns the diver most first;  other_gear : the model's names of the rest
    """

    file: str | None = None
    scenario: Scenario | None = None
    straps: bool = True
    drysuit: bool = True
    wing: bool = True
    cylinders: bool = True
    gauge: str = USUAL_GAUGE
    to_weigh: tuple[ToWeigh, ...] = ()
    other_gear: tuple[str, ...] = ()


ANY_DIVER: Final = SheetDiver()


def sheet_diver(case: Case, most: int) -> SheetDiver:
    """The diver of a scenario, with at most so many things to weigh. Raises ScenarioError."""
    scenario = case.scenario(NO_DIVER).as_told()
    rig = case.rig
    turns = {item.name: abs(item.moment) for item in modelled(rig).items}
    things = sorted(_things(rig.parts), key=lambda t: -sum(turns.get(p, 0.0) for p in t.parts))
    weighed = {p for t in things[:most] for p in t.parts}
    others = dict.fromkeys(p.name for p in rig.parts if p.kind not in NOT_GEAR and p.name not in weighed)
    return SheetDiver(
        file=case.path.name,
        scenario=scenario,
        straps=isinstance(scenario.suit, DrySuit) and not scenario.suit.gaiters,
        drysuit=isinstance(scenario.suit, DrySuit),
        wing=scenario.wing is not None,
        cylinders=scenario.cylinders is not None,
        gauge=gauge_unit(case.told.document),
        to_weigh=tuple(things[:most]),
        other_gear=tuple(others),
    )


def gauge_unit(document: Mapping[str, Any]) -> str:
    """The unit in which a scenario's tables tell the pressure of the cylinders on the back."""
    table = document.get("cylinders")
    text = table.get("pressure") if isinstance(table, Mapping) else None
    if not isinstance(text, str):
        return USUAL_GAUGE
    names = {name: unit.name for unit in units_of("pressure") for name in unit.names}
    fitting = [name for name in names if text.strip().endswith(name)]
    return names[max(fitting, key=len)] if fitting else USUAL_GAUGE


def _things(parts: Iterable[Part]) -> list[ToWeigh]:
    """What goes onto the scale as one thing: cylinders with all that is on them, the fins, and each other part."""
    parts = list(parts)
    bare = [p.name for p in parts if p.kind == "cylinder"]
    # a cylinder comes off the back with its gas, bands and valves on it, and goes onto the scale like that
    on_set = [p.name for p in parts if p.told_by == "cylinders"]
    fins = [p.name for p in parts if p.kind == "fins"]
    taken = {*on_set, *fins}
    alone = dict.fromkeys(p.name for p in parts if p.kind not in NOT_GEAR and p.name not in taken)
    groups = [("cylinder set" if len(bare) > 1 else "rigged cylinder", on_set), ("pair of fins", fins)]
    return [ToWeigh(n, tuple(g)) for n, g in groups if g] + [ToWeigh(name, (name,)) for name in alone]
