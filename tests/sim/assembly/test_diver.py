"""The person and the pose of a scenario: what is in the chest, and single joints set apart."""

import numpy as np
import pytest

from scenarios.diver import Diver
from scenarios.pose import Pose
from sim.assembly.diver import chest_gas, pose_from
from sim.person.lungs import ecsc_1993, frc_by_build


def gas(**told):
    table = {"sex": "male", "height": "180 cm", "mass": "80 kg", "age": "40 years", **told}
    return 1e3 * chest_gas(Diver.model_validate(table))


def test_levels_of_breathing_by_hand():
    """Half a breath and a breath above relaxed; relaxed is the FRC of that build by the equations asked for."""
    relaxed = gas(breathing_level="relaxed", tidal_volume="0.8 l")
    assert gas(breathing_level="mid-breath", tidal_volume="0.8 l") - relaxed == pytest.approx(0.4, rel=1e-9)
    assert gas(breathing_level="breathed in", tidal_volume="0.8 l") - relaxed == pytest.approx(0.8, rel=1e-9)
    frc = 1e3 * frc_by_build("male", 80.0 / 1.8**2) * ecsc_1993("FRC", "male", 1.8, 40.0)[0]
    assert gas(breathing_level="relaxed", lung_method="ecsc 1993") == pytest.approx(frc, rel=1e-12)


def test_full_and_empty_lungs_by_the_published_equations():
    """ECSC 1993, men: TLC = 7.99 H - 7.08 l and RV = 1.31 H + 0.022 A - 1.23 l."""
    told = {"lung_method": "ecsc 1993"}
    assert gas(breathing_level="full", **told) == pytest.approx(7.99 * 1.80 - 7.08, rel=1e-6)
    assert gas(breathing_level="empty", **told) == pytest.approx(1.31 * 1.80 + 0.022 * 40.0 - 1.23, rel=1e-6)


def test_without_an_age_the_lungs_are_those_of_thirty_and_ages_end_at_twenty_and_seventy():
    told = {"breathing_level": "empty", "lung_method": "ecsc 1993"}
    without = 1e3 * chest_gas(Diver.model_validate({"sex": "male", "height": "180 cm", "mass": "80 kg", **told}))
    assert without == pytest.approx(gas(age="30 years", **told), rel=1e-12)
    assert gas(age="16 years", **told) == gas(age="20 years", **told)
    assert gas(age="80 years", **told) == gas(age="70 years", **told)


def test_a_joint_is_set_on_both_sides_or_on_one():
    both = pose_from(Pose.model_validate({"name": "upright", "joints": {"knee flexion": "30 deg"}}))
    one = pose_from(Pose.model_validate({"name": "upright", "joints": {"left knee flexion": "30 deg"}}))
    neck = pose_from(Pose.model_validate({"name": "upright", "joints": {"neck extension": "20 deg"}}))
    straight = pose_from(Pose(name="upright"))
    assert both.left.knee_flexion == both.right.knee_flexion == pytest.approx(np.radians(30.0))
    assert one.left.knee_flexion == pytest.approx(np.radians(30.0))
    assert one.right == straight.right
    assert neck.neck_extension == pytest.approx(np.radians(20.0))
    assert neck.left == straight.left
