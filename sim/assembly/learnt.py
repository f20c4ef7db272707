"""What was learnt of a diver, put into the scenario (values by their keys) and the rig (all else)."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from scenarios.by_key import told_otherwise
from scenarios.known import Effect, Known
from scenarios.models import Scenario
from sim.assembly.diver import chest_gas
from sim.rig import Part, Rig, rig_of
from sim.said import note
from sim.statics.venting import vented_to_room

LUNGS: Final = "diver.lung_gas"
LEAST_GAS: Final = 0.01  # of the suit's gas, where an effect would take more


def with_learnt_values(scenario: Scenario) -> Scenario:
    """The scenario with the values learnt in place of those told or estimated; what was learnt is then taken out.

    What the scenario tells otherwise than it did when it was learnt stays as it is told.
    """
    if scenario.learnt is None:
        return scenario
    values = scenario.learnt.values_on(scenario)
    learnt = scenario.as_told()
    for key, value in values.items():
        if key == LUNGS and scenario.diver.lung_gas is None:
            # the chest may be asked for fuller or emptier than it was: what was learnt is how far off it is
            value += chest_gas(scenario.diver) - scenario.learnt.values[key].before
        learnt = told_otherwise(learnt, key, value)
    if "diver.body_density" in values:
        learnt = told_otherwise(learnt, "diver.body_fat", None)
    return learnt


def learnt_effects(scenario: Scenario) -> tuple[Effect, ...]:
    """What was learnt that no key of a scenario says, as effects on its rig."""
    learnt = scenario.learnt
    if learnt is None:
        return ()
    kept = (learnt.unknown[i] for i in learnt.kept_on(scenario))
    return tuple(u.effect for u in kept if u.effect is not None)


def learnt_note(learnt: Known | None) -> tuple[str, ...]:
    """That measurements are used, as a sentence."""
    if learnt is None:
        return ()
    file = str(learnt.file)
    if learnt.measured_on is None:
        return (note("Uses what measurements have taught of this diver ({file}).", file=file),)
    day = learnt.measured_on.isoformat()
    return (note("Uses what measurements of {day} have taught of this diver ({file}).", day=day, file=file),)


def with_effects(rig: Rig, effects: tuple[Effect, ...]) -> Rig:
    """The rig after effects, in their order."""
    if not effects:
        return rig
    parts = list(rig.parts)
    for effect in effects:
        if effect.what in ("cb", "cm", "moved"):
            parts = [_shifted(p, effect) for p in parts]
    held = None if np.array_equal(rig.held, rig.whole.cm) else rig.held
    changed = rig_of(parts, rig.water, suit=rig.suit, wing=rig.wing, held=held)
    stiffness = sum(e.amount for e in effects if e.what == "stiffness")
    share = sum(e.amount for e in effects if e.what == "gas")
    return with_suit(changed, float(np.exp(stiffness)), max(1.0 + share, LEAST_GAS))


def _shifted(part: Part, effect: Effect) -> Part:
    shift = np.array([effect.amount, 0.0, 0.0])
    solid = part.solid
    if effect.what == "cb" and part.kind == "body":
        return replace(part, solid=replace(solid, cb=solid.cb + shift))
    if part.name not in effect.of.split("; "):
        return part
    if effect.what == "cm":
        return replace(part, solid=replace(solid, cm=solid.cm + shift))
    if effect.what == "moved":
        # the drawing leaves it where it was: it is off by less than a line's width
        return replace(part, solid=replace(solid, cm=solid.cm + shift, cb=solid.cb + shift))
    return part


def with_suit(rig: Rig, stiffness: float, gas: float) -> Rig:
    """The rig with its suit so many times as stiff and with so many times the gas."""
    if rig.suit is None or rig.suit.gas is None or (stiffness == 1.0 and gas == 1.0):
        return rig
    suit = replace(rig.suit, law=rig.suit.law.stiffened(stiffness), gas=gas * rig.suit.gas)
    return replace(rig, suit=vented_to_room(suit)[0])
