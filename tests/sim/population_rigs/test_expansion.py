"""The regression against closed forms: exact where the truth is linear, and its left-out errors against refitting."""

import numpy as np
import pytest

from sim.population_rigs.expansion import RIDGES, expanded


def drawn(n, p, q, noise):
    draw = np.random.default_rng(3)
    features = draw.normal(5.0, 2.0, (n, p))
    return features, features @ draw.normal(size=(p, q)) + 7.0 + noise * draw.normal(size=(n, q))


def test_a_linear_truth_is_found_everywhere():
    features, numbers = drawn(40, 6, 3, 0.0)
    expansion, left_out = expanded(features[:30], numbers[:30])
    assert expansion.ridge == RIDGES[0]
    # the least ridge of 1e-6 on 30 rows leaves some 3e-8 of each spread
    np.testing.assert_allclose(expansion(features[30:]), numbers[30:], rtol=0, atol=1e-5)
    np.testing.assert_allclose(left_out, numbers[:30], rtol=0, atol=1e-5)


def test_leaving_out_is_the_same_as_refitting():
    features, numbers = drawn(25, 4, 1, 1.0)
    expansion, left_out = expanded(features, numbers)
    z = (features - expansion.shift) / expansion.scale
    for i in (0, 7, 24):
        rest = np.delete(np.arange(25), i)
        # the same penalty, on the same scale, the constant free
        bordered = np.column_stack([np.ones(24), z[rest]])
        penalty = expansion.ridge * np.diag([0.0, 1.0, 1.0, 1.0, 1.0])
        fit = np.linalg.solve(bordered.T @ bordered + penalty, bordered.T @ numbers[rest])
        assert left_out[i] == pytest.approx(np.concatenate([[1.0], z[i]]) @ fit, abs=1e-10)


def test_what_never_varies_says_nothing():
    features, numbers = drawn(30, 5, 2, 0.1)
    with_constant = np.column_stack([features, np.full(30, 0.3)])
    asked = np.column_stack([features[:3], [9.0, -9.0, 0.3]])
    np.testing.assert_allclose(
        expanded(with_constant, numbers)[0](asked), expanded(features, numbers)[0](features[:3]), rtol=1e-10
    )


def test_too_few_people_are_refused():
    with pytest.raises(ValueError, match="at least three"):
        expanded(np.zeros((2, 1)), np.zeros((2, 1)))
