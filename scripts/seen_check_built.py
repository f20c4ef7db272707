"""Divers of known cause put together in full, off the straight lines, for ``seen_check.py``."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from seen_check_bench import Bench

from meshes.mesh import Floats
from meshes.solid import Solid
from scenarios.by_key import told_otherwise, told_value
from scenarios.known import Effect
from scenarios.loose_gear import Lead
from scenarios.models import Scenario
from sim.answers.seen import causes as c
from sim.answers.seen.behaviour import (
    Divers,
    Played,
    misstated,
)
from sim.answers.seen.diver import SeenDiver
from sim.assembly.learnt import with_effects
from sim.assembly.scenario_rig import assembled_scenario
from sim.rig import Part as Item
from sim.rig import Rig, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.belief import effects_at, values_at


def built(bench: Bench, truth: Played, z: Floats) -> Played:
    """The same diver, body, suit, gear and cause put together in full: its moment off every straight line.

    z : (d,) the unknowns in units of each spread.
    """
    diver, d, variates = bench.diver, truth.divers, bench.diver.unknown.variates
    told, effects = bench.case.scenario(""), effects_at(variates, z)
    for key, value in values_at(variates, z).items():
        told = told_otherwise(told, key, value)
    if truth.part == "rig high":
        higher = float(truth.raised[0] - d.raised[0])
        told = told_otherwise(told, "harness.drop", told_value(told, "harness.drop") - higher)
    if truth.part == "lead or gas":
        told, moved = with_other_lead_and_gas(diver, d, told)
        effects = (*effects, *moved)
    rig = with_effects(assembled_scenario(told, "", (), bench.case.people.of(told)).rig, effects)
    if truth.part in ("feet", "shoulders"):
        rig = with_gas(rig, bench, truth)
    moment = np.array([[flat_answer(soft_rig(rig)).pitch_moment]])
    return replace(truth, moment=moment, kept={})


def with_other_lead_and_gas(diver: SeenDiver, d: Divers, told: Scenario) -> tuple[Scenario, tuple[Effect, ...]]:
    """A scenario whose lead and cylinders are not as told, and how far its lead sits elsewhere."""
    lead, moved, pressure = (float(v[0]) for v in misstated(diver, d))
    if told.cylinders is not None:
        now = told.cylinders.model_copy(update={"pressure": told.cylinders.fill + pressure})
        told = told.model_copy(update={"cylinders": now})
    if not told.lead:
        belt = Lead.model_validate({"mass": f"{max(lead, 0.05):.9f} kg", "place": "belt"})
        return told.model_copy(update={"lead": (belt,)}), ()
    share = 1.0 + lead / diver.levers.lead
    names = "; ".join(one.name or f"lead, {one.place}" for one in told.lead)
    other = tuple(one.model_copy(update={"mass": max(share * one.mass, 1e-3)}) for one in told.lead)
    elsewhere = moved / max(share, 1e-3)
    return told.model_copy(update={"lead": other}), (Effect(what="moved", of=names, amount=elsewhere),)


def with_gas(rig: Rig, bench: Bench, truth: Played) -> Rig:
    """A rig with a lump of gas at the feet or at the shoulders."""
    body = bench.case.wearer
    assert body is not None  # of a scenario
    joint = "ankle" if truth.part == "feet" else "shoulder"
    at = np.mean([body.body.joints[f"{side} {joint}"] for side in ("left", "right")], axis=0)
    shut = c.PAST_GAITERS if bench.diver.gaiters[0] and truth.part == "feet" else 1.0
    gas = shut * float(truth.gas[0])
    density = 0.0 if rig.suit is None else rig.suit.gas_density
    lump = Item("gas", "other", Solid(gas * density, at, np.zeros((3, 3)), gas, at))
    return rig_of([*rig.parts, lump], rig.water, suit=rig.suit, wing=rig.wing)
