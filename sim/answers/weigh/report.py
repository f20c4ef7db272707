"""The answer of ``hangflat weigh``: the diver at the last stop, then the same diver elsewhere with that lead."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.quantities import SI
from scenarios.water import Water
from sim.answers.weigh.answer import FORMAT, Fuller, InWater, Lying, Piece, Start, WeighAnswer
from sim.answers.weigh.at_the_surface import surface_check
from sim.answers.weigh.ballast import (
    LEAD_DENSITY,
    LeadParts,
    Weighed,
    lead_parts,
    net_buoyancy,
    neutral_lead,
    unplaced,
    with_lead,
)
from sim.answers.weigh.conditions import SUIT_GAS, Conditions, as_worn_at_the_stop, told_for
from sim.answers.weigh.failures import failures
from sim.answers.weigh.lead_places import best_lying, moment, places
from sim.answers.weigh.sure import sureness
from sim.assembly.refilled import GasSource, gas_sources, near_empty, refilled
from sim.case import Case
from sim.rig import Rig
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

KINDS: Final = ("sea", "fresh")
SAME_WATER: Final = 0.5  # kg/m^3: of 80 l that is 40 g


def weigh_answer(case: Case, how: Conditions | None = None) -> WeighAnswer:
    """The weighing of a scenario or parts file. Raises ScenarioError for what cannot be built or weighed so."""
    if isinstance(case.content, PartsFile):
        return _of_parts(case, case.content)
    how = told_for(case.content, Conditions() if how is None else how)
    lead, sources = lead_parts(case), gas_sources(case.content)
    told = weighed(case, how, lead, sources)
    waters = [_in_water(case, told, lead.worn_mass, _name(case.content.water), True)]
    for name, other in other_waters(case, told.start):
        found = weighed(other, how, lead, sources)
        waters.append(_in_water(other, found, lead.worn_mass, name, False))
    left = near_empty(sources, how.pressure)
    full = {s: s.mass(s.pressure) for s in sources}
    at = places(told.start, told.end, lead, told.lead)
    suit, in_suit = told.start.suit, _suit_gas(told.start)
    return WeighAnswer(
        format=FORMAT,
        title=case.assembled.title,
        how=how,
        worn_lead=lead.worn_mass,
        breathed=sum(full.values()) - sum(left.values()) if sources else None,
        suit_gas=_suit_gas(told.end),
        fuller=_fuller(case, how, lead, sources),
        waters=tuple(waters),
        surface=surface_check(case, how, lead, told.lead, (left, full)),
        places=at,
        as_worn=_as_worn(told, lead),
        best=best_lying(at, told.lead),
        failures=failures(told.start, told.end, lead.spread(told.lead), sources),
        suit_room=None if suit is None or in_suit is None else max(float(suit.law.most.sum()) - in_suit, 0.0),
        sure=sureness(case, how, told, lead),
        estimated=case.assembled.estimated,
        notes=case.assembled.notes,
    )


def weighed(case: Case, how: Conditions, lead: LeadParts, sources: tuple[GasSource, ...]) -> Weighed:
    """The diver of a case in its own water."""
    end = refilled(kept_neutral(as_worn_at_the_stop(case, how).rig), near_empty(sources, how.pressure))
    mass, heavy = neutral_lead(end, lead)
    worn = lead.spread(mass)
    return Weighed(with_lead(kept_neutral(case.rig), worn), with_lead(end, worn), mass, heavy)


def _fuller(case: Case, how: Conditions, lead: LeadParts, sources: tuple[GasSource, ...]) -> Fuller | None:
    """As ``weighed``, for the gas that takes the squeeze off the back; None where the suit was not vented."""
    if how.suit_gas != SUIT_GAS:
        return None
    rig = as_worn_at_the_stop(case, replace(how, suit_gas="comfortable")).rig
    end = refilled(kept_neutral(rig), near_empty(sources, how.pressure))
    mass, _ = neutral_lead(end, lead)
    return Fuller(_suit_gas(with_lead(end, lead.spread(mass))) or 0.0, mass)


def kept_neutral(rig: Rig) -> Rig:
    return rig if rig.wing is None else replace(rig, wing=replace(rig.wing, gas=None))


def _suit_gas(rig: Rig) -> float | None:
    return None if rig.suit is None else flat_answer(soft_rig(rig)).suit_gas


def _name(water: Water) -> str:
    return "as told" if water.density is not None or water.salinity is not None else water.kind


def other_waters(case: Case, told: Rig) -> list[tuple[str, Case]]:
    """Sea and fresh, but for the one that the file says."""
    now = case.scenario("").water
    kept: dict[str, Any] = {
        k: SI(getattr(now, k))
        for k in ("temperature", "latitude", "gravity", "depth", "surface_pressure")
        if getattr(now, k) is not None
    }
    others = [(kind, case.vary({"water": {**kept, "kind": kind}})) for kind in KINDS if kind != _name(now)]
    return [(kind, c) for kind, c in others if abs(c.rig.water.density - told.water.density) > SAME_WATER]


def _in_water(case: Case, found: Weighed, worn: float, name: str, told: bool) -> InWater:
    scenario = case.scenario("")
    return InWater(
        water=name,
        is_told=told,
        density=found.end.water.density,
        lead=found.lead,
        heavy_without_lead=found.heavy,
        surplus=worn - found.lead,
        start=started(found.start, scenario),
    )


def started(rig: Rig, scenario: Scenario | None) -> Start:
    """A rig at the start, its lead as weighed."""
    heavy, wing = -net_buoyancy(rig), rig.wing
    cylinders = None if scenario is None else scenario.cylinders
    at = None if scenario is None else scenario.water.depth, None if cylinders is None else cylinders.fill
    if wing is None:
        return Start(*at, heavy, None, None, None)
    each, room = rig.water.density - wing.gas_density, float(wing.law.most.sum())
    return Start(*at, heavy, min(max(heavy / each, 0.0), room), each * room, each * room - max(heavy, 0.0))


def _as_worn(told: Weighed, lead: LeadParts) -> Lying | None:
    """The lead as weighed, shared out as what is worn (on the belt where none is)."""
    worn = lead.spread(told.lead)
    if not worn:
        return None
    pieces = tuple(Piece(p.name.removeprefix("lead, "), p.solid.mass) for p in worn)
    return Lying(pieces, moment(told.start, worn), moment(told.end, worn))


def _of_parts(case: Case, parts: PartsFile) -> WeighAnswer:
    """A rig that is told by numbers: in its own water, as it stands, its wing empty."""
    rig = kept_neutral(case.rig)
    lead = LeadParts((), {"belt": unplaced(rig)}, LEAD_DENSITY)
    mass, heavy = neutral_lead(rig, lead)
    worn = lead.spread(mass)
    weighed_rig = with_lead(rig, worn)
    water = InWater("as told", True, rig.water.density, mass, heavy, -mass, started(weighed_rig, None))
    return WeighAnswer(
        format=FORMAT,
        title=case.assembled.title,
        how=None,
        worn_lead=0.0,
        breathed=None,
        suit_gas=_suit_gas(rig),
        fuller=None,
        waters=(water,),
        surface=None,
        places=(),
        as_worn=None,
        best=None,
        failures=failures(weighed_rig, weighed_rig, worn, ()),
        suit_room=None,
        sure=None,
        estimated=case.assembled.estimated,
        notes=case.assembled.notes,
    )
