"""Gas put in anew: the same rig, to the bit, as one assembled from the start."""

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.reading import read_scenario
from sim.assembly.scenario_rig import assembled_scenario, wearer_of
from sim.assembly.suit_gas import differ_in_gas_alone, with_other_gas
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

WOMAN = demo_path("small-woman-carbon")


def scenario(*settings):
    return read_scenario(WOMAN, settings)


@pytest.mark.parametrize(
    "setting",
    ["suit.vented_head_up=50 deg", "suit.slack=12 mm", "suit.boots_room=90 %", "suit.gaiters=false",
     "suit.undergarment.on_limbs=100 %", "suit.undergarment.stiffness=900 Pa", "suit.gas=9 l",
     "suit.widths.thigh=27 cm", "suit.valve_place=left wrist"],
)  # fmt: skip
def test_gas_put_in_anew_is_the_gas_of_a_rig_assembled_anew(setting):
    told, other = scenario(), scenario(setting)
    assert differ_in_gas_alone(told, other)
    wearer = wearer_of(told)
    made = assembled_scenario(told, "", (), wearer)
    anew, whole = with_other_gas(made, other, wearer.body), assembled_scenario(other, "", (), wearer).rig
    assert anew.suit.gas == whole.suit.gas != made.rig.suit.gas
    np.testing.assert_array_equal(anew.suit.law.loft, whole.suit.law.loft)
    np.testing.assert_array_equal(anew.suit.law.preload, whole.suit.law.preload)
    moments = [flat_answer(soft_rig(r)).pitch_moment for r in (anew, whole)]
    assert moments[0] == moments[1]


@pytest.mark.parametrize(
    "setting", ["suit.undergarment.loft=12 mm", "suit.hood_thickness=3 mm", "diver.mass=60 kg", "water.depth=4 m"]
)
def test_what_changes_anything_else_is_assembled_anew(setting):
    assert not differ_in_gas_alone(scenario(), scenario(setting))


def test_suits_without_gas_have_none_to_change():
    assert not differ_in_gas_alone(scenario("suit=wetsuit 5 mm"), scenario("suit=wetsuit 5 mm"))
