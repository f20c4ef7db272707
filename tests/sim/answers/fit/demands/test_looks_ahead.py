"""The head lifts as far as the neck lets it, or far enough that flat eyes look to 15 degrees below straight ahead."""

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.demands.looks_ahead import LOOKS_AHEAD
from sim.answers.fit.found import Found

DEMO = "small-woman-steel"


def looking(found: Found, **degrees: float) -> Found:
    other = replace(found)
    other.__dict__["look_ahead"] = replace(found.look_ahead, **{k: np.radians(v) for k, v in degrees.items()})
    return other


def test_as_worn_both_ways_of_asking_agree(found, hung):
    assert LOOKS_AHEAD.margins(hung(DEMO))[0] == pytest.approx(LOOKS_AHEAD.margin(found(DEMO)), abs=1e-6)


def test_a_stiffer_neck_leaves_gear_freer_and_eyes_lower(hung):
    """Gear is met at the same lift: with so many degrees less to go, as many more are left before it."""
    ways = hung("tall-man-steel")
    less = np.radians(3.0)
    stiff = replace(ways, who=replace(ways.who, neck=ways.who.neck - less, eyes=ways.who.eyes - np.pi))
    blind = replace(ways, who=replace(ways.who, eyes=ways.who.eyes - np.pi))
    assert LOOKS_AHEAD.margins(stiff) == pytest.approx(LOOKS_AHEAD.margins(blind) + less, abs=1e-12)


def test_eyes_that_look_higher_gain_so_much_where_gear_stops_the_head(hung):
    ways = hung(DEMO)
    more = np.radians(2.0)
    keen = replace(ways, who=replace(ways.who, eyes=ways.who.eyes + more))
    gain = LOOKS_AHEAD.margins(keen) - LOOKS_AHEAD.margins(ways)
    assert gain[0] == pytest.approx(more, abs=1e-12)


def test_lower_gear_is_met_later_and_higher_sooner(hung):
    usual, low, moved = LOOKS_AHEAD.margins(hung(DEMO))
    assert moved < usual < low


@pytest.mark.parametrize("demo", [DEMO, "tall-man-steel"])
def test_met_is_the_sign_of_the_margin(hung, demo):
    ways = hung(demo)
    many = replace(ways, seat=np.repeat([0, 1], 7), moved=np.tile(np.linspace(-0.04, 0.06, 7), 2))
    margins = LOOKS_AHEAD.margins(many)
    for more in (0.0, -margins[3] + 1e-9, -margins[3] - 1e-9):
        other = replace(many, who=replace(many.who, eyes=many.who.eyes + more))
        assert LOOKS_AHEAD.met(other).tolist() == (LOOKS_AHEAD.margins(other) >= 0.0).tolist()


@pytest.mark.parametrize(
    ("gear", "ahead", "margin", "words"),
    [
        (75.0, -8.0, 10.0, "lifts by 65 degrees, as far as the neck lets it: no gear is in the way"),
        (60.0, -12.0, 3.0, "lifts by 60 degrees, then it meets"),
        (50.0, -22.0, -7.0, "the eyes look 22 degrees below straight ahead: they see the bottom 3.7 m ahead"),
    ],
)
def test_margin_and_words_by_hand(found, gear, ahead, margin, words):
    """The neck lets the head go to 65 degrees; 1.5 m above the bottom, 1.5 / tan 22 degrees is 3.7 m."""
    there = looking(found(DEMO), gear=gear, ahead=ahead, free=65.0)
    assert np.degrees(LOOKS_AHEAD.margin(there)) == pytest.approx(margin, abs=1e-9)
    (verdict,) = LOOKS_AHEAD.verdicts(there)
    assert words in verdict.sentence
    assert verdict.passes is (margin >= 0.0)


def test_failing_is_asked_of_the_head_alone(found):
    """Nothing of statics is worked out for it."""
    asked = replace(found(DEMO, "plate=standard steel"))
    assert LOOKS_AHEAD.failing(asked) == ("look-ahead",)
    assert "look_ahead" not in asked.__dict__
