"""What may be otherwise of a diver's buoyancy: by arithmetic and by gas alone as when all is built anew."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.models import Scenario
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import FLAT, field
from sim.uncertainty.body import density_pair, lung_pair
from sim.uncertainty.buoyancy import uncertain_buoyancy
from sim.uncertainty.rig_numbers import numbers_of
from sim.uncertainty.suit import suit_pairs
from sim.uncertainty.uncertain_rig import line_variate
from sim.uncertainty.variants import lines_through
from sim.uncertainty.variates import UncertainRig


def as_told(scenario: Scenario) -> Scenario:
    return scenario


def lift(unknown: UncertainRig, name: str) -> float:
    """What one spread more of an unknown does to the lift with an empty wing [kg]."""
    at = [v.name for v in unknown.variates].index(name)
    nets = []
    for way in (1.0, -1.0):
        z = np.zeros(len(unknown.variates))
        z[at] = way
        nets.append(float(field(soft_rig(unknown.drawn(z)), FLAT, wing_volume=0.0).net_buoyancy[0]))
    return 0.5 * (nets[0] - nets[1])


def test_each_unknown_lifts_as_when_its_variants_are_built_whole():
    case = Case.read(demo_path("small-woman-carbon"))
    told = case.scenario("")
    quick = uncertain_buoyancy(told, as_told, case.rig, case.people)
    person = case.people.of(told).body.person
    suit = [p for p in suit_pairs(told) if p.name in ("thickness of the undergarment", "posture of the last venting")]
    pairs = [density_pair(told, person), lung_pair(told, person), *suit]
    lines = [line_variate(p, line, told) for p, line in zip(pairs, lines_through(pairs), strict=True)]
    whole = UncertainRig(case.rig, numbers_of(case.rig), tuple(lines))
    assert len(lines) == 4
    for variate in lines:
        # where on the skin a body grows is left out: of a litre more 30 ml are amiss
        assert lift(quick, variate.name) == pytest.approx(lift(whole, variate.name), rel=0.03), variate.name


def test_stated_spreads_count_too():
    case = Case.read(demo_path("single-wetsuit"), ["cylinders.mass=14 +- 0.4 kg"])
    quick = uncertain_buoyancy(case.scenario(""), as_told, case.rig, case.people)
    steel = 1.0 - case.rig.water.density / 7850.0  # kg/m^3, handbooks
    # a heavier cylinder of the same inside is thicker, and displaces what its steel does
    assert lift(quick, "cylinders.mass") == pytest.approx(-0.4 * steel, rel=0.02)
