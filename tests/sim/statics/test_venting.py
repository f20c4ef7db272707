"""Overfull suits vent, others are left alone."""

from dataclasses import replace

import numpy as np
import pytest

from sim.statics.field import field, soft_rig
from sim.statics.flat import FLAT
from sim.statics.venting import vented_at_valve, vented_to_room


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


def test_bag_without_a_valve_keeps_what_it_has_room_for(make_rig):
    suit = make_rig(2).suit
    assert vented_to_room(suit) == (suit, 0.0)
    room = suit.law.most.sum()
    kept, out = vented_to_room(replace(suit, gas=1.5 * room))
    assert kept.gas == pytest.approx(0.999 * room)
    assert out == pytest.approx(0.501 * room)
