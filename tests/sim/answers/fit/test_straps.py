"""The harness on the body: it lies on the skin, is as long as it must be, and its length says how low a rig hangs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
import trimesh

from scenarios.errors import ScenarioError
from sim.answers.fit.straps import straps
from sim.assembly.placement import point_at
from sim.assembly.seat import seated
from sim.assembly.strap_length import DROPS, drop_of_strap, slots_below_shoulders, strap_length
from sim.assembly.strap_paths import strap_paths
from sim.person.trunk_skin import trunk_skin

WOMAN, MAN = "small-woman-steel", "tall-man-steel"
HALF_THICKNESS = 0.5 * 0.0025  # m, of webbing (common practice)
SHOULDER_BALL = {"male": 0.0245, "female": 0.0215}  # m, radius (Iannotti et al. 1992, from memory)


@pytest.fixture(scope="module", params=[WOMAN, MAN])
def worn(request, dressed):
    return dressed(request.param).worn


def test_the_straps_lie_on_the_skin_and_not_in_it(worn):
    """Held against the trunk's closed solids by another library; runs bridge hollows but touch somewhere."""
    solids = [
        trimesh.Trimesh(m.vertices, m.faces, process=False)
        for name, m in worn.body.person.meshes.items()
        if name.endswith("trunk")
    ]
    off = worn.under_straps + HALF_THICKNESS
    paths = straps(worn).paths
    for run in (paths.over, paths.under, paths.waist):
        inner = run.points[2:-2]
        assert not any(solid.contains(inner).any() for solid in solids)
        gap = np.min([trimesh.proximity.closest_point(solid, inner)[1] for solid in solids], axis=0)
        # in its own plane a strap is `off` from the skin; square to a skin that slants across it, it is nearer
        assert gap.min() > 0.5 * off
        assert gap.min() < 1.2 * off


def test_the_waist_strap_is_the_hull_of_the_section(worn):
    """Against the body's own section in closed form, grown by the clothing, with the slots: another way of hull."""
    height = float(point_at(worn.seat, worn.plate.waist_slots)[0, 0])
    angle = np.linspace(0.0, np.pi, 721)
    half = worn.body.person.shape.trunk.at(np.full(721, height), angle)[:, 1:]
    section = shapely.Polygon(np.vstack([half, half[-2:0:-1] * [-1.0, 1.0]]))
    grown = section.buffer(worn.under_straps + HALF_THICKNESS, quad_segs=32)
    left, right = point_at(worn.seat, worn.plate.waist_slots)[:, 1:]
    front = shapely.box(-1.0, -1.0, 1.0, float(left[1]))  # what lies behind the slots is not in the way
    hull = shapely.union_all([grown & front, shapely.Point(left), shapely.Point(right)]).convex_hull
    chord = float(np.linalg.norm(left - right))
    # the drawn skin is smoothed and has a triangle every 2 cm
    assert straps(worn).waist == pytest.approx(hull.exterior.length - chord, rel=0.01)


def test_left_and_right_are_mirror_images(worn):
    """Slots of the right side give the mirror image of the left strap; the waist strap is its own."""
    flip = np.array([1.0, -1.0, 1.0])
    waist = straps(worn).paths.waist.points
    np.testing.assert_allclose(waist[::-1] * flip, waist, atol=2e-3)  # one hull point more or less at a flat place
    assert abs(straps(worn).paths.crotch.points[:, 1]).max() < 1e-12


def test_lower_takes_longer_straps(worn):
    args = (worn.plate, worn.body, worn.padding, worn.under_straps)
    drops = np.linspace(max(DROPS[0], slots_below_shoulders(worn.plate, worn.body)), DROPS[1], 25)
    lengths = np.array([strap_length(drop, *args) for drop in drops])
    assert (np.diff(lengths) > 0.0).all()
    # lowered by a centimetre, back and front of the strap grow by up to one each
    assert (np.diff(lengths) < 2.1 * np.diff(drops)).all()


@pytest.mark.parametrize("drop", [-0.02, 0.0, 0.06, 0.2])
def test_drop_and_strap_length_say_the_same(worn, drop):
    args = (worn.plate, worn.body, worn.padding, worn.under_straps)
    assert drop_of_strap(strap_length(drop, *args), *args) == pytest.approx(drop, abs=2e-5)


def test_a_strap_length_in_the_file_hangs_the_rig_there(dressed):
    told = dressed(WOMAN, "harness.shoulder_strap=66 cm").worn
    assert told.drop > 0.02
    assert straps(told).shoulder == pytest.approx(0.66, abs=5e-5)
    assert seated(told.plate, told.body, told.padding, told.drop).origin == pytest.approx(told.seat.origin, abs=1e-12)


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        (("harness.shoulder_strap=150 cm",), "harness.shoulder_strap: a shoulder strap of 150.0 cm hangs this plate"),
        (("harness.shoulder_strap=30 cm",), "give .* to .* cm, measured from the slot"),
        (("harness.shoulder_strap=60 cm", "harness.drop=2 cm"), "drop and shoulder_strap say the same"),
    ],
)
def test_a_strap_that_cannot_be_is_told(dressed, settings, words):
    with pytest.raises(ScenarioError, match=words):
        dressed(WOMAN, *settings)


def test_straps_cross_between_slot_and_armpit(worn):
    found = straps(worn)
    crossing = found.paths.over.highest[0][1]
    assert float(worn.plate.shoulder_slots[0, 1]) < crossing < found.paths.over.points[-1, 1]
    assert found.crossing.inner + found.crossing.outer + 0.05 == pytest.approx(
        0.5 * worn.body.person.measures["biacromialbreadth"]
        - worn.body.person.measures["neckcircumferencebase"] / (2.0 * np.pi),
        rel=1e-12,
    )


def test_webbing_to_cut_is_what_runs_lies_in_slots_and_hangs_over(worn):
    """One piece: both shoulders, the waist, the plate between its upper slots, 5 cm in each of four slots, 20 cm of
    tail at each end; the crotch strap's loops take 30 cm (assumed)."""
    found, slots = straps(worn), worn.plate.shoulder_slots
    between = float(np.hypot(*(slots[0] - slots[1])[1:]))
    assert found.one_piece == pytest.approx(
        2 * found.shoulder + found.waist + between + 4 * 0.05 + 2 * 0.20, abs=1e-9
    )
    assert found.crotch_cut == pytest.approx(found.crotch + 0.30, abs=1e-12)


def test_slots_farther_apart_cross_farther_out(worn):
    shares = []
    for out in (0.7, 1.0, 1.3):
        plate = replace(worn.plate, shoulder_slots=worn.plate.shoulder_slots * [1.0, out, 1.0])
        shares.append(straps(replace(worn, plate=plate)).crossing.share)
    assert shares[0] < shares[1] < shares[2]


def test_a_rig_below_the_trunk_has_straps_too(worn):
    """Nobody can wear it, but it is answered: there is nothing down there for the strap to lie on."""
    paths = strap_paths(worn.plate, seated(worn.plate, worn.body, worn.padding, 0.3), worn.body, worn.under_straps)
    assert np.isfinite(paths.waist.points).all()


def test_posed_and_standing_straps_agree_where_the_trunk_does(worn):
    standing, posed = (
        strap_paths(worn.plate, worn.seat, worn.body, worn.under_straps, posed=p) for p in (False, True)
    )
    assert posed.waist.length == pytest.approx(standing.waist.length, rel=1e-6)


def outward_slope(worn, crossing):
    """Across the shoulder under the strap's highest point: places y (n,) [m] and the skin's outward fall [rad]."""
    skin = trunk_skin(worn.body.person)
    points, normals = skin.cut([0.0, 0.0, crossing[2]], [0.0, 0.0, 1.0])
    on_top = (points[:, 0] > worn.body.person.skeleton.heights["axilla"]) & (points[:, 1] > 0.0)
    order = np.argsort(points[on_top, 1])
    y, normal = points[on_top][order, 1], normals[on_top][order]
    return y, np.arctan2(normal[:, 1], normal[:, 0])


@pytest.mark.parametrize(
    ("demo", "settings"),
    [
        (WOMAN, ()),
        (WOMAN, ('diver.height="156 cm"', "diver.measures={}")),
        (WOMAN, ('diver.measures={"biacromial breadth" = "33.5 cm"}',)),
        (WOMAN, ('diver.height="176 cm"', 'diver.mass="68 kg"', "diver.measures={}")),
        (MAN, ()),
        (MAN, ('diver.height="178 cm"', 'diver.mass="80 kg"', "diver.measures={}")),
    ],
)
def test_the_shoulder_is_flattest_inside_the_ball_of_the_joint(dressed, demo, settings):
    """The mechanics behind the rule for slipping: steeper outside that shelf, a strap sliding out does not stop."""
    worn = dressed(demo, *settings).worn
    found = straps(worn)
    person = worn.body.person
    ball = float(person.skeleton.joints["shoulder"][1]) - SHOULDER_BALL[person.sex]
    y, slope = outward_slope(worn, found.paths.over.highest[0])
    inside = np.linspace(ball - 0.06, ball, 25)
    fall = np.interp(inside, y, slope)
    shelf = int(fall.argmin())
    assert 0.005 < ball - inside[shelf] < 0.035
    assert np.degrees(fall[-1] - fall[shelf]) > 1.0
    assert np.degrees(fall[0] - fall[shelf]) > 3.0
    assert found.slope == pytest.approx(np.interp(found.paths.over.highest[0][1], y, slope), abs=np.radians(4.0))
