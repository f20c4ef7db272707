"""The check at the surface: upright, half a breath, eyes at the water line."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.weigh.answer import SurfaceCheck
from sim.answers.weigh.at_the_surface import surface_check
from sim.answers.weigh.ballast import lead_parts
from sim.answers.weigh.conditions import Conditions
from sim.assembly.refilled import gas_sources, near_empty
from sim.case import Case

LEAD = 11340.0  # kg/m^3, handbooks


@pytest.fixture(scope="module")
def checked():
    """The check of a diver in a wetsuit with so much lead."""
    case = Case.read(demo_path("single-wetsuit"))
    sources, lead = gas_sources(case.scenario("")), lead_parts(case)
    masses = (near_empty(sources, 50e5), {s: s.mass(s.pressure) for s in sources})

    def check(worn: float) -> SurfaceCheck:
        return surface_check(case, Conditions(), lead, worn, masses)

    return case, check


def test_half_a_breath_by_the_published_volumes(checked):
    """ECSC 1993 for a man of 1.78 m and 29 years: TLC = 7.99 H - 7.08, RV = 1.31 H + 0.022 A - 1.23, in litres."""
    half = 0.5 * (7.99 * 1.78 - 7.08 + 1.31 * 1.78 + 0.022 * 29.0 - 1.23)
    assert checked[1](2.0).chest_gas == pytest.approx(half * 1e-3, rel=1e-9)


def test_what_is_out_of_the_water_is_the_top_of_a_head(checked):
    """Half an ellipsoid over the eyes with its hood (5 mm of foam over 0.07 m^2) and half a mask of 0.3 l."""
    case, check = checked
    m, body = case.wearer.body.person.measures, case.wearer.body
    over_eyes = np.linalg.norm(
        (body.landmarks["vertex"] - body.landmarks["eyes"]) @ body.placements["head"].rotation[:, 0]
    )
    head = 2.0 / 3.0 * pi * 0.5 * m["headlength"] * 0.5 * m["headbreadth"] * over_eyes
    by_hand = head + 0.5 * 0.005 * 0.14 + 0.5 * 0.3e-3
    assert check(2.0).out_of_water == pytest.approx(by_hand, rel=0.2)  # a head is squarer than an ellipsoid


def test_with_the_lead_it_asks_for_the_water_line_is_at_the_eyes(checked):
    _, check = checked
    asked = check(2.0).lead
    assert asked > 0.1
    there = check(asked)
    assert there.floats == pytest.approx(0.0, abs=1e-9)
    assert there.water_line == pytest.approx(0.0, abs=1e-6)


def test_a_kilogram_more_sinks_by_its_weight_in_water_and_wets_the_forehead(checked):
    case, check = checked
    light, heavy = check(1.0), check(2.0)
    assert light.floats - heavy.floats == pytest.approx(1.0 - case.rig.water.density / LEAD, abs=1e-4)
    assert heavy.water_line > light.water_line
    # between the two water lines lies a slice of head (an ellipse), of the hood round it (a tenth) and of the mask
    m = case.wearer.body.person.measures
    slice_area = 1.1 * 0.25 * pi * m["headlength"] * m["headbreadth"] + 0.3e-3 / 0.08
    assert heavy.water_line - light.water_line == pytest.approx(0.89e-3 / slice_area, rel=0.15)
    assert light.floats - light.full_floats == pytest.approx(12e-3 * (238.0 - 61.7), abs=0.06)  # the gas


def test_much_lead_sinks_and_none_at_all_floats_high(checked):
    _, check = checked
    assert check(8.0).water_line is None
    assert check(8.0).floats < -2.0
    assert check(0.05).water_line < 0.0
