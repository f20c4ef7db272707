"""Which way the joints turn, and that segments stay rigid and joined."""

from dataclasses import fields, replace

import numpy as np
import pytest

from meshes.body.kinematics import segment_motions, shoulder_rise
from meshes.body.pose import Limbs, Pose
from meshes.body.skeleton import skeleton_of
from meshes.body.topology import SEGMENTS
from sim.person.measures import estimated_measures

SHOULDER_RISE = 0.030  # of stature, arm overhead: assumed, half of what the overhead reach of ANSUR II asks for

MAN = skeleton_of("male", 1.80, estimated_measures("male", 1.80, 80.0).values())
REST = Pose(Limbs(), Limbs())


def placed(**angles):
    limbs = Limbs(**{k: np.radians(v) for k, v in angles.items() if k != "neck_extension"})
    return segment_motions(MAN, Pose(limbs, limbs, np.radians(angles.get("neck_extension", 0.0))))


def test_standing_moves_nothing():
    for p in segment_motions(MAN, REST).values():
        np.testing.assert_array_equal(p.rotation, np.eye(3))
        np.testing.assert_allclose(p.at, p.pivot, rtol=0, atol=1e-15)


def test_knees_bend_to_the_back():
    p = placed(knee_flexion=90.0)
    shin = p["left foot"].at - p["left shank"].at
    assert shin[2] == pytest.approx(MAN.joints["knee"][0] - MAN.joints["ankle"][0], abs=1e-12)
    # Heel to toe, forward when standing, lies along the body with the toes away from the head
    np.testing.assert_allclose(p["left foot"].rotation @ [0.0, 0.0, -1.0], [-1.0, 0.0, 0.0], rtol=0, atol=1e-15)


def test_hips_bend_to_the_front_and_apart():
    knee = placed(hip_flexion=90.0)["left shank"].at
    assert knee[2] == pytest.approx(MAN.joints["knee"][0], abs=1e-12)
    assert placed(hip_abduction=30.0)["left shank"].at[1] > MAN.joints["knee"][1]
    assert placed(hip_abduction=30.0)["right shank"].at[1] < -MAN.joints["knee"][1]


def test_toes_point_away_from_the_shin():
    toes = placed(ankle_plantarflexion=60.0)["left foot"].rotation @ [0.0, 0.0, -1.0]
    assert toes[0] == pytest.approx(-np.sin(np.radians(60.0)), abs=1e-15)


def test_arms_go_forward_overhead_and_out():
    forward = placed(shoulder_flexion=90.0)["left upper arm"].rotation @ [-1.0, 0.0, 0.0]
    np.testing.assert_allclose(forward, [0.0, 0.0, -1.0], rtol=0, atol=1e-15)
    overhead = placed(shoulder_flexion=180.0)["left upper arm"].rotation @ [-1.0, 0.0, 0.0]
    np.testing.assert_allclose(overhead, [1.0, 0.0, 0.0], rtol=0, atol=1e-15)
    out = placed(shoulder_abduction=90.0)["left upper arm"].rotation @ [-1.0, 0.0, 0.0]
    np.testing.assert_allclose(out, [0.0, 1.0, 0.0], rtol=0, atol=1e-15)


def test_elbow_bends_the_forearm_to_the_front():
    p = placed(elbow_flexion=90.0)["left forearm"].rotation @ [-1.0, 0.0, 0.0]
    np.testing.assert_allclose(p, [0.0, 0.0, -1.0], rtol=0, atol=1e-15)


def test_palms_face_down_when_flat_with_arms_ahead():
    p = placed(shoulder_flexion=180.0, pronation=90.0)["left hand"].rotation
    np.testing.assert_allclose(p @ [0.0, -1.0, 0.0], [0.0, 0.0, -1.0], rtol=0, atol=1e-15)  # palm to the front
    np.testing.assert_allclose(p @ [0.0, 0.0, -1.0], [0.0, -1.0, 0.0], rtol=0, atol=1e-15)  # thumb inwards


def test_wrist_extension_brings_the_back_of_the_hand_to_the_forearm():
    hand = placed(wrist_extension=90.0)["left hand"].rotation @ [-1.0, 0.0, 0.0]
    np.testing.assert_allclose(hand, [0.0, 1.0, 0.0], rtol=0, atol=1e-15)  # palm was to the thigh, back outwards


def test_head_goes_back():
    crown = placed(neck_extension=90.0)["head"].rotation @ [1.0, 0.0, 0.0]
    np.testing.assert_allclose(crown, [0.0, 0.0, 1.0], rtol=0, atol=1e-15)


def test_shoulder_rises_with_the_arm():
    assert shoulder_rise(MAN, Limbs()) == 0.0
    assert shoulder_rise(MAN, Limbs(shoulder_flexion=np.pi)) == pytest.approx(SHOULDER_RISE * MAN.stature)


def test_bones_keep_their_length_and_frames_are_rotations():
    rng = np.random.default_rng(11)
    for _ in range(20):
        sides = [Limbs(*rng.uniform(-0.5, 1.8, len(fields(Limbs)))) for _ in range(2)]
        p = segment_motions(MAN, Pose(*sides, rng.uniform(-0.5, 1.0)))
        assert list(p) == list(SEGMENTS)
        for name in SEGMENTS:
            r = p[name].rotation
            np.testing.assert_allclose(r @ r.T, np.eye(3), rtol=0, atol=1e-13)
            assert np.linalg.det(r) == pytest.approx(1.0, abs=1e-13)
        for side in ("left", "right"):
            for near, far in (("upper arm", "forearm"), ("forearm", "hand"), ("thigh", "shank"), ("shank", "foot")):
                a, b = p[f"{side} {near}"], p[f"{side} {far}"]
                rest = np.linalg.norm(b.pivot - a.pivot)
                assert np.linalg.norm(b.at - a.at) == pytest.approx(rest, rel=1e-13)
                np.testing.assert_allclose(a.carried(b.pivot), b.at, rtol=0, atol=1e-13)  # joined


def test_right_is_left_in_the_mirror_and_moves_alone():
    turned = Limbs(shoulder_flexion=1.0, elbow_flexion=0.7, hip_flexion=0.3, knee_flexion=1.1, pronation=0.4)
    left = segment_motions(MAN, replace(REST, left=turned))
    right = segment_motions(MAN, replace(REST, right=turned))
    mirror = np.diag([1.0, -1.0, 1.0])
    for limb in ("upper arm", "forearm", "hand", "thigh", "shank", "foot"):
        a, b = left[f"left {limb}"], right[f"right {limb}"]
        np.testing.assert_array_equal(b.rotation, mirror @ a.rotation @ mirror)
        np.testing.assert_array_equal(b.at, mirror @ a.at)
        np.testing.assert_array_equal(left[f"right {limb}"].rotation, np.eye(3))
