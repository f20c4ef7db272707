"""The weighing: a box in closed form, what a diver's gas weighs, and facts of the trade (common practice)."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from scenarios.practice import practice_path
from sim.answers.weigh.answer import WeighAnswer
from sim.answers.weigh.ballast import net_buoyancy
from sim.answers.weigh.conditions import Conditions
from sim.answers.weigh.report import weigh_answer
from sim.answers.weigh.weighing import surplus_lead
from sim.assembly.refilled import gas_sources, near_empty, refilled
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

LEAD = 11340.0  # kg/m^3, handbooks
BOX = """format = "parts/1"
[water]
density = "1000 kg/m^3"
gravity = "10 m/s^2"
[depth]
pressure = "2 bar"
[[part]]
name = "box"
mass = "{mass} kg"
cm = [0.0, 0.0, 0.0]
volume = "{volume} l"
cb = [0.0, 0.0, 0.0]
[wing]
gas = "neutral"
softness = "100 Pa"
cells = [{{ at = [0.1, 0.0, 0.1], most = "4 l" }}, {{ at = [-0.1, 0.0, 0.1], most = "4 l" }}]
"""
STAGES = {
    "gear.2.catalogue": "stage aluminium 11.1 l",
    "gear.2.name": "left one",
    "gear.3.catalogue": "stage aluminium 5.7 l",
    "gear.3.name": "small one",
}


def box(tmp_path, mass: float, volume: float) -> WeighAnswer:
    file = tmp_path / "box.toml"
    file.write_text(BOX.format(mass=mass, volume=volume), encoding="utf-8")
    return weigh_answer(Case.read(file))


@cache
def case_of(name: str) -> Case:
    return Case.read(practice_path(name) if len(name) == 1 else demo_path(name))


@cache
def answer(name: str, *settings: str) -> WeighAnswer:
    return weigh_answer(case_of(name).vary(settings))


def test_a_light_box_in_closed_form(tmp_path):
    """97 kg in 100 l of water that weighs 100 kg: lead of L kg weighs L (1 - 1000/11340) in it."""
    found = box(tmp_path, 97.0, 100.0)
    assert found.told.lead == pytest.approx(3.0 / (1.0 - 1000.0 / LEAD), rel=1e-12)
    assert found.told.start.heavy == pytest.approx(0.0, abs=1e-12)
    assert found.told.start.wing_lift == pytest.approx(8.0, rel=1e-12)  # 8 l of a gas that weighs nothing
    lost = {f.lost: f.end.weight for f in found.failures}
    assert lost == pytest.approx({"nothing": 0.0, "wing": 0.0, "lead": -3.0}, abs=1e-12)


def test_a_heavy_box_needs_none_and_its_wing_holds_it_as_far_as_it_goes(tmp_path):
    found = box(tmp_path, 110.0, 100.0)
    assert found.told.lead == 0.0
    assert found.told.heavy_without_lead == pytest.approx(10.0, rel=1e-12)
    assert found.told.start.margin == pytest.approx(-2.0, rel=1e-12)
    lost = {f.lost: (f.end.weight, f.end.wing_gas) for f in found.failures}
    assert lost["nothing"] == pytest.approx((2.0, 8e-3))
    assert lost["wing"] == (pytest.approx(10.0), None)


@pytest.mark.parametrize("name", ["tall-man-carbon", "single-wetsuit"])
def test_from_full_to_reserve_a_diver_swings_by_the_gas(name):
    """At one depth nothing else changes: in the drysuit the amount of gas does by grams, as the held point shifts."""
    found = answer(name, "water.depth=4 m")
    assert found.told.start.heavy == pytest.approx(found.breathed, abs=5e-3 if name == "tall-man-carbon" else 1e-9)


def test_the_gas_is_that_of_the_cylinders():
    """12 l of air from 200 to 50 bar at 18 degrees: 2.1 kg by the density of the two pressures from tables of air."""
    found = answer("single-wetsuit")
    assert found.breathed == pytest.approx(12e-3 * (238.0 - 61.7), abs=0.06)  # kg/m^3 at 201 and 51 bar, 291 K


@pytest.mark.parametrize("name", ["A", "C", "E", "G"])
def test_with_the_lead_the_diver_is_neutral_when_all_is_laid_out_anew(name):
    found = answer(name)
    there = ["water.depth=4 m", "cylinders.pressure=50 bar", "wing.gas=0 l"]
    if found.told.lead:
        there += [f"lead.0.mass={found.told.lead:.9f} kg", "lead.0.place=belt"]
    net = flat_answer(soft_rig(case_of(name).vary(there).rig)).net_buoyancy
    # the held point moves by millimetres when cylinders empty, and with it the suit's gas by 1e-3 of itself
    assert net == pytest.approx(-found.told.heavy_without_lead, abs=0.02)


def test_each_place_and_split_turns_as_when_laid_out_anew():
    """Moments of lead put into the file in one place and in two, against what ``weigh`` makes of one kilogram."""
    found = answer("E")
    lead = found.told.lead
    assert lead > 3.0
    case = case_of("E")
    for place in found.places:
        case_there = case.vary({"lead.0.mass": f"{lead:.9f} kg", "lead.0.place": place.place})
        # a kilogram's shape stands for more of it: a bar's or belt's middle moves by millimetres, 0.1 N m each
        assert place.start == pytest.approx(flat_answer(soft_rig(case_there.rig)).pitch_moment, abs=1.0)
    pieces = {f"lead.{i}.mass": f"{p.mass:.9f} kg" for i, p in enumerate(found.best.pieces)}
    pieces |= {f"lead.{i}.place": p.place for i, p in enumerate(found.best.pieces)}
    assert found.best.start == pytest.approx(flat_answer(soft_rig(case.vary(pieces).rig)).pitch_moment, abs=1.0)
    assert sum(p.mass for p in found.best.pieces) == pytest.approx(lead, rel=1e-12)


def test_the_best_split_is_no_worse_than_any_of_two_places_in_fine_steps():
    found = answer("E")
    at = {p.place: np.array([p.start, p.end]) for p in found.places}
    ankles = np.linspace(0.0, 2.0 / found.told.lead, 41)  # no more than 2 kg go on the ankles
    other = [np.abs(s * at["ankles"] + (1.0 - s) * at[p]).max() for s in ankles for p in at if p != "ankles"]
    # all of it on the ankles would leave 2 N m, but nobody hangs more than 2 kg there (common practice)
    light_feet = answer("loose-legs").best.pieces
    assert {p.place: p.mass for p in light_feet}["ankles"] == pytest.approx(2.0)
    best = max(abs(found.best.start), abs(found.best.end))
    assert best <= min(other) + 0.25 * 6.0 + 1.0  # steps of half a kilogram, of up to 6 N m each; 1 N m is not sought


def test_of_the_usual_places_the_ankles_move_the_moment_most():
    """Common practice."""
    for name in ("tall-man-carbon", "single-wetsuit", "E"):
        by = {p.place: p.per_kilogram for p in answer(name).places}
        assert max(by, key=lambda p: abs(by[p])) == "ankles"
        assert by["ankles"] > 0.0 > by["upper band"]


def test_a_kilogram_moved_does_what_the_places_say():
    case = case_of("single-wetsuit").vary(["lead.0.mass=3 kg", "lead.1.mass=1 kg", "lead.1.place=belt"])
    by = {p.place: p.per_kilogram for p in weigh_answer(case).places}
    on_belt, on_ankles = (
        flat_answer(soft_rig(case.vary({"lead.1.place": place}).rig)).pitch_moment for place in ("belt", "ankles")
    )
    # a belt of several blocks lies a little otherwise than one of a kilogram
    assert on_ankles - on_belt == pytest.approx(by["ankles"] - by["belt"], abs=0.05)


def test_steel_to_carbon_is_repaid_in_lead():
    """Common practice: what the plate weighs less in water, lead must weigh more."""
    plates = {
        name: next(p for p in case_of("E").vary([f"plate={name}"]).rig.parts if p.kind == "plate").solid
        for name in ("standard steel", "standard carbon")
    }
    rho = answer("E").told.density
    steel, carbon = (p.mass - rho * p.volume for p in plates.values())
    bare, swapped = (-surplus_lead(case_of("E").vary([f"plate={name}"])) for name in plates)
    more = swapped - bare
    # the plates differ by a millimetre of thickness, which moves the wing and what hangs behind it
    assert more * (1.0 - rho / LEAD) == pytest.approx(steel - carbon, abs=0.05)
    assert more > 1.5


@pytest.mark.parametrize("name", ["single-wetsuit", "tall-man-carbon"])
def test_shallow_and_with_little_gas_is_where_a_diver_is_lightest(name):
    """Common practice: buoyancy with an empty wing falls with the depth and with the gas in the cylinders."""
    case = case_of(name)
    sources = gas_sources(case.scenario(""))
    by_depth = []
    for depth in ("3 m", "6 m", "12 m", "24 m"):
        rig = case.vary({"water.depth": depth}).rig
        by_gas = [net_buoyancy(refilled(rig, near_empty(sources, p * 1e5))) for p in (10.0, 50.0, 120.0, 200.0)]
        assert all(more > less for more, less in pairwise(by_gas))
        by_depth.append(by_gas)
    assert all(a > b for above, below in pairwise(by_depth) for a, b in zip(above, below, strict=True))


def test_a_lost_wing_at_the_start_is_the_worst_of_a_steel_twin_set_in_thin_neoprene():
    """Common practice: no drysuit stands in for it, and no lead is there to drop."""
    found = answer("A", "suit=wetsuit 3 mm")
    assert found.told.lead == 0.0
    weights = {(f.lost, when): abs(getattr(f, when).weight) for f in found.failures for when in ("start", "end")}
    assert max(weights, key=lambda k: weights[k]) == ("wing", "start")
    assert weights["wing", "start"] > 7.0
    assert found.suit_room is None


@pytest.mark.parametrize("name", ["small-woman-steel", "tall-man-steel", "loose-legs"])
def test_a_suit_vented_upright_at_the_surface_holds_less_than_at_the_last_stop(name):
    """The valve stands over all of it, where at the stop feet and hips were nearly as high."""
    found = answer(name)
    assert found.surface.suit_gas < found.suit_gas


def test_fresh_water_asks_for_less_lead_by_what_the_salt_weighs():
    """All that displaces sea water displaces fresh: V (rho - rho') of lift, apart from the lead itself."""
    found = answer("E")
    sea, fresh = found.waters
    assert (sea.water, fresh.water) == ("sea", "fresh")
    rig = case_of("E").vary(["water.depth=4 m", "cylinders.pressure=50 bar", "wing.gas=0 l"]).rig
    displaced = flat_answer(soft_rig(rig)).volume
    lift = sea.lead * (1.0 - sea.density / LEAD) - fresh.lead * (1.0 - fresh.density / LEAD)
    # in fresh water the suit is squeezed by 3 % less and holds some 50 ml more
    assert lift == pytest.approx(displaced * (sea.density - fresh.density), abs=0.1)


def test_a_stage_handed_over_takes_its_weight_along():
    found = weigh_answer(case_of("single-wetsuit").vary(STAGES))
    rig = case_of("single-wetsuit").vary(STAGES).rig
    air_in_wing = 2.4  # kg/m^3 at 10 m and 18 degrees, by hand
    for name in ("left one", "small one"):
        of_it = [p.solid for p in rig.parts if name in p.name]
        assert len(of_it) == 3
        weight = sum(s.mass - rig.water.density * s.volume for s in of_it)
        heavy = {f.lost: f.start.weight + f.start.wing_gas * (rig.water.density - air_in_wing)
                 for f in found.failures if f.start.wing_gas is not None}  # fmt: skip
        assert heavy["nothing"] - heavy[name] == pytest.approx(weight, abs=0.01)
        assert weight > 0.5


def test_all_lead_lost_at_the_end_is_held_down_with_what_it_weighed():
    found = answer("E")
    lost = {f.lost: f.end.weight for f in found.failures}
    assert lost["lead"] == pytest.approx(-found.told.lead * (1.0 - found.told.density / LEAD), abs=0.01)


@pytest.mark.parametrize("name", ["tall-man-steel", "tall-man-carbon", "loose-legs"])
def test_surplus_lead_alone_is_that_of_the_answer(name):
    case = case_of(name)
    assert surplus_lead(case) == pytest.approx(answer(name).told.surplus, abs=1e-9)


def test_what_can_be_set_is_heard():
    case = case_of("tall-man-carbon")
    worn, usual = 4.5, answer("tall-man-carbon").told.lead

    def lead(how: Conditions) -> float:
        return worn - surplus_lead(case, how)

    by = {
        "more gas left, less lead": lead(Conditions(pressure=100e5)) - usual,
        "fuller chest, more lead": lead(Conditions(breath="breathed in")) - usual,
        "fuller suit, more lead": lead(Conditions(suit_gas=12e-3)) - usual,
        "deeper, less lead": lead(Conditions(depth=6.0)) - usual,
    }
    assert by["more gas left, less lead"] < -0.5
    # half a tidal volume of 0.5 l, and what of sea water that weighs: over the lead's own weight in it
    assert by["fuller chest, more lead"] == pytest.approx(0.25 * 1.027 / (1.0 - 1027.0 / LEAD), abs=0.02)
    assert by["fuller suit, more lead"] > 2.0
    assert by["deeper, less lead"] < 0.0


def test_a_band_holds_the_answer_and_narrows_with_what_is_known():
    sure = answer("single-wetsuit").sure
    assert sure.lead.low < answer("single-wetsuit").told.lead < sure.lead.high
    told = answer("single-wetsuit", "diver.body_density=1040 +- 3 kg/m^3", "diver.lung_gas=3.2 l")
    known = told.sure
    assert known.lead.middle == pytest.approx(told.told.lead, abs=0.03)
    assert told.told.lead > 1.0
    assert known.lead.high - known.lead.low < 0.5 * (sure.lead.high - sure.lead.low)
    # 3 kg/m^3 of 1040 in 73 l is 0.21 l, which 0.24 kg of lead sink: 5 to 95 % are 3.3 SDs
    assert known.lead.high - known.lead.low == pytest.approx(3.29 * 0.238, rel=0.05)


def test_a_parts_file_is_told_so_where_it_cannot_be_weighed(tmp_path):
    file = tmp_path / "box.toml"
    file.write_text(BOX.format(mass=97, volume=100), encoding="utf-8")
    with pytest.raises(ScenarioError, match="give a scenario file"):
        surplus_lead(Case.read(file))


def test_a_fuller_suit_asks_for_the_lead_that_sinks_its_gas():
    """To 5 %: the lead's own weight in water, and that of the gas; the fabric holds no more water for it."""
    found = answer("E")
    more = found.fuller.suit_gas - found.suit_gas
    assert more > 1e-3
    rho, air = found.told.density, 1.8  # kg/m^3, air at 4 m and 10 degrees
    assert found.fuller.lead - found.told.lead == pytest.approx(more * (rho - air) / (1.0 - rho / LEAD), rel=0.02)
    assert answer("single-wetsuit").fuller is None
