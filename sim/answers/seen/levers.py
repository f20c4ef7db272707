"""How far each cause moves the moment of a diver held flat: by height of the rig, gas, legs and lead."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from meshes.body.pose import Pose
from scenarios.loose_gear import Lead
from scenarios.models import Scenario
from scenarios.quantities import SI
from scenarios.suit import DrySuit
from sim.answers.posture.levers import turned
from sim.answers.posture.reposed import Reposed, reposed
from sim.assembly.learnt import with_suit
from sim.assembly.shell import on_segments
from sim.case import Case
from sim.person.posed_body import posed_body
from sim.rig import Rig
from sim.said import word
from sim.statics.field import soft_rig
from sim.statics.flat import FlatAnswer, flat_answer

RAISED: Final = 0.05  # m, the height at which a rig that hangs high is laid out
LESS_GAS: Final = 0.7  # of the suit's gas that a diver leaves who vents it well (assumed)
MOVED: Final = 1.0  # kg that is moved as a test
TO_ANKLES, TO_SHOULDERS = word("to the ankles"), word("to the shoulders")
HIGH_UP: Final = 0.10  # m below the shoulder joints, where a kilogram is held to the shoulders (assumed)
BELT: Final = 0.12  # m headward of the hip joints that a belt hangs: at the waist, a hand above them (assumed)
STRAIGHT: Final = {"hip_flexion": 0.0, "knee_flexion": 8.0, "ankle_plantarflexion": 60.0}


@dataclass(frozen=True, eq=False)
class Levers:
    """What moves the moment flat, wing made neutral again.

    raise_rig : [N m/m];  vented, straight : what a vented suit and stretched legs add [N m]
    feet, shoulders : of gas there, and feet_straight with the legs stretched [N m/m^3], 0 without a drysuit
    lead_mass : [N m/kg] and lead_place : [N m/m headward] of the lead as worn;  lead : its mass [kg]
    pressure : of the gas in the cylinders [N m/Pa];  full : its pressure [Pa], 0 without
    kilogram : [N m] of one moved to the ankles, to the shoulders
    legs_gas : in both lower legs as told, held flat [m^3]
    """

    raise_rig: float
    vented: float
    straight: float
    feet: float
    feet_straight: float
    shoulders: float
    lead_mass: float
    lead_place: float
    lead: float
    pressure: float
    full: float
    kilogram: dict[str, float]
    legs_gas: float


def raised(case: Case) -> Case | None:
    """The case with the rig RAISED; None where nothing holds it."""
    worn = case.worn
    if worn is None or case.scenario("").harness is None:
        return None
    return case.vary({"harness.drop": SI(worn.drop - RAISED)})


def _moment(rig: Rig) -> float:
    return flat_answer(soft_rig(rig)).pitch_moment


def levers_of(case: Case, rig: Rig, flat: FlatAnswer) -> Levers:
    """Of a case's diver in its rig, held flat."""
    scenario = case.scenario("")
    here, higher = flat.pitch_moment, raised(case)
    diver = reposed(case)
    stretched = diver.posed(turned(diver.pose, STRAIGHT))
    neutral = _neutral_at(rig, flat)
    g, rho = rig.water.gravity, rig.water.density
    lifted = g * (rho - (0.0 if rig.suit is None else rig.suit.gas_density))
    dry = isinstance(scenario.suit, DrySuit)
    feet, far = (_feet(diver, p) for p in (diver.pose, turned(diver.pose, STRAIGHT)))
    shoulders = float(diver.body.joints["left shoulder"][0]) if dry else neutral
    return Levers(
        raise_rig=0.0 if higher is None else (_moment(higher.rig) - here) / RAISED,
        vented=_moment(with_suit(rig, 1.0, LESS_GAS)) - here,
        straight=_moment(stretched) - here,
        feet=lifted * (feet - neutral) if dry else 0.0,
        feet_straight=lifted * (far - neutral) if dry else 0.0,
        shoulders=lifted * (shoulders - neutral),
        **_of_lead(scenario, rig, neutral),
        **_of_gas(scenario, rig, neutral),
        kilogram=_moved(diver, rig),
        legs_gas=_in_lower_legs(diver, flat),
    )


def _neutral_at(rig: Rig, flat: FlatAnswer) -> float:
    """How far headward [m] the gas lies that keeps the diver neutral; the held point where none does."""
    state, wing = flat.field.wing, rig.wing
    if wing is None or wing.gas is not None or state is None or not state.volume.sum() > 0.0:
        return float(rig.held[0]) if wing is None or wing.gas is not None else float(wing.cells[:, 0].mean())
    return float(state.volume[0] @ wing.cells[:, 0] / state.volume[0].sum())


def _feet(diver: Reposed, pose: Pose) -> float:
    """How far headward [m] the feet are in a pose."""
    ankles = posed_body(diver.body.person, pose).joints
    return float(0.5 * (ankles["left ankle"][0] + ankles["right ankle"][0]))


def _of_lead(scenario: Scenario, rig: Rig, neutral: float) -> dict[str, float]:
    """Of lead as worn; of a kilogram on the belt where none is."""
    parts = [p for p in rig.parts if p.kind == "lead"]
    density = float(Lead.model_fields["density"].default)
    heavy = rig.water.gravity * (1.0 - rig.water.density / density)
    mass = sum(p.solid.mass for p in parts)
    at = sum(p.solid.mass * float(p.solid.cm[0]) for p in parts) / mass if mass > 0.0 else BELT
    return {"lead_mass": -heavy * (at - neutral), "lead_place": -heavy * mass, "lead": mass}


def _of_gas(scenario: Scenario, rig: Rig, neutral: float) -> dict[str, float]:
    parts = [p for p in rig.parts if p.kind == "breathing gas"]
    table = scenario.cylinders
    if table is None or not parts or not table.fill > 0.0:
        return {"pressure": 0.0, "full": 0.0}
    first = sum(p.solid.mass * (float(p.solid.cm[0]) - neutral) for p in parts)
    return {"pressure": -rig.water.gravity * first / table.fill, "full": table.fill}


def _moved(diver: Reposed, rig: Rig) -> dict[str, float]:
    """What a kilogram moved from the belt does [N m]."""
    density = float(Lead.model_fields["density"].default)
    heavy = MOVED * rig.water.gravity * (1.0 - rig.water.density / density)
    shoulders = float(diver.body.joints["left shoulder"][0]) - HIGH_UP
    return {TO_ANKLES: heavy * (BELT - _feet(diver, diver.pose)), TO_SHOULDERS: heavy * (BELT - shoulders)}


def _in_lower_legs(diver: Reposed, flat: FlatAnswer) -> float:
    """Gas [m^3] of a drysuit from the knees down, held flat; 0 in anything else."""
    state, skin = flat.field.suit, diver.body.skin
    if state is None:
        return 0.0
    clad = ~on_segments(skin, "head", "hand")
    return float(state.volume[0][on_segments(skin, "shank", "foot")[clad]].sum())
