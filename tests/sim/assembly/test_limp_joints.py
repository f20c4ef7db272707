"""Joints of a limp body: where they carry limbs, how far they go, and when relaxed flesh lets them be."""

from math import radians

import numpy as np
import pytest

from meshes.body.kinematics import segment_motions
from sim.assembly.limbs import LINK_OF, LINKS
from sim.assembly.limp_joints import (
    ELBOW_RELAXED_DEG,
    RELAXED_LEG_DEG,
    angles_of,
    leg_spring,
    limp_joints,
    pose_at,
)
from sim.floating.articulated import articulated, carried_point
from sim.floating.body import floating_body
from sim.person.person import person_of
from sim.person.pose import POSES, checked_pose, symmetric_pose


@pytest.fixture(scope="module")
def skeleton():
    return person_of("female", 1.66, 58.0, age=34.0).skeleton


@pytest.fixture(scope="module")
def stick(skeleton):
    """The joints with weightless links."""
    point = floating_body([], 1.0, np.zeros(3), density=1000.0, gravity=9.81)
    return articulated([point] * len(LINKS), limp_joints(skeleton, (-0.6, 1.0)))


@pytest.mark.parametrize(
    "pose",
    [
        symmetric_pose(0.3, elbow_flexion=1.2, hip_flexion=0.7, hip_abduction=0.3, knee_flexion=1.1),
        symmetric_pose(-0.2, hip_flexion=-0.1, ankle_plantarflexion=0.4),
        POSES["flat, knees bent"],
    ],
    ids=["bent", "straight", "arms ahead"],
)
def test_limbs_go_where_the_poses_of_the_model_put_them(skeleton, stick, pose):
    """Turns exactly; the shoulder does not rise here, by which the arm may lie lower, at most 3 % of stature."""
    placed, angles = segment_motions(skeleton, pose), angles_of(stick.joints, pose)
    for name, link in LINK_OF.items():
        if "hand" in name:  # stays on the forearm
            continue
        here = skeleton.joints["elbow"] + np.array([0.1, 0.2, -0.3])
        off = placed[name].carried(here) - carried_point(stick, angles, link, here)
        if "arm" in name:
            assert off[1:] == pytest.approx(np.zeros(2), abs=1e-12)
            assert -1e-12 <= off[0] <= 0.03 * skeleton.stature + 1e-12
        else:
            assert off == pytest.approx(np.zeros(3), abs=1e-12)


def test_poses_and_angles_are_each_others_inverse(stick):
    pose = symmetric_pose(0.3, shoulder_flexion=0.2, elbow_flexion=1.2, hip_flexion=0.7, knee_flexion=1.1)
    assert pose_at(stick.joints, angles_of(stick.joints, pose), pose) == pose


def test_any_angle_in_range_is_a_pose_of_the_model(stick):
    for ends in ("low", "high"):
        angles = np.array([getattr(j, ends) for j in stick.joints])
        checked_pose(pose_at(stick.joints, angles, symmetric_pose()))


def test_a_relaxed_leg_is_let_be():
    """All three moments vanish at once, to the last digit of the stored angles: 0.005 degree of some 15 N m/rad."""
    for joint, angle in zip(("hip_flexion", "knee_flexion", "ankle_plantarflexion"), RELAXED_LEG_DEG, strict=True):
        _, moment, rate = leg_spring(joint, *RELAXED_LEG_DEG).at(radians(angle))
        assert moment == pytest.approx(0.0, abs=radians(0.005) * abs(rate) + 2e-3)
        assert rate < 0.0


def test_a_straight_leg_is_bent_at_the_hip_and_at_the_knee():
    """Riener & Edrich 1999 by hand at 0 degrees: exp(1.4655) - exp(1.3403) + 8.072 at the hip, N m to flexion;
    exp(1.8) - exp(-3.971) - 4.82 + exp(2.22) at the knee; exp(2.1016) - exp(-7.9763) - 1.792 at the ankle."""
    straight = {"hip_flexion": 8.5815, "knee_flexion": 10.418, "ankle_plantarflexion": 6.387}
    for joint, moment in straight.items():
        assert leg_spring(joint, 0.0, 0.0, 0.0).at(0.0)[1] == pytest.approx(moment, abs=6e-4)


def test_a_bent_knee_lets_the_hip_bend_further():
    """Hamstrings: the passive moment that extends a bent hip falls as the knee bends."""
    straight, bent = (leg_spring("hip_flexion", 60.0, knee, 0.0).at(radians(60.0))[1] for knee in (0.0, 60.0))
    assert bent > straight


def test_a_relaxed_elbow_is_bent_by_73_degrees(stick):
    """Wiegner & Watts 1986: 107 degrees between upper arm and forearm."""
    joint = next(j for j in stick.joints if j.name == "left elbow_flexion")
    assert joint.spring.at(radians(180.0 - 107.0))[1] == pytest.approx(0.0, abs=1e-12)
    assert pytest.approx(180.0 - 107.0) == ELBOW_RELAXED_DEG


def test_the_neck_has_the_range_it_is_given(stick):
    assert (stick.joints[0].low, stick.joints[0].high) == (-0.6, 1.0)
