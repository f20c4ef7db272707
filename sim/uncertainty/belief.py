"""What was learnt of a diver, taken as the belief about the unknowns of a rig."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.known import Effect, Known
from scenarios.models import Scenario
from sim.uncertainty.variates import Belief, UncertainRig, Variate

JITTER: Final = 1e-9  # keeps a covariance written with few digits positive


def believing(unknown: UncertainRig, learnt: Known, scenario: Scenario) -> UncertainRig:
    """The rig with what was learnt of those of its unknowns that the scenario keeps; the others are as before.

    ``unknown.base`` is that of the rig assembled with what was learnt. A share of gas is one of the gas that is
    there, so it is told anew of the gas there is now.
    """
    names = [v.name for v in unknown.variates]
    mean, covariance = belief_in(names, learnt, scenario)
    kept = {learnt.unknown[i].name for i in learnt.kept_on(scenario)}
    in_base = np.array([float(v.name in kept and bool(v.said or v.effect)) for v in unknown.variates])
    gas = 1.0 + sum(m * v.gas_share for m, v in zip(in_base * mean, unknown.variates, strict=True))
    variates = tuple(replace(v, gas_share=v.gas_share / max(gas, 0.01)) for v in unknown.variates)
    factor = np.asarray(np.linalg.cholesky(covariance + JITTER * np.eye(len(mean))), dtype=np.float64)
    return replace(unknown, variates=variates, belief=Belief(mean, factor, in_base))


def belief_in(names: list[str], learnt: Known, scenario: Scenario) -> tuple[Floats, Floats]:
    """Mean (d,) and covariance (d, d) in normal scores of unknowns by name."""
    mean, covariance = np.zeros(len(names)), np.eye(len(names))
    kept = [i for i in learnt.kept_on(scenario) if learnt.unknown[i].name in names]
    at = [names.index(learnt.unknown[i].name) for i in kept]
    sd = np.array([learnt.unknown[i].sd for i in kept])
    mean[at] = [learnt.unknown[i].mean for i in kept]
    correlation = np.array([[learnt.correlation[i][j] for j in kept] for i in kept]).reshape(len(kept), len(kept))
    covariance[np.ix_(at, at)] = sd[:, None] * correlation * sd
    return mean, covariance


def values_at(variates: Sequence[Variate], z: Floats) -> dict[str, float]:
    """Values (SI) of the scenario, by dotted key, with the unknowns at ``z`` (d,) in units of each spread."""
    now: dict[str, float] = {}
    for variate, away in zip(variates, z.tolist(), strict=True):
        for key, said in variate.said.items():
            now[key] = now.get(key, said.value) + away * said.per_spread
    return now


def effects_at(variates: Sequence[Variate], z: Floats) -> tuple[Effect, ...]:
    """What the unknowns at ``z`` (d,) do to an assembled rig that no key of the scenario says."""
    pairs = zip(variates, z.tolist(), strict=True)
    return tuple(v.effect.times(away) for v, away in pairs if v.effect is not None)
