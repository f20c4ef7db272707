"""Later in the dive: the account of all gas, stages left and taken, and the same rigs laid out anew."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from meshes.solid import Solid
from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.later.along import Moment, moments
from sim.answers.later.answer import LaterAnswer, later_answer
from sim.answers.later.course import Leg, course_of
from sim.answers.later.table import later_csv
from sim.answers.later.text import later_text
from sim.answers.later.turned import rest_roll
from sim.assembly.refilled import GasSource, gas_sources
from sim.breathing_gas import AIR, gas_density
from sim.case import Case
from sim.rig import Part, Water, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.caution import CAUTION
from sim.telling.record import as_json

STAGES = """
[[gear]]
catalogue = "stage aluminium 11.1 l"
name = "bottom stage"
gas = "nitrox 32"
[[gear]]
catalogue = "stage aluminium 5.7 l"
name = "rich"
gas = "nitrox 50"
[later]
gas_use = "18 l/min"
begin = "3 m"
[[later.stretch]]
lasts = "90 s"
to = "21 m"
breathe = "bottom stage"
[[later.stretch]]
lasts = "12 min"
breathe = "bottom stage"
leave = "rich"
[[later.stretch]]
lasts = "6 min"
to = "6 m"
take = "rich"
leave = "bottom stage"
[[later.stretch]]
lasts = "8 min"
breathe = "rich"
"""


@pytest.fixture(scope="module")
def staged(tmp_path_factory) -> Path:
    file = tmp_path_factory.mktemp("later") / "staged.toml"
    file.write_text(demo_path("loose-legs").read_text(encoding="utf-8") + STAGES, encoding="utf-8")
    return file


def along(case: Case) -> tuple[tuple[GasSource, ...], tuple[Moment, ...]]:
    sources = gas_sources(case.scenario(""))
    return sources, moments(case, course_of(case.scenario(""), sources, case.rig.water), sources)


@cache
def of_staged(file: Path) -> tuple[tuple[GasSource, ...], tuple[Moment, ...]]:
    return along(Case.read(file))


@cache
def told_of(file: Path) -> LaterAnswer:
    return later_answer(Case.read(file))


def aboard(at: Moment) -> float:
    """Gas in the cylinders that the rig holds, by its own parts [kg]."""
    return sum(p.solid.mass for p in at.rig.parts if p.kind == "breathing gas")


@pytest.mark.parametrize("name", ["tall-man-steel", "single-wetsuit", "side-hung"])
def test_gas_used_is_mass_lost(name):
    """To 1e-9: what left the cylinders is in the wing, in the suit, or in the water, at every moment."""
    _, found = along(Case.read(demo_path(name)))
    first = found[0]
    for at in found:
        flows = at.flows
        assert aboard(first) - aboard(at) == pytest.approx(flows.taken, abs=1e-9)
        soft = 0.0
        for moment, way in ((at, 1.0), (first, -1.0)):
            for pocket, gas in ((moment.rig.wing, moment.flat.wing_gas), (moment.rig.suit, moment.flat.suit_gas)):
                soft += way * gas * (0.0 if pocket is None else pocket.gas_density)
        let_out = flows.breathed + flows.wing_out + flows.suit_out - flows.suit_own
        assert aboard(first) - aboard(at) == pytest.approx(soft + let_out, abs=1e-9)
    assert found[-1].flows.breathed > 2.0


def test_a_loops_oxygen_stays_aboard_and_its_diluent_is_kept_account_of():
    """By hand: 0.8 l/min of oxygen at 1.429 g/l (31.998 g in 22.39 l, as a real gas); the canister gains what the
    cylinder loses, so that no one becomes lighter by it; what the diluent loses is in loop, wing, suit or water."""
    sources, found = along(Case.read(demo_path("rebreather")))
    oxygen, diluent, bail_out = sources
    first, last = found[0], found[-1]

    def mass(at: Moment, name: str) -> float:
        return next(p.solid.mass for p in at.rig.parts if p.name == name)

    used = last.flows.oxygen_used
    assert used == pytest.approx(0.8e-3 * last.time / 60.0 * 1.429, rel=1e-3)
    assert first.masses[oxygen] - last.masses[oxygen] == pytest.approx(used, abs=1e-12)
    assert mass(last, "canister") - mass(first, "canister") == pytest.approx(used, abs=1e-12)
    assert last.masses[bail_out] == first.masses[bail_out]
    for at in found:
        flows = at.flows
        assert flows.breathed == 0.0
        from_diluent = flows.loop_in + flows.wing_in + flows.suit_in
        assert first.masses[diluent] - at.masses[diluent] == pytest.approx(from_diluent, abs=1e-9)
        assert aboard(first) - aboard(at) == pytest.approx(flows.taken, abs=1e-9)
    deepest = max(found, key=lambda at: at.depth)
    let_in, let_out = last.flows.loop_in, last.flows.loop_out
    thicker = [gas_density(AIR, at.rig.water.pressure, 310.15) for at in (first, deepest)]
    volume = let_in / (thicker[1] - thicker[0])
    assert 4e-3 < volume < 7e-3  # m^3: lungs of a woman of 172 cm at rest, some 3 l, and 2 l in the counterlungs
    back = (deepest.depth - last.depth) / (deepest.depth - first.depth)
    assert let_out == pytest.approx(let_in * back, rel=2e-3)  # as the pressure: an all but ideal gas


def test_a_loop_can_be_left_for_bail_out(tmp_path):
    file = tmp_path / "bail-out.toml"
    stretch = """
[later]
oxygen_use = "1.2 l/min"
[[later.stretch]]
lasts = "20 min"
to = "20 m"
[[later.stretch]]
lasts = "3 min"
to = "4 m"
breathe = "bail-out"
"""
    file.write_text(demo_path("rebreather").read_text(encoding="utf-8") + stretch, encoding="utf-8")
    sources, found = along(Case.read(file))
    last = found[-1]
    assert last.flows.oxygen_used == pytest.approx(20 * 1.2e-3 * 1.429, rel=1e-3)
    assert last.flows.breathed == pytest.approx(found[0].masses[sources[2]] - last.masses[sources[2]], abs=1e-9)
    assert last.flows.breathed > 0.1
    words = later_text(told_of(file))
    assert "else 20 l/min at the diver's depth are breathed" in words
    assert {p.breathed_from for p in told_of(file).points} == {"rebreather", "bail-out"}


def test_all_gas_is_kept_account_of_when_stages_are_left_and_taken(staged):
    sources, found = of_staged(staged)
    first = sum(found[0].masses.values())
    for at in found:
        assert first - sum(at.masses.values()) == pytest.approx(at.flows.taken, abs=1e-9)
        carried = sum(m for s, m in at.masses.items() if s.name not in at.away)
        assert aboard(at) == pytest.approx(carried, abs=1e-9)
    back, bottom, rich = sources
    assert found[-1].masses[back] < found[0].masses[back]
    assert found[-1].masses[bottom] < found[0].masses[bottom]
    assert found[-1].masses[rich] < found[0].masses[rich]


def test_what_is_breathed_is_so_many_litres_at_the_divers_depth(staged):
    """12 min at 21 m and 18 l/min: 216 l of nitrox 32 at 3.13 bar and 281 K, as an ideal gas to half a percent."""
    _, found = of_staged(staged)
    start = next(m for m in found if m.away == {"rich"})
    end = [m for m in found if m.away == {"rich"}][-1]
    pascal = 101325.0 + 1026.9 * 9.80665 * 21.0
    mass = 0.216 * pascal * 0.02929 / (8.314463 * 281.15)  # 29.29 g/mol: 0.32 of oxygen, 0.68 of nitrogen
    assert end.flows.breathed - start.flows.breathed == pytest.approx(mass, rel=5e-3)


def test_a_stage_left_behind_is_not_weighed_and_comes_back_as_it_was(staged):
    _, found = of_staged(staged)
    i = next(k for k, m in enumerate(found) if "rich" in m.away)
    before, after = found[i - 1], found[i]
    assert before.time == after.time
    assert len(before.rig.parts) - len(after.rig.parts) == 3
    stage = [p.solid for p in before.rig.parts if "rich" in p.name]
    weight = sum(s.mass - before.rig.water.density * s.volume for s in stage)
    lift = before.rig.water.density - before.rig.wing.gas_density
    let_out = before.flat.wing_gas - after.flat.wing_gas
    lighter = after.flat.net_buoyancy - before.flat.net_buoyancy
    lighter -= before.rig.water.density * (after.flat.suit_gas - before.flat.suit_gas)  # held higher or lower now
    assert lift * let_out + lighter == pytest.approx(weight, abs=5e-3)  # less the gas that the wing took meanwhile
    # both hang on the left: without one of them less rolls that side down
    assert after.flat.roll_moment > before.flat.roll_moment
    back = next(m for m in found if "bottom stage" in m.away)
    assert {p.name for p in back.rig.parts} >= {"rich", "nitrox 50 in rich", "valve and rigging of rich"}


def test_each_moment_is_the_rig_laid_out_anew():
    case = Case.read(demo_path("single-wetsuit"))
    (back,), found = along(case)
    for at in (found[2], found[-1]):
        there = {"water.depth": f"{at.depth:.6f} m", "cylinders.pressure": f"{at.pressure(back) / 1e5:.9f} bar"}
        flat = flat_answer(soft_rig(case.vary(there).rig))
        assert at.flat.pitch_moment == pytest.approx(flat.pitch_moment, abs=1e-6)
        assert at.flat.wing_gas == pytest.approx(flat.wing_gas, abs=1e-9)


def test_the_wing_takes_gas_on_the_way_down_and_lets_it_go_on_the_way_up():
    _, found = along(Case.read(demo_path("single-wetsuit")))
    deepest = max(m.depth for m in found)
    down = [m for m in found if m.time <= next(m.time for m in found if m.depth == deepest)]
    assert down[-1].flows.wing_in > 0.0
    assert down[-1].flows.wing_out == 0.0
    assert found[-1].flows.wing_in == pytest.approx(down[-1].flows.wing_in, abs=1e-12)
    assert found[-1].flows.wing_out > 0.0


def test_the_default_ends_near_its_reserve_and_says_that_it_is_no_plan():
    answer = later_answer(Case.read(demo_path("tall-man-steel")))
    assert answer.points[-1].pressure["back"] == pytest.approx(
        50e5, abs=1.5e5
    )  # what wing and suit take is not foreseen
    assert answer.points[-1].depth == 4.0
    text = later_text(answer)
    assert "which is no plan" in text.replace("\n", " ")
    assert " ".join(text.split()).endswith(CAUTION)
    assert max(map(len, text.splitlines())) <= 100


def test_little_gas_goes_down_and_up_without_a_stay():
    points = later_answer(Case.read(demo_path("single-wetsuit"), ["cylinders.pressure=45 bar"])).points
    assert [p.depth for p in points if p.depth == 10.0] == [10.0]


def test_gas_that_does_not_last_is_refused_with_the_stretch(staged):
    text = staged.read_text(encoding="utf-8").replace('lasts = "12 min"', 'lasts = "3 h"')
    file = staged.with_name("long.toml")
    file.write_text(text, encoding="utf-8")
    with pytest.raises(ScenarioError, match=r'later.stretch.1.lasts.*"bottom stage" is empty before its end'):
        later_answer(Case.read(file))


@pytest.mark.parametrize(
    ("was", "put", "said"),
    [
        ('leave = "rich"', 'leave = "poor"', '"poor": one stage of that name is needed, and 0 are'),
        ('leave = "rich"', 'take = "rich"', '"rich" is carried already'),
        ('take = "rich"\n', "", '"rich" was left behind'),
        ('gas_use = "18 l/min"', 'gas_use = "18 l"', "gas_use"),
        ('lasts = "8 min"', 'lasts = "0 min"', "lasts"),
    ],
)
def test_what_cannot_be_is_refused(staged, was, put, said):
    file = staged.with_name("wrong.toml")
    file.write_text(staged.read_text(encoding="utf-8").replace(was, put, 1), encoding="utf-8")
    with pytest.raises(ScenarioError, match=said):
        later_answer(Case.read(file))


def test_side_hung_cylinders_are_breathed_by_turns_and_their_bases_rise():
    """Both come to 50 bar together, but for what wing and suit took of the first; the stage is not touched."""
    sources, found = along(Case.read(demo_path("side-hung")))
    last = found[-1]
    left, right, oxygen = (last.pressure(s) / 1e5 for s in sources)
    assert right == pytest.approx(50.0, abs=1e-3)  # Simpson's rule over a leg in one piece or in several
    assert 48.0 < left < 50.0
    assert oxygen == pytest.approx(200.0, abs=1e-3)
    assert {m.breathed_from for m in found} == {"left cylinder", "right cylinder"}
    lies = [next(p.hangs.lies for p in m.rig.parts if p.name == "right cylinder") for m in (found[0], last)]
    assert lies[1].band[2] - lies[0].band[2] > 0.1  # its base floats up behind the diver (common practice)


def test_what_a_cylinder_is_called_changes_nothing():
    """Two of one name are told apart by a number, each keeps its own gas."""
    own, same = (
        along(Case.read(demo_path("side-hung"), settings))
        for settings in ((), ("gear.0.name=cylinder", "gear.1.name=cylinder"))
    )
    assert [s.name for s in same[0]] == ["cylinder", "cylinder 2", own[0][2].name]
    assert {m.breathed_from for m in same[1]} == {"cylinder", "cylinder 2"}
    pressures = [[found[-1].pressure(s) for s in sources] for sources, found in (own, same)]
    assert pressures[1] == pytest.approx(pressures[0], rel=1e-9)
    assert same[1][-1].flat.pitch_moment == pytest.approx(own[1][-1].flat.pitch_moment, abs=1e-9)


@pytest.mark.parametrize("name", ["back", "rebreather"])
def test_a_cylinder_called_as_what_is_on_the_back_is_refused(name):
    with pytest.raises(ScenarioError, match=rf'gear\.0\.name.*"{name}" is how what is breathed from the back'):
        Case.read(demo_path("side-hung"), [f"gear.0.name={name}"])


def test_breathing_from_a_back_without_cylinders_is_refused(tmp_path):
    file = tmp_path / "told.toml"
    told = demo_path("side-hung").read_text(encoding="utf-8") + '\n[[later.stretch]]\nlasts = "5 min"\n'
    file.write_text(told, encoding="utf-8")
    with pytest.raises(ScenarioError, match=r"later\.stretch\.0\.breathe.*\"left cylinder\", \"right cylinder\""):
        Case.read(file)


def test_without_cylinders_it_says_what_to_do():
    with pytest.raises(ScenarioError, match=r"add \[cylinders\]"):
        later_answer(Case.read(demo_path("single-wetsuit"), ["cylinders=none"]))


def test_pressure_and_mass_are_each_others_inverse():
    source = GasSource("back", "air", AIR, (0, 1), 12e-3, 283.15, 200e5)
    for bar in (0.0, 0.7, 35.0, 199.0, 300.0):
        assert source.gauge(source.mass(bar * 1e5)) == pytest.approx(bar * 1e5, abs=1.0)


def test_moments_on_a_leg_hold_both_ends_and_no_long_step():
    leg = Leg(lasts=900.0, start=30.0, end=5.0, breathed="back")
    times = leg.times()
    assert (times[0], times[-1]) == (0.0, 900.0)
    assert np.diff(times).max() <= 150.0
    assert leg.depth(times[-1]) == 5.0


def test_a_roll_at_rest_in_closed_form():
    """A box whose CB lies 1 cm to the left of its CM and 5 cm over it rests with the left side up by atan(1/5)."""
    solid = Solid(mass=100.0, cm=np.zeros(3), inertia=np.eye(3), volume=0.1, cb=np.array([0.0, 0.01, 0.05]))
    soft = soft_rig(rig_of([Part("box", "other", solid)], Water(1000.0, 10.0, 2e5)))
    moment = flat_answer(soft).roll_moment
    assert moment == pytest.approx(1000.0 * 0.01, rel=1e-12)  # 1000 N, 1 cm to the left
    assert rest_roll(soft, moment) == pytest.approx(np.arctan(0.2), abs=1e-9)
    assert rest_roll(soft, 0.0) == 0.0


def test_the_table_holds_what_the_object_does(staged):
    answer = told_of(staged)
    head, *rows = csv.reader(io.StringIO(later_csv(answer)))
    assert len(rows) == len(answer.points)
    column = head.index("bottom stage: pressure, as the gauge shows [bar]")
    told = [p["pressure_bar"]["bottom stage"] for p in as_json(answer)["points"]]
    assert [float(r[column]) for r in rows] == pytest.approx(told, rel=1e-5)


def test_what_is_counted_and_what_stands_in_which_cylinder_at_the_end_is_said(staged):
    """Of the cylinders that are carried then; nothing is said of one cylinder alone."""
    answer, scenario = told_of(staged), Case.read(staged).scenario("")
    text, last = " ".join(later_text(answer).split()), answer.points[-1]
    back, rich = (last.pressure[name] / 1e5 for name in ("back", "rich"))
    assert f"At the end here: back {back:.0f} bar, rich {rich:.0f} bar. " in text
    assert answer.lead == pytest.approx(sum(lead.mass for lead in scenario.lead), abs=1e-12)
    gas = answer.points[answer.lightest].gas
    assert f"and {gas:.1f} kg of gas in the cylinders" in text or f"That counts {gas:.1f} kg of gas" in text
    alone = replace(last, left_behind=("bottom stage", "rich"))
    assert "At the end here" not in later_text(replace(answer, points=(*answer.points[:-1], alone)))


def test_each_moment_is_said_in_the_words_of_posture():
    """By the limits of the file's own diver; the headline tells the worst of them."""
    answer = later_answer(Case.read(demo_path("small-woman-steel")))
    for point in answer.points:
        limit = answer.holds_head_up if point.pitch_moment > 0.0 else answer.holds_head_down
        assert (point.held == "cannot be held") == (abs(point.pitch_moment) > limit)
    assert "All along, no posture holds it" in later_text(answer)


@pytest.mark.parametrize(
    ("held", "times", "said"),
    [
        ((1, 1, 0, 0), (0.0, 20.0, 60.0, 900.0), "At first, at 1 m, "),  # shorter than a minute: where it begins
        ((0, 1, 1, 0), (0.0, 10.0, 30.0, 900.0), "At first, at 2 m, "),
        ((1, 1, 0, 0), (0.0, 180.0, 300.0, 900.0), "Until minute 3, "),
        ((0, 1, 1, 0), (0.0, 120.0, 300.0, 900.0), "From minute 2 to 5, "),
        ((0, 0, 1, 1), (0.0, 120.0, 300.0, 900.0), "After 5 min at 3 m and from then on, "),
    ],
)
def test_when_it_asks_most_is_said_by_minutes_and_within_the_first_by_where_it_begins(staged, held, times, said):
    answer = told_of(staged)
    words = ("hangs by itself", "cannot be held")
    points = tuple(
        replace(answer.points[0], time=time, depth=1.0 + number, held=words[held[number]])
        for number, time in enumerate(times)
    )
    text = " ".join(later_text(replace(answer, points=points, lightest=0)).split())
    assert f"{said}no posture holds it" in text
