"""Overfull suits vent, others are left alone."""

from dataclasses import replace

import numpy as np
import pytest

from sim.statics.field import field, soft_rig
from sim.statics.flat import FLAT
from sim.statics.venting import left_after_venting, vented_at_valve, vented_to_room


@pytest.mark.parametrize("law", ["logistic", "garment"])
def test_valve_leaves_its_opening_pressure(make_rig, law):
    rig = make_rig(1, law=law)
    full = replace(rig, suit=replace(rig.suit, gas=0.98 * rig.suit.law.most.sum()))
    valve = np.array([0.3, 0.2, 0.1])
    after, out = vented_at_valve(full, valve, 800.0)
    assert out > 0.0
    assert after.suit.gas + out == pytest.approx(full.suit.gas, rel=1e-14)
    pressure = field(soft_rig(after), FLAT).suit.pressure[0]
    over = pressure + rig.water.density * rig.water.gravity * (valve[2] - rig.held[2])
    assert over == pytest.approx(800.0, abs=1e-3)  # the pressure solve stops at 1e-13 of the capacity
    assert vented_at_valve(after, valve, 801.0) == (after, 0.0)


@pytest.mark.parametrize("law", ["logistic", "garment"])
def test_what_venting_leaves_has_the_valve_at_its_opening_in_that_posture(make_rig, directions, law):
    """Put back in the posture of the venting, the gas that was left presses on the valve by its opening, no more."""
    rig = make_rig(3, law=law)
    valve = np.array([0.5, 0.25, -0.05])
    for up in directions[:6]:
        left = left_after_venting(rig.suit, rig, valve, 300.0, up)
        pressure = field(soft_rig(replace(rig, suit=replace(rig.suit, gas=left))), up[None]).suit.pressure[0]
        over = pressure + rig.water.density * rig.water.gravity * float((valve - rig.held) @ up)
        assert over == pytest.approx(300.0, abs=1e-3)


def test_a_valve_higher_up_or_wider_open_leaves_less(make_rig):
    rig = make_rig(4, law="garment")
    head_up = np.array([0.5, 0.0, np.sqrt(0.75)])
    place = np.array([0.5, 0.25, 0.0])
    left = [
        left_after_venting(rig.suit, rig, place + lift * head_up, opening, head_up)
        for lift, opening in ((0.0, 300.0), (0.1, 300.0), (0.1, 100.0))
    ]
    assert left[0] > left[1] > left[2] > 0.0


def test_bag_without_a_valve_keeps_what_it_has_room_for(make_rig):
    suit = make_rig(2).suit
    assert vented_to_room(suit) == (suit, 0.0)
    room = suit.law.most.sum()
    kept, out = vented_to_room(replace(suit, gas=1.5 * room))
    assert kept.gas == pytest.approx(0.999 * room)
    assert out == pytest.approx(0.501 * room)
