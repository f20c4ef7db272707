"""A rig as numbers and back."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.solid import Solid
from sim.rig import Part, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.rig_numbers import MASS, VOLUME, numbers_of, rig_of_numbers

ROUNDING = 1e-9  # N m: sums of some 50 terms of up to 1e3 N m in double precision


@pytest.mark.parametrize("law", ["logistic", "garment"])
@pytest.mark.parametrize("wing_gas", [None, 4e-3])
def test_there_and_back_answers_the_same(make_rig, law, wing_gas):
    rig = make_rig(3, law=law, wing_gas=wing_gas, gas_density=2.6)
    again = rig_of_numbers(numbers_of(rig), rig)
    ours, theirs = flat_answer(soft_rig(again)), flat_answer(soft_rig(rig))
    assert ours.pitch_moment == pytest.approx(theirs.pitch_moment, abs=ROUNDING)
    assert ours.pitch_stiffness == pytest.approx(theirs.pitch_stiffness, abs=ROUNDING)
    assert ours.wing_gas == pytest.approx(theirs.wing_gas, abs=1e-12)
    assert np.array_equal(numbers_of(again)[14:], numbers_of(rig)[14:])


def test_added_and_moved_parts_are_straight_lines_in_the_numbers(make_rig):
    rig = make_rig(4)
    lead = Solid(2.0, np.array([-0.3, 0.1, 0.1]), np.zeros((3, 3)), 0.18e-3, np.array([-0.3, 0.1, 0.1]))
    shift = np.array([0.05, 0.0, 0.0])
    change = np.zeros(len(numbers_of(rig)))
    change[MASS] = [2.0, *(2.0 * (lead.cm + shift))]
    change[VOLUME] = [0.18e-3, *(0.18e-3 * (lead.cb + shift))]
    placed = Part("lead", "lead", replace(lead, cm=lead.cm + shift, cb=lead.cb + shift))
    whole = rig_of([*rig.parts, placed], rig.water, suit=rig.suit, wing=rig.wing)
    ours = flat_answer(soft_rig(rig_of_numbers(numbers_of(rig) + change, rig)))
    theirs = flat_answer(soft_rig(whole))
    assert ours.pitch_moment == pytest.approx(theirs.pitch_moment, abs=ROUNDING)
    assert ours.mass == pytest.approx(theirs.mass, rel=1e-14)


def test_a_rig_held_at_a_stated_point_stays_there(make_rig):
    rig = make_rig(5)
    held = rig_of(rig.parts, rig.water, suit=rig.suit, wing=rig.wing, held=np.array([0.1, 0.0, 0.02]))
    assert np.array_equal(rig_of_numbers(numbers_of(held), held).held, held.held)


def test_a_line_that_would_empty_a_cell_leaves_it_a_little(make_rig):
    rig = make_rig(6, law="garment")
    numbers = numbers_of(rig)
    numbers[14 + 3 * 30 : 14 + 5 * 30 + 1] = -1.0
    law = rig_of_numbers(numbers, rig).suit.law
    assert (law.loft > 0.0).all()
    assert (law.slack > 0.0).all()
    assert law.stiffness > 0.0
