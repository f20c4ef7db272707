"""Points that fill the space of unknowns evenly, with nothing to load."""

import numpy as np
import pytest

from sim.uncertainty.sampling import lattice_points


def test_lattice_points_fill_evenly_and_need_no_power_of_two():
    """Every half, third, fifth and square of quarters holds its share of 300 points within a few."""
    points = lattice_points(["uniform", "from nil", "normal"], 300)
    assert points.shape == (300, 3)
    share = (points[:, 0] + 1.0) / 2.0
    for parts in (2, 3, 5):
        assert np.abs(np.histogram(share, parts, (0.0, 1.0))[0] - 300 / parts).max() <= 2
    both = np.histogram2d(share, points[:, 1], 4, [[0.0, 1.0], [0.0, 1.0]])[0]
    assert np.abs(both - 300 / 16).max() <= 4
    assert np.abs(points.mean(axis=0) - [0.0, 0.5, 0.0]).max() < 0.02
    assert points[:, 2].std() == pytest.approx(1.0, abs=0.03)
    assert lattice_points([], 5).shape == (5, 0)
