"""Room in a drysuit: rings round limbs by hand, shells that are too narrow for their garment, straps, boots."""

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from scenarios.reading import read_file
from sim.assembly.shell import chosen, on_segments
from sim.assembly.suit_cut import Room, covered, gas_thickness, pressed, room_of
from sim.case import Case

WOMAN = demo_path("small-woman-steel")
STIFFNESS = 570.0  # Pa, of the medium undergarment by the catalogue


@pytest.fixture(scope="module")
def body():
    return Case.read(WOMAN).assembled.worn.body


def room(body, *settings):
    suit = read_file(WOMAN, ("suit.gaiters=false", *settings)).content.suit
    patches = chosen(body.skin, ~on_segments(body.skin, "head", "hand"))
    return patches, suit, room_of(suit, patches, body.person.measures, STIFFNESS)


def test_a_limb_holds_a_ring_of_gas(body):
    """Round a girth g, a layer h fills g h + pi h^2 a length: of the loft, the thickness less the fibres' own."""
    patches, suit, made = room(body)
    arm = on_segments(patches, "upper arm")
    girth = body.person.measures["bicepscircumferenceflexed"]
    layer = 0.8 * (0.010 - 0.42 / 1380.0)  # the medium garment, on limbs
    ring = (girth + 2.0 * np.pi * layer) ** 2 / (4.0 * np.pi) - girth**2 / (4.0 * np.pi)
    np.testing.assert_allclose(made.loft[arm], patches.area[arm] * ring / girth, rtol=1e-12)
    np.testing.assert_allclose(made.slack[arm], 0.008 * patches.area[arm], rtol=1e-12)  # the catalogue's slack
    assert not made.preload.any()
    assert gas_thickness(suit) == pytest.approx(0.010 - 0.42 / 1380.0)


STATIONS = {
    "thigh": ([0.1, 1.0], ["thighcircumference", "lowerthighcircumference"]),
    "shank": ([0.0, 0.3, 0.95], ["lowerthighcircumference", "calfcircumference", "anklecircumference"]),
    "forearm": ([0.25, 1.0], ["forearmcircumferenceflexed", "wristcircumference"]),
    "lower trunk": ([0.5], ["buttockcircumference"]),
    "middle trunk": ([0.5], ["waistcircumference"]),
    "upper trunk": ([0.5], ["chestcircumference"]),
}


@pytest.mark.parametrize("segment", STATIONS)
def test_rings_are_round_the_girths_where_a_tape_takes_them(body, segment):
    """Straight between them, by shares of the segment from its upper end: what the ring holds tells its girth."""
    patches, suit, made = room(body)
    there = on_segments(patches, segment)
    layer = (1.0 if segment.endswith("trunk") else 0.8) * gas_thickness(suit)
    girth = np.pi * layer / (made.loft[there] / patches.area[there] / layer - 1.0)
    shares, names = STATIONS[segment]
    by_hand = np.interp(patches.along[there], shares, [body.person.measures[n] for n in names])
    np.testing.assert_allclose(girth, by_hand, rtol=1e-9)


def test_a_measured_sleeve_holds_what_lies_between_two_tubes(body):
    """(G^2 - g^2)/4 pi a length, less the fibres, G twice the flat width; the garment inside it as ever."""
    patches, _, wide = room(body, "suit.widths.upper_arm=22 cm")
    arm = on_segments(patches, "upper arm")
    girth = body.person.measures["bicepscircumferenceflexed"]
    between = (0.44**2 - girth**2) / (4.0 * np.pi * girth) - 0.42 / 1380.0
    np.testing.assert_allclose((wide.loft + wide.slack)[arm], patches.area[arm] * between, rtol=1e-12)
    _, _, usual = room(body)
    np.testing.assert_array_equal(wide.loft[arm], usual.loft[arm])
    elsewhere = ~on_segments(patches, "upper arm", "forearm")
    np.testing.assert_array_equal(wide.slack[elsewhere], usual.slack[elsewhere])


def test_a_narrow_sleeve_keeps_a_squeeze_on_the_garment(body):
    """As van Wyk's law has it for the garment at that thickness: p = P ((h0/h)^3 - 1)."""
    girth = body.person.measures["bicepscircumferenceflexed"]
    patches, _, narrow = room(body, f"suit.widths.upper_arm={50.0 * girth + 1.0:.3f} cm")
    _, _, usual = room(body)
    arm = on_segments(patches, "upper arm")
    thinner = narrow.loft[arm] / usual.loft[arm]
    assert (thinner < 0.8).all()
    np.testing.assert_allclose(narrow.preload[arm], STIFFNESS * (thinner**-3 - 1.0), rtol=1e-12)


def test_a_sleeve_is_no_narrower_than_a_twentieth_of_its_garment(body):
    """As wide as the arm alone it holds no gas: 0.05 is the least (assumed)."""
    girth = body.person.measures["bicepscircumferenceflexed"]
    patches, _, least = room(body, f"suit.widths.upper_arm={50.0 * girth:.4f} cm")
    _, _, usual = room(body)
    arm = on_segments(patches, "upper arm")
    np.testing.assert_allclose(least.loft[arm], 0.05 * usual.loft[arm], rtol=1e-9)
    np.testing.assert_allclose(least.slack[arm], 0.1 * least.loft[arm], rtol=1e-9)


def test_sleeves_and_legs_have_half_the_slack_toward_their_ends(body):
    """Below elbow and knee (assumed); the ankle is as wide as the heel that went through, as it is told."""
    patches, _, made = room(body, "suit.slack=12 mm")
    fore, arm = (on_segments(patches, s) for s in ("forearm", "upper arm"))
    np.testing.assert_allclose(made.slack[arm], 0.012 * patches.area[arm], rtol=1e-12)
    # a garment's ring is told at two tapes and goes straight between them, its own room by the girth there: 1 %
    np.testing.assert_allclose(made.slack[fore], 0.006 * patches.area[fore], rtol=0.012)


def test_a_shell_worn_bare_has_a_millimetre_of_folds(body):
    _, suit, _ = room(body, "suit.undergarment=none")
    assert gas_thickness(suit) == 0.001  # assumed


def test_above_the_ankle_a_leg_is_as_wide_as_the_heel_that_went_through(body):
    """34 cm of heel and instep over an ankle of 23: so much more than this ankle's, unless the width was taken."""
    patches, _, usual = room(body)
    m = body.person.measures
    shank = on_segments(patches, "left shank")
    lower, upper = (shank & ((patches.along > 0.5) == way) for way in (True, False))
    heel = m["anklecircumference"] * 34.0 / 23.0
    just = (heel**2 - m["anklecircumference"] ** 2) / (4.0 * np.pi * m["anklecircumference"])
    per_area = ((usual.loft + usual.slack) / patches.area)[lower]
    assert (per_area > 0.4 * just).all()  # part of the way from the calf down to the ankle
    _, _, close = room(body, f"suit.widths.ankle={50.0 * m['anklecircumference'] + 2.0:.3f} cm")
    assert ((usual.loft + usual.slack)[lower] > 1.3 * (close.loft + close.slack)[lower]).all()
    np.testing.assert_allclose(close.slack[upper], usual.slack[upper], rtol=0.2)  # the calf's width stays


def test_heel_and_cuff_count_where_they_were_measured(body):
    """A wider heel goes through a wider ankle, a close cuff keeps the sleeve close at the wrist, each there alone."""
    patches, _, usual = room(body)
    _, _, wide = room(body, "suit.widths.heel_girth=40 cm")
    more = (wide.loft + wide.slack) - (usual.loft + usual.slack)
    lower_shank = on_segments(patches, "shank") & (patches.along > 0.5)
    ankle = body.person.measures["anklecircumference"]
    ring = (0.40**2 - (ankle * 34.0 / 23.0) ** 2) / (4.0 * np.pi * ankle)  # per skin area, at the ankle itself
    assert (more[lower_shank] > 0.3 * ring * patches.area[lower_shank]).all()
    assert np.abs(more[~on_segments(patches, "shank")]).max() == 0.0
    _, _, close = room(body, f"suit.widths.cuff={50.0 * body.person.measures['wristcircumference'] + 1.0:.3f} cm")
    less = (usual.loft + usual.slack) - (close.loft + close.slack)
    assert (less[on_segments(patches, "forearm") & (patches.along > 0.5)] > 0.0).all()
    assert np.abs(less[~on_segments(patches, "forearm")]).max() == 0.0


def test_a_strap_presses_as_hard_as_it_is_drawn():
    """Over a garment of 1 l a strap at 3 kPa leaves (1 + 3000/P)^(-1/3) of it, and hardly lets it blow up again."""
    free = Room(np.array([1e-3, 1e-3]), np.array([5e-4, 5e-4]), np.zeros(2))
    strapped = pressed(free, np.array([True, False]), 3000.0, STIFFNESS)
    assert strapped.loft[0] == pytest.approx(1e-3 * (1.0 + 3000.0 / STIFFNESS) ** (-1.0 / 3.0), rel=1e-12)
    assert strapped.preload[0] == 3000.0
    assert strapped.slack[0] == pytest.approx(0.1 * strapped.loft[0], rel=1e-12)  # puckered seams (assumed)
    assert (strapped.loft[1], strapped.slack[1], strapped.preload[1]) == (1e-3, 5e-4, 0.0)
    twice = pressed(strapped, np.array([True, True]), 3000.0, STIFFNESS)
    assert twice.loft[0] == pytest.approx(strapped.loft[0], rel=1e-12)  # a second strap as tight changes nothing
    assert twice.loft[1] == pytest.approx(strapped.loft[0], rel=1e-12)


def test_gear_covers_a_share_of_a_patch():
    half = covered(Room(np.array([1e-3]), np.array([5e-4]), np.array([40.0])), np.array([0.5]), 0.3)
    assert half.loft[0] == pytest.approx(0.65e-3)
    assert half.slack[0] == pytest.approx(3.25e-4)
    assert half.preload[0] == 40.0


def test_boots_hold_what_they_hold(body):
    patches, _, half = room(body)
    _, _, tight = room(body, "suit.boots_room=25 %")
    foot = on_segments(patches, "foot")
    np.testing.assert_allclose(tight.loft[foot], 0.5 * half.loft[foot], rtol=1e-12)
    np.testing.assert_array_equal(tight.loft[~foot], half.loft[~foot])
    np.testing.assert_allclose(half.slack[foot], 0.1 * half.loft[foot], rtol=1e-12)  # as any taut shell (assumed)


def test_gas_in_the_legs_is_what_gaiters_take_and_wide_legs_bring():
    def leg_gas(*settings):
        made = Case.read(WOMAN, ("suit.gaiters=false", *settings)).assembled
        law, patches = (
            made.rig.suit.law,
            chosen(made.worn.body.skin, ~on_segments(made.worn.body.skin, "head", "hand")),
        )
        shank = on_segments(patches, "shank")
        return law.most[shank].sum(), law.most[~shank].sum()

    usual, strapped, wide = (leg_gas(*s) for s in ((), ("suit.gaiters=true",), ("suit.widths.calf=28 cm",)))
    assert strapped[0] < 0.6 * usual[0] < 0.5 * wide[0]
    assert strapped[1] == pytest.approx(usual[1], rel=1e-12)
    assert wide[1] == pytest.approx(usual[1], rel=1e-12)


def test_a_suit_that_nobody_gets_into_is_refused_by_its_key():
    with pytest.raises(ScenarioError, match=r"suit\.widths\.calf.*13\.0 cm wide there is 26 cm round") as refused:
        _ = Case.read(WOMAN, ("suit.widths.calf=13 cm",)).assembled
    assert "measure it flat" in str(refused.value)
