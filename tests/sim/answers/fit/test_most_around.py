"""The greatest value about each place, against scipy's filter."""

import numpy as np
import pytest
from scipy.ndimage import maximum_filter

from sim.answers.fit.most_around import most_around


@pytest.mark.parametrize(("rows", "columns"), [(0, 0), (1, 3), (4, 2), (7, 30), (50, 1)])
def test_it_is_scipys(rows, columns):
    values = np.random.default_rng(rows).normal(size=(24, 31))
    values[:3, 5:9] = -np.inf
    size = (2 * rows + 1, 2 * columns + 1)
    expected = maximum_filter(values, size=size, mode="constant", cval=-np.inf)
    np.testing.assert_array_equal(most_around(values, rows, columns), expected)
