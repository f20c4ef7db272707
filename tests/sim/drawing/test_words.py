"""Numbers on the picture as people say them."""

import numpy as np
import pytest

from sim.answers.settle.drawn.close_up import apart_in_words, enlargement_of
from sim.drawing.surfaces import round_depth


@pytest.mark.parametrize(
    ("apart", "said"),
    [
        ((0.0, 0.011), ["CB 11 mm above CM"]),
        ((0.0002, -0.003), ["CB 3 mm below CM"]),
        ((0.028, -0.0001), ["CB 28 mm headward of CM"]),
        ((-0.028, 0.002), ["CB 28 mm footward of CM", "and 2 mm above it"]),
    ],
)
def test_where_the_cb_is(apart, said):
    assert apart_in_words(np.array(apart)) == said


def test_the_close_up_enlarges_as_far_as_the_lens_allows():
    # 1.1 x 62 pixels of lens for 10 mm at 500 pixels a metre is 13.6 times
    assert enlargement_of(0.010, 500.0) == 10
    assert enlargement_of(1.0, 500.0) == 2
    assert enlargement_of(0.0, 500.0) == 100


@pytest.mark.parametrize(("gas", "scale"), [(0.0, 0.0), (5e-5, 0.0), (0.0021, 0.005), (0.010, 0.010), (0.083, 0.10)])
def test_the_colour_scale_ends_at_a_round_thickness(gas, scale):
    assert round_depth(gas) == pytest.approx(scale)
