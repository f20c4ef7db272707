"""Rigs built from scenarios: what they weigh, where things lie, and that changes do what a diver would expect."""

from functools import cache
from importlib.resources import files

import numpy as np
import pytest
from scipy.constants import atm

from meshes.solid import combined
from scenarios.catalogue import entries
from scenarios.errors import ScenarioError
from sim.breathing_gas import AIR, gas_density
from sim.case import Case
from sim.rig import Part, rig_of
from sim.settling.added_mass import added_mass
from sim.settling.extent import extents
from sim.statics.field import field, soft_rig
from sim.statics.flat import flat_answer, moment_budget

DEMOS = files("scenarios").joinpath("demos")
WOMAN = str(DEMOS.joinpath("small-woman-steel.toml"))
MAN = str(DEMOS.joinpath("tall-man-steel.toml"))
WET = str(DEMOS.joinpath("single-wetsuit.toml"))


@cache
def _case(path):
    return Case.read(path)


def _flat(path, *settings):
    assembled = _case(path).vary(settings).assembled
    soft = soft_rig(assembled.rig)
    answer = flat_answer(soft)
    return assembled, answer, {i.name: i for i in moment_budget(soft, answer)}


@pytest.mark.parametrize("path", [WOMAN, MAN, WET])
def test_demo_divers_weigh_what_they_say_and_can_be_neutral(path):
    assembled, answer, items = _flat(path)
    body = sum(p.solid.mass for p in assembled.rig.parts if p.kind == "body")
    assert body == pytest.approx({WOMAN: 58.0, MAN: 90.0, WET: body}[path], rel=1e-9)
    assert abs(answer.net_buoyancy) < 1e-9
    assert 0.5e-3 < answer.wing_gas < 0.9 * assembled.rig.wing.law.most.sum()
    assert sum(i.moment for i in items.values()) == pytest.approx(answer.pitch_moment, abs=1e-8)


def test_steel_plate_for_carbon_by_hand():
    """2.3 kg leave the plate, 1.8 kg go to the belt, the wing holds the rest less, the set hangs a little lower.

    By hand, arms from the point the moments are taken about, in water of 1027 kg/m^3: stainless steel loses 13 % of
    its weight, carbon laminate 66 %, lead 9 %. Everything hung on the plate weighs about 7.6 kg in water (two
    8.5 l cylinders with 200 bar 3.4, manifold 2.1, first stages 1.2, bands 0.9).
    """
    belt = "lead.0.place=belt"
    _, heavy, one = _flat(WOMAN, belt, "lead.0.mass=1 kg", "plate=standard steel")
    _, light, two = _flat(WOMAN, belt, "lead.0.mass=3 kg", "plate=small carbon")
    waist = one["lead, belt"].arm
    plate = one["plate"].arm
    gone = 2.62 * (1.0 - 1027.0 / 8000.0) - 0.257 * (1.0 - 1027.0 / 1550.0)
    added = 2.0 * (1.0 - 1027.0 / 11340.0)
    lower = one["manifold with valves"].arm - two["manifold with valves"].arm
    hand = 9.81 * (gone * plate - added * waist - (gone - added) * one["gas in wing"].arm + 7.6 * lower)
    change = light.pitch_moment - heavy.pitch_moment
    assert change > 0.0  # less head-down
    # left out by hand: gas that moves in suit and wing, hoses, and the shift of the point itself (some 0.5 N m each)
    assert change == pytest.approx(hand, abs=0.35 * hand)


@pytest.mark.parametrize("path", [WOMAN, WET])
@pytest.mark.parametrize("worn", ["hood", "gloves", "boots"])
def test_what_was_weighed_on_head_hands_and_feet_weighs_so(path, worn):
    """Foam displaces what its thickness says; boots have soles, and what they weigh more is taken for sole."""
    thick = f"suit.{worn}_thickness=4 mm"
    _, _, by_area = _flat(path, thick)
    _, _, by_scale = _flat(path, thick, f"suit.{worn}_mass=0.9 kg")
    assert by_scale[worn].mass == pytest.approx(0.9, rel=1e-12)
    assert by_area[worn].mass != pytest.approx(0.9, rel=0.01)
    if worn != "boots":
        assert by_scale[worn].volume == pytest.approx(by_area[worn].volume, rel=1e-12)
    more = 0.9 - by_area[worn].mass
    sinks = by_scale[worn].apparent_weight - by_area[worn].apparent_weight
    assert sinks == pytest.approx(more * (1.0 - 1027.0 / 1150.0) if worn == "boots" else more, rel=0.02)


@pytest.mark.parametrize(("name", "mass"), [("steel", 3.0), ("aluminium", 1.0), ("carbon", 0.3)])
def test_standard_plates_weigh_as_is_common_practice(name, mass):
    _, _, items = _flat(WOMAN, f"plate=standard {name}")
    assert items["plate"].mass == pytest.approx(mass, rel=0.2)  # the trade's round figures


def test_breathing_the_cylinders_down_is_taken_up_by_the_wing():
    """Gas used, by the real-gas density of 17 l of air, leaves the wing as its volume of water."""
    _, full, _ = _flat(WOMAN, "suit=none")
    assembled, empty, _ = _flat(WOMAN, "suit=none", "cylinders.pressure=50 bar")
    used = 0.017 * (gas_density(AIR, 200e5 + atm, 283.15) - gas_density(AIR, 50e5 + atm, 283.15))
    rho = assembled.rig.water.density - assembled.rig.wing.gas_density
    assert full.wing_gas - empty.wing_gas == pytest.approx(used / rho, rel=1e-6)


def test_wetsuit_loses_lift_with_depth_and_the_wing_makes_up_for_it():
    shallow, a, _ = _flat(WET, "water.depth=2 m")
    deep, b, _ = _flat(WET, "water.depth=30 m")
    volume = {
        d: next(p.solid.volume for p in x.rig.parts if p.name == "wetsuit") for d, x in ((2, shallow), (30, deep))
    }
    # the foam formula's table: 180 kg/m^3 at K = 1 bar is 0.394 as thick at 30 m, 0.92 at 2 m
    assert volume[30] / volume[2] == pytest.approx(0.394 / 0.915, rel=0.05)  # the lining does not thin
    assert b.wing_gas > a.wing_gas + 0.8 * (volume[2] - volume[30])


def test_comfortable_gas_just_takes_the_squeeze_off_the_back():
    """Held flat, the highest of the trunk is neither squeezed nor blown; the belly is squeezed by its depth below."""
    assembled, answer, _ = _flat(WOMAN, "suit.gas=comfortable")
    difference, cells = answer.field.suit.difference[0], assembled.rig.suit.cells
    top = np.abs(difference).argmin()
    # the highest trunk cell; the CM has moved by the gas's own 20 g since the amount was set
    assert abs(difference[top]) < 2.0
    weight = (assembled.rig.water.density - assembled.rig.suit.gas_density) * assembled.rig.water.gravity
    np.testing.assert_allclose(difference, weight * (cells[:, 2] - cells[top, 2]) + difference[top], atol=1e-6)
    assert "suit gas" in assembled.estimated


def test_vented_gas_is_at_the_valve_what_the_valve_is_set_to():
    """Turned back to the posture of the venting, the lifted valve feels its setting; a lower one lets more go.

    At 25 degrees the arms of the pose are no higher than the valve, so that they are where the pose has them.
    """
    settings = ("suit.vented_head_up=25 deg", "suit.vented_left_up=15 deg", "suit.vented_arm_lift=20 deg")
    assembled, answer, _ = _flat(WOMAN, *settings, "suit.valve_pressure=0.5 kPa")
    up = np.array(
        [np.sin(np.radians(25.0)), *(np.cos(np.radians(25.0)) * f(np.radians(15.0)) for f in (np.sin, np.cos))]
    )
    body, rig = assembled.worn.body, assembled.rig
    arm = np.linalg.norm(body.joints["left elbow"] - body.joints["left shoulder"])
    valve = body.joints["left shoulder"] + 0.5 * arm * np.sin(np.radians(20.0)) * up
    pressure = field(soft_rig(rig), up[None]).suit.pressure[0]
    weight = (rig.water.density - rig.suit.gas_density) * rig.water.gravity
    # the CM has moved by the gas's own 20 g since the amount was set
    assert pressure + weight * (valve - rig.held) @ up == pytest.approx(500.0, abs=2.0)
    assert "suit gas" in assembled.estimated
    _, lower, _ = _flat(WOMAN, *settings, "suit.valve_pressure=0.1 kPa")
    assert lower.suit_gas < answer.suit_gas
    _, cuff, _ = _flat(WOMAN, *settings, "suit.valve_pressure=0.5 kPa", "suit.valve_place=left wrist")
    assert cuff.suit_gas < answer.suit_gas  # held higher


def test_overfull_suit_vents_and_says_so():
    assembled, answer, _ = _flat(WOMAN, "suit.gas=30 l", "pose.name=flat, legs straight")
    assert any("overfull" in n for n in assembled.notes)
    assert answer.suit_gas < 25e-3
    _, wrist, _ = _flat(WOMAN, "suit.gas=30 l", "pose.name=flat, legs straight", "suit.valve_place=left wrist")
    assert wrist.suit_gas > answer.suit_gas  # reached out ahead of a flat diver it lies deeper
    assert not any("overfull" in n for n in _case(WOMAN).assembled.notes)


def test_lead_goes_where_it_is_asked_for():
    places = ("belt", "plate channel", "tail", "between cylinders", "upper band", "ankles")
    arms = {p: _flat(WOMAN, f"lead.0.place={p}", "lead.0.mass=2 kg")[2][f"lead, {p}"].arm for p in places}
    assert arms["ankles"] < arms["tail"] < arms["belt"] + 0.1 < arms["between cylinders"] + 0.2
    assert arms["plate channel"] > arms["tail"]
    assert arms["upper band"] > arms["between cylinders"]


def test_dropping_the_rig_lowers_all_that_hangs_on_it():
    a, high, _ = _flat(WOMAN)
    b, low, _ = _flat(WOMAN, "harness.drop=6 cm")
    place = [next(p.solid.cm[0] for p in x.rig.parts if p.name == "left cylinder") for x in (a, b)]
    # the plate tilts with the back it lies on, which takes a few millimetres
    assert place[0] - place[1] == pytest.approx(0.06, abs=0.012)
    assert low.pitch_moment > high.pitch_moment


def test_left_and_right_balance_without_what_hangs_on_one_side():
    """Plate, lead, fins and suit alone are symmetric, and so is the gas (inflator hose and hip ring are left)."""
    bare = ("cylinders=none", "gear=none", "wing=none", "harness=none")
    _, answer, _ = _flat(WOMAN, *bare, "lead.0.mass=20 kg", "lead.0.place=belt")
    assert abs(answer.roll_moment) < 1e-6
    assert abs(answer.cm[1]) < 1e-9


def _all_of(section):
    return [(section, name) for name in entries(section)]


@pytest.mark.parametrize(
    ("section", "name"),
    [
        *_all_of("plate"),
        *_all_of("cylinders"),
        *_all_of("wing"),
        *_all_of("suit"),
        *_all_of("fins"),
        *_all_of("harness"),
    ],
)
def test_every_catalogue_entry_can_be_worn(section, name):
    settings = [f"{section}={name}"]
    if section == "cylinders":
        settings = [f"cylinders=twin {name}"]
    _, answer, items = _flat(WOMAN, *settings)
    assert np.isfinite(answer.pitch_moment)
    assert all(np.isfinite(i.moment) and i.mass >= 0.0 for i in items.values())


@pytest.mark.parametrize("name", list(entries("gear")))
def test_every_piece_of_gear_can_be_carried(name):
    assembled, answer, items = _flat(WOMAN, f"gear.0.catalogue={name}")
    called = entries("gear")[name].values["name"]
    assert called in items
    assert items[called].mass > 0.0
    assert np.isfinite(assembled.rig.whole.cm).all()
    assert np.isfinite(answer.pitch_moment)


@pytest.mark.parametrize(
    "pose", ["flat, knees bent", "flat, legs straight", "arms ahead", "arms at sides", "upright"]
)
def test_every_pose_can_be_held(pose):
    _, answer, _ = _flat(WOMAN, f"pose.name={pose}")
    assert np.isfinite(answer.pitch_moment)


def test_straight_legs_move_the_body_footward():
    bent = _flat(WOMAN)[2]
    straight = _flat(WOMAN, "pose.name=flat, legs straight")[2]
    assert straight["left fin"].arm < bent["left fin"].arm - 0.15


def test_gear_that_cannot_be_is_blamed_on_its_key(tmp_path):
    text = (DEMOS / "small-woman-steel.toml").read_text(encoding="utf-8")
    wrong = tmp_path / "wrong.toml"
    wrong.write_text(text.replace('catalogue = "twin"', 'catalogue = "twin"\ncapacity = "55 l"'), encoding="utf-8")
    with pytest.raises(ScenarioError) as caught:
        _ = Case.read(wrong).assembled
    line = next(
        i for i, row in enumerate(wrong.read_text(encoding="utf-8").splitlines(), 1) if row.startswith("[wing]")
    )
    assert f"wrong.toml:{line}: wing:" in str(caught.value)
    assert "make it larger or its lift less" in str(caught.value)


def test_a_drawn_plate_is_worn_like_any_other(tmp_path):
    """A flat sheet drawn in DXF, 400 x 250 x 3 mm with two bolt holes: 8000 * 0.4 * 0.25 * 0.003 = 2.4 kg."""
    import ezdxf

    drawing = ezdxf.new(units=4)
    space = drawing.modelspace()
    space.add_lwpolyline([(-125, 0), (125, 0), (125, 400), (-125, 400)], close=True)
    for y in (60.5, 339.5):
        space.add_circle((0, y), 4.75)
    for x, y in ((-60, 360), (60, 360), (-90, 60), (90, 60), (0, 20)):
        space.add_lwpolyline([(x - 27, y - 5), (x + 27, y - 5), (x + 27, y + 5), (x - 27, y + 5)], close=True)
    drawing.saveas(tmp_path / "sheet.dxf")
    text = (DEMOS / "small-woman-steel.toml").read_text(encoding="utf-8")
    mine = tmp_path / "mine.toml"
    own = '[plate]\nfile = "sheet.dxf"\nunit = "mm"\nthickness = "3 mm"\nmaterial = "stainless steel"\n\n[harness]'
    start, end = text.index("[plate]"), text.index("[harness]")
    mine.write_text(text[:start] + own + text[end + len("[harness]") :], encoding="utf-8")
    _, _, items = _flat(mine)
    holes = 2 * np.pi * 4.75**2 + 5 * 54 * 10
    assert items["plate"].mass == pytest.approx(8000 * 3e-3 * (400 * 250 - holes) * 1e-6, rel=1e-3)  # chords of holes


def test_lead_placed_by_hand_is_a_pouch_where_it_was_put():
    assembled, _, _ = _flat(WET, 'lead=[{ mass = "2 kg", at = [0.1, -0.15, 0.05] }]')
    (lead,) = (p for p in assembled.rig.parts if p.kind == "lead")
    assert lead.solid.cm == pytest.approx([0.1, -0.15, 0.05], abs=1e-12)
    assert lead.solid.cb == pytest.approx(lead.solid.cm, abs=1e-12)
    assert lead.solid.volume == pytest.approx(2.0 / 11340.0, rel=1e-12)
    assert lead.solid.mesh is not None


def test_limbs_in_two_at_knee_and_elbow_change_where_nothing_lies():
    """The body's mass, centres and inertia are those of its segments, however they are told apart."""
    person = _case(WOMAN).wearer.body
    whole = combined([*(s for _, s in person.segments), person.lungs])
    parts = [p for p in _case(WOMAN).assembled.rig.parts if p.kind == "body"]
    told = combined([p.solid for p in parts])
    assert (told.mass, told.volume) == pytest.approx((whole.mass, whole.volume), rel=1e-12)
    assert told.cm == pytest.approx(whole.cm, abs=1e-12)
    assert told.cb == pytest.approx(whole.cb, abs=1e-12)
    assert told.inertia == pytest.approx(whole.inertia, rel=1e-9, abs=1e-9)
    names = [p.name for p in parts]
    assert len(set(names)) == len(names) == 10


@pytest.mark.parametrize(
    ("limb", "more"), [(("left thigh", "left lower leg with foot"), 1.5), (("left upper arm", "left forearm"), 1.5)]
)
def test_a_bent_limb_moves_more_water_as_two_than_as_one(limb, more):
    """One ellipsoid along the line from end to end hides how far thigh and forearm reach across the flow."""
    rig = _case(WOMAN).assembled.rig
    pieces = [p for p in rig.parts if p.name.startswith(limb)]
    assert len(pieces) == 2
    one = [Part("limb", "body", combined([p.solid for p in pieces]))]

    def carried(parts):
        shapes = extents(rig_of(parts, rig.water))
        return added_mass(shapes, rig.held, rig.water.density).rotation[1, 1]

    assert carried(pieces) > more * carried(one)


def test_a_thigh_across_the_flow_by_hand():
    """A strip 14.5 cm broad and 42 cm long, as measured on the drawing; 0.80 of rho pi/4 b^2 l for so short a
    cylinder (DNV-RP-N103, from memory, length 2.9 breadths)."""
    rig = _case(WOMAN).assembled.rig
    thigh = next(p for p in rig.parts if p.name == "left thigh")
    water = added_mass(extents(rig_of([thigh], rig.water)), rig.held, rig.water.density).rotation[1, 1]
    lever = thigh.solid.cb[0] - rig.held[0]
    hand = 0.80 * rig.water.density * np.pi / 4.0 * 0.145**2 * 0.42 * (lever**2 + 0.42**2 / 12.0)
    # read to half a centimetre of 14.5, squared, and a cone is no cylinder
    assert water == pytest.approx(hand, rel=0.12)
