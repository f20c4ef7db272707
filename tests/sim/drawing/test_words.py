"""Numbers on the picture as people say them."""

import numpy as np
import pytest

from sim.answers.settle.drawn.close_up import apart_in_words, enlargement_of
from sim.drawing.marks import moment_in_words, pitch_in_words
from sim.drawing.surfaces import round_depth


@pytest.mark.parametrize(
    ("degrees", "said"),
    [
        (0.04, "level"),
        (-0.06, "0.1° head-down"),
        (9.94, "9.9° head-up"),
        (9.96, "10° head-up"),
        (-62.4, "62° head-down"),
    ],
)
def test_pitch(degrees, said):
    assert pitch_in_words(np.radians(degrees)) == said


@pytest.mark.parametrize(
    ("moment", "said"),
    [
        (0.04, "under 0.05 N m, turns neither way"),
        (-12.34, "12.3 N m, turns head-down"),
        (123.4, "123 N m, turns head-up"),
    ],
)
def test_moment(moment, said):
    assert moment_in_words(moment) == said


@pytest.mark.parametrize(
    ("apart", "said"),
    [
        ((0.0, 0.011), ["CB 11 mm above CM"]),
        ((0.0002, -0.003), ["CB 3 mm below CM"]),
        ((0.028, -0.0001), ["CB 28 mm headward of CM"]),
        ((-0.028, 0.002), ["CB 28 mm footward of CM,", "2 mm above CM"]),
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
