"""How heavy or light a rig is with so much gas in its wing, and the lead that makes it neutral."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, get_args

from meshes.solid import point_mass
from scenarios.by_key import told_otherwise
from scenarios.loose_gear import Lead, LeadPlace
from scenarios.models import Scenario
from scenarios.quantities import SI
from sim.assembly.refilled import with_parts
from sim.assembly.scenario_rig import scenario_rig
from sim.assembly.worn_lead import LEAST_CHANNEL
from sim.case import Case
from sim.rig import Part, Rig
from sim.statics.field import field, soft_rig
from sim.statics.flat import FLAT

LEAD_DENSITY: Final = float(Lead.model_fields["density"].default)
UNIT: Final = 1.0  # kg, of the lead that is laid in each place to see where it comes to lie
ROUNDS: Final = (
    3  # the lead moves the point whose depth is held by a centimetre: each round leaves a hundredth of that
)


@dataclass(frozen=True, eq=False)
class LeadParts:
    """Lead as it is worn, and a kilogram of it in each place that can hold some; parts in body axes."""

    worn: tuple[Part, ...]
    places: Mapping[LeadPlace, Part]
    density: float

    @property
    def worn_mass(self) -> float:
        """[kg]"""
        return float(sum(p.solid.mass for p in self.worn))

    def spread(self, mass: float) -> list[Part]:
        """So much lead [kg] in all, shared out as what is worn, on the belt where none is."""
        if not mass > 0.0:
            return []
        if self.worn:
            return [scaled(p, mass / self.worn_mass) for p in self.worn]
        return [self.at("belt", mass)]

    def at(self, place: LeadPlace, mass: float) -> Part:
        """So much lead [kg] in one place."""
        return scaled(self.places[place], mass / UNIT)


@dataclass(frozen=True, eq=False)
class Weighed:
    """The diver in one kind of water with the lead that makes them neutral at the end.

    start, end : rigs with that lead, their wings kept neutral;  lead, heavy : as ``neutral_lead`` gives them [kg]
    """

    start: Rig
    end: Rig
    lead: float
    heavy: float


def lead_parts(case: Case) -> LeadParts:
    """Where the lead of a scenario lies, and where it could."""
    scenario = case.scenario("")
    worn = tuple(p for p in case.rig.parts if p.kind == "lead")
    channel = None if case.worn is None else case.worn.plate.channel_depth
    places = [p for p in get_args(LeadPlace) if can_hold(scenario, p, channel)]
    laid = told_otherwise(scenario, "lead", tuple(Lead(mass=SI(UNIT), place=p) for p in places))
    rig = scenario_rig(laid, case.wearer)
    found = dict(zip(places, [p for p in rig.parts if p.kind == "lead"], strict=True))
    density = scenario.lead[0].density if scenario.lead else LEAD_DENSITY
    return LeadParts(worn, found, density)


def unplaced(rig: Rig) -> Part:
    """A kilogram of lead where the rig is held, for want of places."""
    return Part("lead", "lead", point_mass(UNIT, rig.held, UNIT / LEAD_DENSITY))


def can_hold(scenario: Scenario, place: LeadPlace, channel: float | None = None) -> bool:
    """Whether a diver who wears this can put lead there.

    channel : depth of the plate's [m]; without it, what the table says, which does not know what a drawing holds
    """
    if place in ("between cylinders", "upper band"):
        twin = scenario.cylinders is not None and scenario.cylinders.count > 1
        return scenario.plate is not None and scenario.cylinders is not None and (twin or place == "upper band")
    if place == "plate channel":
        if scenario.plate is None or channel is None:
            return scenario.plate is not None and not scenario.plate.is_flat
        return channel >= LEAST_CHANNEL
    return place != "tail" or scenario.plate is not None


def scaled(part: Part, times: float) -> Part:
    """Lead of ``times`` the mass in the same place; what it displaces goes along."""
    solid = part.solid
    more = replace(solid, mass=times * solid.mass, volume=times * solid.volume, inertia=times * solid.inertia)
    return replace(part, solid=more)


def with_lead(rig: Rig, lead: Sequence[Part]) -> Rig:
    """The rig with this lead in place of its own."""
    return with_parts(rig, [*(p for p in rig.parts if p.kind != "lead"), *lead])


def net_buoyancy(rig: Rig) -> float:
    """What the rig floats up with [kg], minus sinks, flat and its wing empty."""
    return float(field(soft_rig(replace(rig, wing=None)), FLAT).net_buoyancy[0])


def in_water(rig: Rig, density: float) -> float:
    """What a kilogram of lead of ``density`` [kg/m^3] weighs in the rig's water [kg]."""
    return 1.0 - rig.water.density / density


def neutral_lead(rig: Rig, lead: LeadParts) -> tuple[float, float]:
    """Lead [kg] with which the rig is neutral, its wing empty, and what it sinks with if no lead is worn at all [kg].

    rig : with whatever lead, which is taken off first. One of the two is 0.
    """
    floats = net_buoyancy(with_lead(rig, []))
    if floats <= 0.0:
        return 0.0, -floats
    weight = in_water(rig, lead.density)
    mass = floats / weight
    for _ in range(ROUNDS):
        mass += net_buoyancy(with_lead(rig, lead.spread(mass))) / weight
    return mass, 0.0
