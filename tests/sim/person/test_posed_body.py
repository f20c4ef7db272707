"""A body in a pose: what a pose may and may not change."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.solid import MIRROR, combined, point_mass
from sim.person.person import person_of
from sim.person.pose import POSES, RANGES, Limbs, Pose, checked_pose, symmetric_pose
from sim.person.posed_body import posed_body


@pytest.mark.parametrize("name", POSES)
def test_totals_in_every_pose(woman, man, name):
    for person in (woman, man):
        body = posed_body(person, POSES[name])
        whole = body.whole()
        assert whole.mass == pytest.approx(person.mass, rel=1e-14)
        assert whole.volume == pytest.approx(person.volume, rel=1e-14)
        assert len(body.segments) == 16
        # Symmetric poses: nothing off the midline but rounding
        assert abs(whole.cm[1]) < 1e-15
        assert abs(whole.cb[1]) < 1e-15


@pytest.mark.parametrize("name", POSES)
def test_segments_are_rigid(woman, name):
    upright, posed = (dict(posed_body(woman, POSES[p]).segments) for p in ("upright", name))
    for segment, solid in posed.items():
        rest = upright[segment]
        assert solid.mass == rest.mass
        assert solid.volume == rest.volume
        np.testing.assert_allclose(np.linalg.eigvalsh(solid.inertia), np.linalg.eigvalsh(rest.inertia), rtol=1e-12)
        a, b = (s.mesh.vertices - s.cm for s in (solid, rest))
        np.testing.assert_allclose(np.linalg.norm(a, axis=1), np.linalg.norm(b, axis=1), rtol=0, atol=1e-13)
        moments = np.linalg.eigvalsh(solid.inertia)
        assert moments[2] <= moments[0] + moments[1]  # a real body's inertia


def test_right_segments_mirror_the_left(man):
    body = posed_body(man, POSES["flat, knees bent"])
    solids = dict(body.segments)
    for name, solid in solids.items():
        if name.startswith("left "):
            twin = solids["right " + name.removeprefix("left ")]
            np.testing.assert_allclose(twin.cm, MIRROR @ solid.cm, rtol=0, atol=1e-15)
            np.testing.assert_allclose(twin.inertia, MIRROR @ solid.inertia @ MIRROR, rtol=0, atol=1e-15)


def test_one_side_moves_alone(man):
    pose = POSES["upright"]
    turned = replace(pose, left=replace(pose.left, knee_flexion=1.5, shoulder_flexion=2.0))
    before, after = (dict(posed_body(man, p).segments) for p in (pose, turned))
    moved = {n for n in before if not np.array_equal(before[n].cm, after[n].cm)}
    assert moved == {"left upper arm", "left forearm", "left hand", "left shank", "left foot"}


def test_poses_look_as_they_are_called(woman):
    flat = posed_body(woman, POSES["flat, knees bent"])
    knee, ankle = flat.joints["left knee"], flat.joints["left ankle"]
    assert abs(knee[2] - flat.joints["left hip"][2]) < 0.05  # thighs level
    shin = (ankle - knee) / np.linalg.norm(ankle - knee)
    assert shin[2] > 0.95  # shanks to the back
    foot = flat.frames["left foot"] @ [0.0, 0.0, -1.0]
    assert foot[0] < -0.99  # fins along the body, away from the head
    assert flat.joints["left wrist"][0] > flat.landmarks["vertex"][0]  # hands ahead of the head
    assert flat.landmarks["mouth"][0] > flat.landmarks["c7"][0]  # looking ahead: the face turned to the head end
    sides = posed_body(woman, POSES["arms at sides"])
    assert sides.joints["left wrist"][0] < 0.1
    ahead = posed_body(woman, POSES["arms ahead"])
    assert ahead.landmarks["left fingertip"][0] > ahead.landmarks["vertex"][0] + 0.3
    straight = posed_body(woman, POSES["flat, legs straight"])
    assert straight.joints["left ankle"][2] < 0.15


def test_more_gas_moves_the_lungs_share_and_the_organs(man):
    """What is beyond FRC shows at the walls, forward and footward of the lungs; the organs go footward."""
    calm, full = (
        posed_body(person_of("male", 1.90, 90.0, lung_gas=gas), POSES["upright"]) for gas in (man.frc, man.frc + 3e-3)
    )
    assert full.lungs.volume - calm.lungs.volume == pytest.approx(3e-3)
    assert full.lungs.mass == 0.0
    assert full.lungs.cb[0] < calm.lungs.cb[0]
    assert full.lungs.cb[2] < calm.lungs.cb[2]
    before, after = (dict(b.segments)["middle trunk"] for b in (calm, full))
    assert after.cm[0] < before.cm[0]
    assert before.cm[0] == pytest.approx(before.cb[0], abs=1e-15)
    for b in (calm, full):
        for name, solid in b.segments:
            if name != "middle trunk":
                np.testing.assert_array_equal(solid.cm, solid.cb)


def test_organs_keep_the_outline_full(man):
    """Gas put at the lungs, organs pushed, walls out: the first moments of volume add up."""
    from sim.person.lung_gas import lung_centroid, moving_wall, organ_moment

    trunk = man.shape.trunk
    gain = 2.5e-3
    added = lung_centroid(trunk) - [0.05, 0.0, 0.0]  # what is added lies 5 cm lower
    outline = gain * moving_wall(trunk)
    np.testing.assert_allclose(organ_moment(trunk, man.frc + gain, man.frc) + gain * added, outline, rtol=1e-12)


def test_gear_is_carried_with_its_segment(man):
    body = posed_body(man, POSES["flat, knees bent"])
    at_ankle = point_mass(1.0, man.skeleton.joints["ankle"])
    np.testing.assert_allclose(body.carried("left shank", at_ankle).cm, body.joints["left ankle"], rtol=0, atol=1e-12)
    np.testing.assert_allclose(body.carried("left foot", at_ankle).cm, body.joints["left ankle"], rtol=0, atol=1e-12)
    knee = point_mass(1.0, man.skeleton.joints["knee"])
    gap = np.linalg.norm(body.carried("left shank", at_ankle).cm - body.carried("left shank", knee).cm)
    assert gap == pytest.approx(np.linalg.norm(man.skeleton.joints["ankle"] - man.skeleton.joints["knee"]))


def test_landmarks_are_where_they_belong(man):
    body = posed_body(man, POSES["upright"])
    mark, measures = body.landmarks, man.measures
    floor = man.skeleton.heights["floor"]
    assert mark["vertex"][0] - floor == pytest.approx(man.height, abs=1e-12)
    assert mark["c7"][0] - floor == pytest.approx(measures["cervicaleheight"], abs=1e-12)
    assert mark["notch"][0] - floor == pytest.approx(measures["suprasternaleheight"], abs=1e-12)
    assert mark["left acromion"][1] - mark["right acromion"][1] == pytest.approx(measures["biacromialbreadth"])
    for back, front in (("c7", "notch"), ("waist back", "navel")):
        assert mark[back][2] > mark[front][2] + 0.1
    assert mark["chin"][0] < mark["mouth"][0] < mark["eyes"][0] < mark["forehead"][0] < mark["vertex"][0]
    assert mark["left heel"][2] - mark["left toe"][2] == pytest.approx(measures["footlength"], rel=0.02)
    for name, point in mark.items():
        if name.startswith("left "):
            np.testing.assert_allclose(
                mark["right " + name.removeprefix("left ")], MIRROR @ point, rtol=0, atol=1e-15
            )


def test_back_surface_lies_on_the_skin(man):
    """Against the mesh itself: rays from behind, straight forward, meet the skin at the surface."""
    import trimesh

    body = posed_body(man, POSES["upright"])
    mesh = combined([s for n, s in body.segments if "trunk" in n]).mesh
    solid = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    x, y = (a.ravel() for a in np.meshgrid(np.linspace(0.05, 0.42, 8), np.linspace(-0.08, 0.08, 5)))
    start = np.stack([x, y, np.full_like(x, 0.5)], axis=1)
    hits, ray, _ = solid.ray.intersects_location(start, np.tile([0.0, 0.0, -1.0], (len(x), 1)))
    z = np.full(len(x), -np.inf)
    np.maximum.at(z, ray, hits[:, 2])
    surface = body.back_surface(x, y)
    np.testing.assert_allclose(surface, z, rtol=0, atol=1.5e-3)  # flat facets some 2 cm wide on the curved back
    np.testing.assert_array_equal(surface, body.back_surface(x, -y))
    assert body.back_surface(0.3).shape == ()


def test_reach_grows_with_the_arm_raised():
    """Standing overhead reach of ANSUR II, a full effort: 1.289 of stature in men. Bones alone: 5 % less."""
    person = person_of("male", 1.756, 85.5)
    body = posed_body(person, symmetric_pose(shoulder_flexion=np.pi))
    reach = body.landmarks["left fingertip"][0] - person.skeleton.heights["floor"]
    assert 0.94 * 1.289 < reach / 1.756 < 1.289


@pytest.mark.parametrize("joint", RANGES)
def test_joints_have_limits(joint):
    low, high = np.radians(RANGES[joint])
    for angle in (low - 0.01, high + 0.01, float("nan")):
        pose = (
            Pose(Limbs(), Limbs(), angle)
            if joint == "neck_extension"
            else Pose(Limbs(), Limbs(**{joint: angle}), 0.0)
        )
        with pytest.raises(ValueError, match=joint.replace("_", " ")):
            checked_pose(pose)
    for angle in (low, high):
        symmetric_pose(**{joint: angle})
