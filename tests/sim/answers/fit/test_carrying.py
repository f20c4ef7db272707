"""The statics of a rig on the trunk: it balances, and agrees with closed forms."""

from __future__ import annotations

from math import atan2, cos, pi, sin

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from meshes.mesh import Floats
from sim.answers.fit.carrying import Places, flexion, hold, lean_to_balance, load_moment, weight_vector

PLACES = Places(np.array([0.52, 0.005]), np.array([0.15, -0.04]), np.array([0.07, 0.09]))
JOINT = np.array([0.10, 0.003])


def number(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high)


@given(number(1.0, 800.0), number(0.0, 0.6), number(0.1, 0.3), number(0.0, 1.2), number(0.0, 1.0))
def test_forces_and_moments_on_the_rig_balance(
    weight: float, up: float, back: float, lean: float, hips: float
) -> None:
    cm = np.array([up, back])
    held = hold(weight, cm, lean, hips, PLACES)
    forces = [
        (held.shoulders, PLACES.shoulders), (held.hips, PLACES.hips), (held.back, held.back_at),
        (weight_vector(weight, lean), cm),
    ]  # fmt: skip
    np.testing.assert_allclose(sum(f for f, _ in forces), 0.0, atol=1e-9 * weight)
    for about in (np.zeros(2), np.array([3.0, -2.0])):
        assert sum(flexion(f, at, about) for f, at in forces) == pytest.approx(0.0, abs=1e-8 * weight)


@given(number(1.0, 800.0), number(0.0, 0.6), number(0.1, 0.3), number(0.0, 1.2), number(0.0, 1.0))
def test_straps_pull_and_the_back_pushes_never_the_other_way(
    weight: float, up: float, back: float, lean: float, hips: float
) -> None:
    held = hold(weight, np.array([up, back]), lean, hips, PLACES)
    assert held.shoulders[0] >= 0.0
    assert held.shoulders[1] <= 0.0
    assert held.hips[0] >= 0.0
    assert held.back[1] >= 0.0
    assert held.back_at[0] >= PLACES.foot[0]


def test_upright_the_strap_pull_is_the_weight_times_its_arm_over_the_height_of_the_shoulders() -> None:
    """All on the shoulders, upright: W (z_cm - z_shoulder) = pull * (x_shoulder - x_foot)."""
    held = hold(400.0, np.array([0.3, 0.2]), 0.0, 0.0, PLACES)
    assert -held.shoulders[1] == pytest.approx(400.0 * (0.2 - 0.005) / (0.52 - 0.07), rel=1e-12)
    assert held.shoulders[0] == pytest.approx(400.0, rel=1e-12)


def test_moment_of_the_load_at_a_joint_below_everything_is_that_of_the_weight() -> None:
    """With nothing on the hips all the rig does to the trunk above a low joint is its weight's own moment there."""
    low, cm = np.array([0.0, 0.02]), np.array([0.3, 0.2])
    for lean in (0.0, 0.2, 0.5):
        moment = load_moment(hold(400.0, cm, lean, 0.0, PLACES), low)
        assert moment == pytest.approx(flexion(weight_vector(400.0, lean), cm, low), abs=1e-9)


@given(number(0.0, 0.8), number(0.0, 1.0))
def test_moment_of_the_load_is_continuous_where_the_plates_foot_passes_the_joint(lean: float, hips: float) -> None:
    cm = np.array([0.3, 0.2])

    def moment(foot: float) -> float:
        places = Places(PLACES.shoulders, PLACES.hips, np.array([foot, 0.09]))
        return load_moment(hold(400.0, cm, lean, hips, places), JOINT)

    # 0.1 mm times forces of some hundred newtons
    assert moment(JOINT[0] + 5e-5) == pytest.approx(moment(JOINT[0] - 5e-5), abs=0.2)


@given(number(5.0, 60.0), number(0.5, 1.5), number(0.05, 0.4))
def test_lean_agrees_with_the_closed_form(load: float, height: float, behind: float) -> None:
    """tan(lean) = m_L b / (m_L h_L + m_B h_B) where the body's own CM is straight above the pivot."""
    body, body_height = 75.0, 0.95
    whole = body + load
    cm = np.array([load * height + body * body_height, load * behind]) / whole
    lean = lean_to_balance((whole, cm), (0.0, np.zeros(2)), np.zeros(2), 0.0)
    assert lean == pytest.approx(atan2(load * behind, load * height + body * body_height), rel=1e-9)


def turned(point: Floats, pivot: Floats, lean: float) -> Floats:
    """A point (x up, z back) after leaning forward about a pivot."""
    up, back = point - pivot
    return pivot + np.array([up * cos(lean) + back * sin(lean), back * cos(lean) - up * sin(lean)])


@given(number(20.0, 90.0), number(0.1, 0.5), number(-0.05, 0.1), number(5.0, 30.0), number(-0.05, 0.05))
def test_after_the_lean_the_common_centre_is_above_the_target(
    mass: float, up: float, back: float, legs: float, target: float
) -> None:
    pivot, cm, still = np.array([0.02, 0.01]), np.array([up + 0.02, back]), np.array([-0.4, 0.0])
    assume(abs((mass + legs) * target - mass * pivot[1]) < mass * np.hypot(*(cm - pivot)))
    lean = lean_to_balance((mass, cm), (legs, still), pivot, target)
    common = (mass * turned(cm, pivot, lean) + legs * still) / (mass + legs)
    assert common[1] == pytest.approx(target, abs=1e-9)
    assert -pi / 2 - 0.7 < lean < pi


def test_a_load_too_far_behind_is_refused_with_its_numbers() -> None:
    with pytest.raises(ValueError, match="no lean balances 30 kg"):
        lean_to_balance((30.0, np.array([0.1, 0.1])), (60.0, np.array([-0.4, 0.5])), np.zeros(2), 0.0)
