"""Rotations against scipy, and skins that bend without tearing."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from meshes.body.bend import X, Y, Z, bent, least_rotation, rotation


@pytest.mark.parametrize("axis", [X, Y, Z])
def test_rotation_is_scipys(axis):
    angles = np.linspace(-3.0, 3.0, 13)
    reference = Rotation.from_rotvec(angles[:, None] * axis).as_matrix()
    np.testing.assert_allclose(rotation(axis, angles), reference, rtol=0, atol=1e-15)


def test_least_rotation_takes_one_direction_to_the_other_and_leaves_their_normal():
    rng = np.random.default_rng(5)
    for _ in range(20):
        a, b = rng.normal(size=(2, 3))
        a, b = a / np.linalg.norm(a), b / np.linalg.norm(b)
        turn = least_rotation(a, b)
        np.testing.assert_allclose(turn @ a, b, rtol=0, atol=1e-13)
        np.testing.assert_allclose(turn @ np.cross(a, b), np.cross(a, b), rtol=0, atol=1e-13)
        np.testing.assert_allclose(turn @ turn.T, np.eye(3), rtol=0, atol=1e-13)
    with pytest.raises(ValueError, match="opposite"):
        least_rotation(X, -X)


def test_bent_points_keep_their_distance_from_the_axis():
    rng = np.random.default_rng(7)
    points, pivot = rng.normal(size=(50, 3)), np.array([0.1, -0.2, 0.3])
    weight = rng.uniform(size=50)
    out = bent(points, pivot, Y, 1.3, weight)
    across = [0, 2]
    before, after = points - pivot, out - pivot
    np.testing.assert_allclose(np.hypot(*after[:, across].T), np.hypot(*before[:, across].T), rtol=1e-13)
    np.testing.assert_allclose(out[:, 1], points[:, 1], rtol=0, atol=1e-15)
    still = bent(points, pivot, Y, 1.3, np.zeros(50))
    np.testing.assert_allclose(still, points, rtol=0, atol=1e-15)
