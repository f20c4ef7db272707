"""How a diver may lie afloat: the neck's tip by geometry, and attitudes that must agree with each other."""

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.assembly.afloat_attitudes import HELD, RELAXED, SEARCHES, _Search, attitudes, same_way, stays, wing_push
from sim.assembly.limbs import LINK_OF
from sim.assembly.limp_joints import angles_of
from sim.assembly.tipped_head import following, mouth_height, tipped_neck
from sim.floating.articulated import at_angles, carried_point
from sim.floating.energy import afloat
from sim.floating.limp import limp_from
from tests.sim.assembly.conftest import diver_of

WELL_CLEAR = 0.12  # m of the mouth over the water: LSA Code 2.2, for lifejackets
TIPPED = np.radians(10.0)  # to a side, from lying on the back

Y = np.array([0.0, 1.0, 0.0])
ARM = np.array([0.10, 0.0, -0.06])  # m, from the neck's pivot to the mouth
NECK = (radians(-35.0), radians(50.0))


@pytest.fixture(scope="module")
def told(dry_case):
    shares = []
    found = attitudes(dry_case.diver, shares.append)
    return found, shares


def height(angle, up, level):
    """Of the mouth, by turning it: lifting the head turns it about -y."""
    c, s = np.cos(angle), np.sin(angle)
    x, z = c * ARM[0] - s * ARM[2], s * ARM[0] + c * ARM[2]
    return up @ np.array([x, 0.0, z]) - level


@pytest.mark.parametrize("lean", np.radians([0.0, 40.0, 85.0, 130.0, 180.0]))
@pytest.mark.parametrize("level", [-0.3, -0.05, 0.0, 0.3])
def test_the_neck_tips_no_further_than_it_must(lean, level):
    """Among 2,000 angles none nearer to straight is well clear; where none is, none lifts the mouth higher."""
    up = np.array([np.cos(lean), 0.0, -np.sin(lean)])
    found = tipped_neck(up, level, ARM, NECK, 0.0)
    assert NECK[0] <= found <= NECK[1]
    every = np.linspace(*NECK, 2001)
    heights = np.array([height(a, up, level) for a in every])
    if heights.max() > WELL_CLEAR + 1e-4:
        clear = every[heights >= WELL_CLEAR]
        assert abs(found) == pytest.approx(np.abs(clear).min(), abs=radians(0.1))
    else:
        # to the 2 cm by which the neck stays where it is
        assert height(found, up, level) >= heights.max() - 0.02 - 1e-6


@pytest.mark.parametrize("lean", np.radians([20.0, 80.0, 100.0, 160.0]))
@pytest.mark.parametrize("above", [-0.15, 0.0, 0.10])
def test_the_divers_own_neck_follows_the_water(dry_case, lean, above):
    """``above`` : of the water over the neck's joint. Of 401 angles none nearer to straight has the mouth clear."""
    diver = dry_case.diver
    up = np.array([np.cos(lean), 0.0, -np.sin(lean)])
    level = float(up @ diver.body.joints[0].point) + above
    angles = np.array(angles_of(diver.body.joints, RELAXED))
    neck = following(diver)(up, level, angles)[0]
    assert neck.low == neck.high

    def mouth(angle):
        turned = np.concatenate([[angle], angles[1:]])
        return up @ carried_point(diver.body, turned, LINK_OF["head"], diver.mouth) - level

    every = np.linspace(*diver.neck, 401)
    heights = np.array([mouth(a) for a in every])
    if heights.max() > WELL_CLEAR + 1e-3:
        assert mouth(neck.low) >= WELL_CLEAR - 1e-6
        assert abs(neck.low) == pytest.approx(np.abs(every[heights >= WELL_CLEAR]).min(), abs=radians(0.5))
    else:
        assert mouth(neck.low) >= heights.max() - 0.02 - 1e-4


def test_lying_back_and_face_down_balance_and_upright_is_held(told):
    found, _ = told
    held = {a.name: a for a in found.held}
    assert list(held) == ["face up", "upright", "face down", "on the side"]
    for attitude in held.values():
        assert attitude.held.settled
        assert same_way(attitude.name, attitude.held.up)
    for name in ("face up", "face down"):
        assert held[name].held.up[1] == pytest.approx(0.0, abs=1e-12)
        assert held[name].held.moment @ Y == pytest.approx(0.0, abs=1e-3)
    assert held["upright"].held.up == pytest.approx([1.0, 0.0, 0.0])
    assert held["on the side"].held.up[2] == pytest.approx(0.0, abs=1e-12)


def test_rests_are_minima_of_the_diver_as_posed(dry_case, told):
    """Posed stiff, clipped as one rigid body: no force or moment is left, and joints press only at their ends."""
    for rest in told[0].rests:
        limp = rest.limp
        state = afloat(at_angles(dry_case.diver.body, limp.angles), limp.up, limp.level)
        assert abs(state.slope[0]) < 0.01
        assert np.cross(limp.up, state.slope[1:]) == pytest.approx(np.zeros(3), abs=0.01)
        joints = following(dry_case.diver)(limp.up, limp.level, limp.angles)
        for joint, angle, torque in zip(joints, limp.angles, limp.torque, strict=True):
            if joint.low + 1e-6 < angle < joint.high - 1e-6:
                assert torque == pytest.approx(0.0, abs=0.01)
            elif joint.high - joint.low > 1e-6:
                assert torque * (1.0 if angle > joint.low + 1e-6 else -1.0) >= 0.0


def test_left_alone_every_attitude_comes_to_a_rest_of_less_energy(told):
    found, _ = told
    for attitude in found.held:
        rest = found.rests[attitude.left_alone]
        assert attitude.name in rest.reached_from
        # springs and water; the neck, which the diver turns, may have done some work on the way
        assert rest.limp.energy < attitude.held.energy + 1.0
    assert sorted(n for r in found.rests for n in r.reached_from) == sorted(a.name for a in found.held)
    assert [r.limp.energy for r in found.rests] == sorted(r.limp.energy for r in found.rests)
    assert all(stays(r.limp) for r in found.rests)


def test_a_moment_turns_an_upright_diver_the_way_it_is_said_to(dry_case, told):
    """Plus is forward: free to lean, the diver goes that way, and back from beyond the tipping lean."""
    found, _ = told
    upright = next(a for a in found.held if a.name == "upright")
    follow = following(dry_case.diver)
    assert found.tips_at is not None
    assert upright.moment > 0.0
    for lean, way in ((0.0, 1.0), (0.5 * found.tips_at, 1.0), (found.tips_at + radians(8.0), -1.0)):
        up = np.array([np.cos(lean), 0.0, -np.sin(lean)])
        there = limp_from(dry_case.diver.body, up, upright.held.angles, held=True, follow=follow)
        assert np.sign(there.moment @ Y) == way
        free = limp_from(dry_case.diver.body, up, upright.held.angles, about=Y, follow=follow)
        assert np.sign(free.up[2]) == way  # the back up: face down


def test_the_wing_pushes_by_its_lift_times_its_distance_behind_the_cm(dry_case, told):
    """Upright and full: its litres under water, rho g V, about as far behind the CM as the middle of its cells."""
    diver, upright = dry_case.diver, told[0].held[1].held
    pocket = dry_case.hanging.assembled.rig.wing
    body = at_angles(diver.body, upright.angles)
    room = pocket.law.most
    behind = float(room @ pocket.cells[:, 2] / room.sum() - body.cm[2])
    most = body.density * body.gravity * diver.wing_gas * behind
    assert 0.3 * most < wing_push(diver, upright) <= 1.05 * most  # some of it is over the water


def test_limbs_kept_still_bring_back_more_than_limp_ones(dry_case, told):
    """The stiffer diver rights harder; both as the energy says, by a difference over the last tenth of the tilt."""
    found, _ = told
    assert found.rights_still > found.rights
    lying = next(a for a in found.held if a.name == "face up").held
    stiff = replace(
        dry_case.diver.body,
        joints=tuple(
            replace(j, low=a, high=a) for j, a in zip(dry_case.diver.body.joints, lying.angles, strict=True)
        ),
    )
    step = radians(0.5)

    def energy(roll):
        up = np.array([0.05, np.sin(roll), -np.cos(roll)])
        axis = np.array([0.0, np.cos(roll), np.sin(roll)])
        return limp_from(stiff, up, lying.angles, about=axis).energy

    # a turn of the long axis is a little less than the roll where the trunk is not level
    slope = (energy(TIPPED + step) - energy(TIPPED - step)) / (2.0 * step)
    assert found.rights_still == pytest.approx(slope, rel=0.03)


def test_the_mouth_is_told_over_the_water(dry_case, told):
    diver = dry_case.diver
    for rest in told[0].rests:
        mouth = carried_point(diver.body, rest.limp.angles, LINK_OF["head"], diver.mouth)
        assert rest.mouth == pytest.approx(rest.limp.up @ mouth - rest.limp.level)
        assert rest.mouth == mouth_height(diver, rest.limp)


def test_progress_rises_to_the_end(told):
    shares = told[1]
    assert shares == sorted(shares)
    assert 1.0 - 4.0 / SEARCHES <= shares[-1] <= 1.0


def test_progress_is_never_more_than_the_whole(dry_case, monkeypatch):
    """However many rests are looked for."""
    monkeypatch.setattr("sim.assembly.afloat_attitudes.limp_from", lambda *args, **keys: None)
    shares = []
    search = _Search(dry_case.diver, following(dry_case.diver), shares.append)
    for _ in range(SEARCHES + 3):
        search(np.array([1.0, 0.0, 0.0]), np.zeros(1))
    assert shares[0] == pytest.approx(1.0 / SEARCHES)
    assert shares[-4:] == [1.0] * 4


def test_who_sinks_has_no_attitude(dry_case):
    heavy = dry_case.diver.body
    stone = replace(heavy, links=(replace(heavy.links[0], mass=heavy.links[0].mass + 60.0), *heavy.links[1:]))
    assert attitudes(replace(dry_case.diver, body=stone)) is None


def test_more_gas_in_the_wing_floats_higher():
    """The same diver with 5 and with 9 l: 4 l more over the water, the mouth higher, the weight of the gas more."""
    heights, dry = [], []
    for litres in (5, 9):
        diver = diver_of(demo_path("single-wetsuit"), [f"wing.gas={litres} l"]).diver
        up, about = HELD["face up"]
        start = angles_of(diver.body.joints, RELAXED)
        lying = limp_from(diver.body, up, start, about=about, follow=following(diver))
        body = at_angles(diver.body, lying.angles)
        whole = sum(h.volume for h in body.hulls) + sum(float(s.volume.sum()) for s in body.specks) + litres * 1e-3
        dry.append(whole - afloat(body, lying.up, lying.level).volume)
        heights.append(mouth_height(diver, lying))
    assert dry[1] - dry[0] == pytest.approx(4e-3, abs=2e-5)
    assert heights[1] > heights[0]
