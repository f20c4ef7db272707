"""The sequence against an independent program's, and what makes it worth having."""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from scipy.stats.qmc import Sobol

from sim.answers.study.sobol_points import sobol_points


@pytest.mark.parametrize(
    ("width", "first", "count"), [(1, 0, 8), (5, 0, 40), (40, 1000, 37), (210, 3, 20), (2, 2**29, 9)]
)
def test_points_are_those_of_scipy_to_the_bit(width: int, first: int, count: int) -> None:
    theirs = Sobol(width, scramble=True, bits=30, rng=np.random.default_rng((7, 3)))
    if first:
        theirs.fast_forward(first)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # that a part of the sequence is not balanced
        expected = theirs.random(count)
    assert np.array_equal(sobol_points(width, np.arange(first, first + count), (7, 3)), expected)


def test_every_slice_of_64_holds_one_point_of_64() -> None:
    """The balance of a (0, m, 1) sequence in each dimension."""
    for along in sobol_points(3, np.arange(64), (1,)).T:
        assert sorted(np.floor(64 * along)) == list(range(64))


def test_no_dimension_at_all() -> None:
    assert sobol_points(0, np.arange(4), (1,)).shape == (4, 0)


def test_more_dimensions_than_there_are() -> None:
    with pytest.raises(ValueError, match=r"21,201 dimensions at most, 30,000 are asked for"):
        sobol_points(30_000, np.arange(1), (1,))
