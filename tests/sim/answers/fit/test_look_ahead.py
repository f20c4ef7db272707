"""Look-ahead and the seen attitude: geometry of sight, the statics behind the moments, drops and plates."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.solid import point_mass
from sim.answers.fit.joint_ranges import eyes_up, neck_extension
from sim.answers.fit.look_ahead import NECK, ahead_margin, distance_ahead, look_ahead, moments_at
from sim.answers.fit.sight import upward_sight
from sim.rig import Part, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

DROPS = (0, 5, 10)  # cm


BANDS = "cylinders.shift=0 cm"  # cylinders as the bands come, not hung lower


@pytest.fixture(scope="module")
def looking(dressed):
    """The function ``looking(demo, *settings)``: the look-ahead of a dressed demo diver."""

    def look(demo, *settings):
        diver = dressed(demo, *settings)
        return look_ahead(diver.worn, diver.rig)

    return look


@pytest.fixture(scope="module")
def woman(dressed):
    return dressed("small-woman-steel", BANDS)


def test_sight_is_trunk_and_neck_and_eyes_added_up(woman):
    look = look_ahead(woman.worn, woman.rig)
    up = upward_sight(woman.worn.body.person.age)
    assert look.ahead == pytest.approx(-0.5 * np.pi + look.lift + up.looked_at)
    assert look.edge - look.ahead == pytest.approx(up.noticed - up.looked_at)
    assert look.sight == pytest.approx([np.cos(look.ahead), 0.0, np.sin(look.ahead)])
    assert look.ahead + look.head_up == pytest.approx(0.0)  # with the trunk so held, sight is level
    # the eyes keep their distance from the pivot of the neck
    pivot = woman.worn.body.joints["neck"]
    assert np.linalg.norm(look.eyes - pivot) == pytest.approx(
        np.linalg.norm(woman.worn.body.landmarks["eyes"] - pivot)
    )


def test_eyes_lie_where_the_posed_body_has_them(dressed, looking):
    """Posed with the lift that was found, the body's own eyes are at the same place."""
    look = looking("small-woman-steel", BANDS)
    lift = f"pose.joints.neck extension={np.degrees(look.lift):.9f} deg"
    posed = dressed("small-woman-steel", BANDS, lift).worn.body
    assert look.eyes == pytest.approx(posed.landmarks["eyes"], abs=1e-6)


def test_light_bends_at_the_lens():
    dry, wet = upward_sight(45.0, 1.0), upward_sight(45.0)
    assert dry.looked_at == pytest.approx(np.radians(27.9))  # Lee et al. 2019, the mean at their mean age
    assert np.sin(dry.looked_at) == pytest.approx(1.34 * np.sin(wet.looked_at))
    assert wet.looked_at < wet.noticed < dry.noticed


def test_eyes_and_necks_stiffen_with_age(woman):
    assert eyes_up(30.0) > eyes_up(60.0) > eyes_up(80.0)
    # 85 people of 5 to 91 years, another sample: 27.7 +- 7.6 degrees, r^2 = 0.304 (Kim & Lim 2017, abstract)
    assert np.degrees(eyes_up(45.0)) == pytest.approx(27.7, abs=1.0)
    slope = np.degrees(eyes_up(40.0) - eyes_up(50.0)) / 10.0
    assert slope == pytest.approx(np.sqrt(0.304) * 7.6 / 25.0, rel=0.15)
    worn = woman.worn
    necks = [neck_extension(replace(worn.body.person, age=a), worn.mobility) for a in (25.0, 40.0, 60.0)]
    # AAOS 75.5, 70.5 and 64.5 degrees, less 10 of neck bulk
    assert np.degrees(necks) == pytest.approx([65.5, 60.5, 54.5])


def test_distance_ahead_by_the_triangle():
    assert distance_ahead(np.radians(-45.0), 1.5) == pytest.approx(1.5)
    assert distance_ahead(-np.arctan(0.3), 1.5) == pytest.approx(5.0)
    assert distance_ahead(0.0) == np.inf


def test_moments_are_those_of_the_statics(woman):
    look = look_ahead(woman.worn, woman.rig)
    assert look.flat_moment == pytest.approx(flat_answer(soft_rig(woman.rig)).pitch_moment, rel=1e-9)
    assert look.hold_moment == pytest.approx(moments_at(woman.rig, np.array([look.head_up]))[0])
    # with a keel below the diver there is a rest with roll held, and no moment there
    keel = Part("keel", "lead", point_mass(8.0, [0.1, 0.0, -0.4], 0.0008))
    rig = woman.rig
    keeled = rig_of([*rig.parts, keel], rig.water, suit=rig.suit, wing=rig.wing, held=rig.held)
    rest = look_ahead(woman.worn, keeled).rest_pitch
    assert rest is not None
    assert moments_at(keeled, np.array([rest]))[0] == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("demo", ["small-woman-steel", "tall-man-steel", "single-wetsuit"])
def test_the_lower_the_rig_the_more_look_ahead(looking, demo):
    looks = [looking(demo, BANDS, f"harness.drop={d} cm") for d in DROPS]
    gear, lift = (np.array([getattr(k, f) for k in looks]) for f in ("gear", "lift"))
    with np.errstate(invalid="ignore"):  # never met, twice
        assert ((np.diff(gear) > 0.0) | np.isinf(gear[1:])).all()
    assert (np.diff(lift) >= 0.0).all()
    assert (np.diff([k.head_up for k in looks]) <= 0.0).all()


def sees_ahead(look):
    return ahead_margin(look.gear, look.free, look.ahead) >= 0.0


@pytest.mark.parametrize("height", [156, 166, 176])
def test_standard_plate_on_the_waist_of_a_woman_blocks_her_look_ahead(looking, height):
    """Facts of the trade: lowering the rig opens it, and so does the small plate (common practice)."""
    body = (f"diver.height={height} cm", f"diver.mass={21 * (height / 100) ** 2:.0f} kg", "diver.measures={}")
    bare = (BANDS, *body)
    standard = looking("small-woman-steel", *bare)
    assert standard.gear < standard.free
    assert not sees_ahead(standard)
    lowered = looking("small-woman-steel", "harness.drop=10 cm", *bare)
    small = looking("small-woman-steel", "plate=small steel", *bare)
    assert sees_ahead(lowered)
    assert small.lift > standard.lift + np.radians(10.0)
    assert small.head_up < standard.head_up


def test_a_tall_mans_standard_plate_leaves_his_head_free(looking):
    look = looking("tall-man-steel", BANDS)
    assert look.blocked_by == NECK
    assert sees_ahead(look)


def test_without_cylinders_the_neck_alone_ends_it(looking):
    look = looking("small-woman-steel", "cylinders=none")
    assert (look.blocked_by, look.lift) == (NECK, look.free)
    assert look.contact is None or look.gear > look.free


def test_a_bulky_hood_takes_lift_away(looking):
    usual, bulky = (looking("tall-man-steel", f"fit.neck_bulk={d} deg") for d in (10, 25))
    assert np.degrees(usual.lift - bulky.lift) == pytest.approx(15.0)
