"""Gas put in anew: the same rig, to the bit, as one assembled from the start. What the gas itself weighs."""

import re
from functools import cache

import CoolProp
import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from scenarios.reading import read_scenario
from sim.assembly.dry_suit import suit_room
from sim.assembly.other_gas import differ_in_gas_alone, with_other_gas
from sim.assembly.posed_diver import posed_diver
from sim.assembly.scenario_rig import assembled_scenario
from sim.assembly.shell import on_segments
from sim.assembly.suit_gas import arms_under_valve, lifted_valve, over_suit
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

WOMAN = demo_path("small-woman-carbon")
GAS_CONSTANT = 8.314462618  # J/(mol K), SI 2019
ARGON, NITROGEN, OXYGEN, HELIUM = 39.95e-3, 28.014e-3, 31.998e-3, 4.0026e-3  # kg/mol, IUPAC standard atomic weights
MOLAR_MASS = {
    "argon": ARGON,
    "nitrox 32": 0.32 * OXYGEN + 0.68 * NITROGEN,
    "trimix 18/45": 0.18 * OXYGEN + 0.45 * HELIUM + 0.37 * NITROGEN,
}
# At 2 bar and 10 C the second virial coefficient, -19e-6 m^3/mol of argon and +12e-6 of helium at the most, takes or
# adds no more than B p / (R T) = 0.16 % (Dymond and Smith's tables, from memory)
REAL = 0.002


def scenario(*settings):
    return read_scenario(WOMAN, settings)


@cache
def wearer():
    return posed_diver(scenario())


@cache
def rig_with(*settings):
    return assembled_scenario(scenario(*settings), "", (), wearer()).rig


@pytest.mark.parametrize(
    "setting",
    ["suit.vented_head_up=50 deg", "suit.slack=12 mm", "suit.boots_room=90 %", "suit.gaiters=false",
     "suit.undergarment.on_limbs=100 %", "suit.undergarment.stiffness=900 Pa", "suit.gas=9 l",
     "suit.widths.thigh=27 cm", "suit.valve_place=left wrist", "suit.inflation=argon"],
)  # fmt: skip
def test_gas_put_in_anew_is_the_gas_of_a_rig_assembled_anew(setting):
    told, other = scenario(), scenario(setting)
    assert differ_in_gas_alone(told, other)
    made = assembled_scenario(told, "", (), wearer())
    anew, whole = with_other_gas(made, other, wearer().body), rig_with(setting)
    assert anew.suit.gas == whole.suit.gas
    assert (whole.suit.gas, whole.suit.gas_density) != (made.rig.suit.gas, made.rig.suit.gas_density)
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


@pytest.mark.parametrize("gas", MOLAR_MASS)
def test_gas_in_the_suit_weighs_what_the_gas_law_says(gas):
    """p V M / (R T) for the volume at the held point's pressure."""
    rig = rig_with(f"suit.inflation={gas}", "suit.gas=8 l", "water.depth=10 m", "water.temperature=10 C")
    ideal = rig.water.pressure * 8e-3 * MOLAR_MASS[gas] / (GAS_CONSTANT * 283.15)
    assert rig.suit.gas * rig.suit.gas_density == pytest.approx(ideal, rel=REAL)


def test_argon_weighs_what_an_independent_library_says():
    rig = rig_with("suit.inflation=argon")
    argon = CoolProp.AbstractState("HEOS", "Argon")
    argon.update(CoolProp.PT_INPUTS, rig.water.pressure, 283.15)
    # GERG-2008 and the newer reference equation (Tegeler et al. 1999) part by less than this for a thin gas
    assert rig.suit.gas_density == pytest.approx(argon.rhomass(), rel=2e-4)


def test_without_a_word_the_suit_holds_air_as_the_wing_does():
    rig = rig_with()
    assert rig.suit.gas_density == rig.wing.gas_density
    assert rig_with("suit.inflation=air").suit.gas_density == rig.suit.gas_density
    assert rig_with("suit.inflation=argon").wing.gas_density == rig.wing.gas_density


@pytest.mark.parametrize(
    ("setting", "said"),
    [
        ("suit.gas=argon", 'inflation = "argon"'),
        ("suit.gas=nitrox 32", 'inflation = "nitrox 32"'),
        ("suit.inflation=10 l", "stands under gas"),
        ("suit.inflation=vented", "stands under gas"),
        ("suit.inflation=xenon", '"argon", "air", "nitrox 32" or "trimix 18/45"'),
        ("cylinders.gas=argon", "no gas known here"),
    ],
)
def test_kind_and_amount_of_gas_are_told_apart(setting, said):
    with pytest.raises(ScenarioError, match=re.escape(said)):
        scenario(setting)


def test_shares_can_be_given_as_numbers():
    named = rig_with('suit.inflation={ name = "own", oxygen = 0.2, argon = 0.8 }').suit.gas_density
    argon, oxygen = (rig_with(f"suit.inflation={g}").suit for g in ("argon", "oxygen"))
    # thin gases mix by mole fractions, but for their small second virial coefficients
    assert named == pytest.approx(0.8 * argon.gas_density + 0.2 * oxygen.gas_density, rel=1e-4)


def test_the_steeper_a_suit_is_vented_the_less_is_left_in_it():
    """The valve is the highest place then (common practice): no arm stretched ahead stands above it and keeps gas."""
    left = [rig_with(f"suit.vented_head_up={angle} deg").suit.gas for angle in (0, 15, 30, 45, 60, 75, 90)]
    assert (np.diff(left) < 0.0).all()


def test_upright_arms_ahead_leave_what_arms_at_the_sides_leave_but_for_their_own():
    """Two arms that hang a length lower are squeezed by up to 6 kPa more, which takes half of their litre or so."""
    ahead, hanging = (
        scenario("suit.vented_head_up=90 deg", *more)
        for more in ((), ('pose.joints={"shoulder flexion" = "0 deg"}',))
    )
    gas = [assembled_scenario(told, "", (), posed_diver(told)).rig.suit.gas for told in (ahead, hanging)]
    assert 0.0 < gas[0] - gas[1] < 0.6e-3


@pytest.mark.parametrize(("steep", "turns"), [(0.0, False), (0.5, False), (0.9, True), (1.5, True)])
def test_arms_are_turned_at_the_shoulders_until_the_wrists_are_no_higher_than_the_valve(steep, turns):
    body, up = wearer().body, np.array([np.sin(steep), 0.0, np.cos(steep)])
    room = suit_room(scenario().suit, body, over_suit(scenario(), body, None))
    valve = lifted_valve(scenario().suit, body, up)
    cells = arms_under_valve(room, body, valve, up)
    assert (cells != room.cells).any() == turns
    for side in ("left", "right"):
        arm = on_segments(room.patches, f"{side} upper arm", f"{side} forearm")
        shoulder, wrist = (body.joints[f"{side} {j}"] for j in ("shoulder", "wrist"))
        was, now = (np.linalg.norm(c[arm] - shoulder, axis=1) for c in (room.cells, cells))
        np.testing.assert_allclose(now, was, atol=1e-12)  # turned, not bent
        # the wrist goes along: found from the three cells nearest to it
        near = np.argsort(np.linalg.norm(room.cells[arm] - wrist, axis=1))[:3]
        turned, *_ = np.linalg.lstsq((room.cells[arm] - shoulder)[near], np.eye(3), rcond=None)
        place = shoulder + (wrist - shoulder) @ turned @ (cells[arm] - shoulder)[near]
        assert (place - valve) @ up <= 1e-9 or not turns
        if turns:
            assert (place - valve) @ up == pytest.approx(0.0, abs=1e-9)
    rest = ~on_segments(room.patches, "upper arm", "forearm")
    np.testing.assert_array_equal(cells[rest], room.cells[rest])
