"""How sure the lead is: what may be otherwise of this diver, as 5 to 95 % bands."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.errors import Problem, ScenarioError
from sim.answers.weigh.answer import Sureness, Unsure, WeighBand
from sim.answers.weigh.ballast import LeadParts, Weighed, in_water, net_buoyancy, with_lead
from sim.answers.weigh.conditions import AtTheStop, Conditions
from sim.case import Case
from sim.uncertainty.buoyancy import uncertain_buoyancy
from sim.uncertainty.sampling import lattice_points
from sim.uncertainty.shares import HIGH, LOW, share_of
from sim.uncertainty.variants import UnvariedError
from sim.uncertainty.variates import UncertainRig

SAMPLES: Final = 128  # with which other points give a band whose ends differ by 0.2 kg (of 7)
SHOWN: Final = 6  # unknowns that are told
LEAST: Final = 0.01  # of the variance, below which nothing is told


def sureness(case: Case, how: Conditions, found: Weighed, lead: LeadParts) -> Sureness:
    """Bands of the lead and of the weight at the start with it, for a scenario weighed as ``found``.

    Raises ScenarioError for a stated spread that cannot be.
    """
    scenario = case.scenario("a parts file is weighed as it stands: give a scenario file for a band")
    end, start = with_lead(found.end, []), with_lead(found.start, [])
    try:
        unknown = uncertain_buoyancy(scenario, AtTheStop(how), end, case.people)
    except UnvariedError as error:
        raise ScenarioError([Problem(str(case.path), str(error), error.key)]) from error
    z = unknown.points(SAMPLES, 0, lattice_points)
    floats = np.array([net_buoyancy(unknown.drawn(row)) for row in z])
    # what is unknown of the diver is so at the start as at the end: between them lies the gas, which is known
    at_start = floats + net_buoyancy(start) - net_buoyancy(end)
    kilograms = floats / in_water(end, lead.density)
    heavy = np.maximum(kilograms, 0.0) * in_water(start, lead.density) - at_start
    return Sureness(SAMPLES, _band(kilograms), _band(heavy), _ranked(unknown, z, kilograms))


def _band(values: Floats) -> WeighBand:
    low, middle, high = (float(v) for v in np.quantile(values, [LOW, 0.5, HIGH]))
    return WeighBand(low, middle, high)


def _ranked(unknown: UncertainRig, z: Floats, lead: Floats) -> tuple[Unsure, ...]:
    shares = [share_of(v.name, v.basis, z[:, i], lead) for i, v in enumerate(unknown.variates)]
    told = sorted((s for s in shares if s.share >= LEAST), key=lambda s: -s.share)[:SHOWN]
    return tuple(Unsure(s.name, s.basis, s.share) for s in told)
