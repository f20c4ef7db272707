"""Cylinders press at most 3 cm into suit and buttocks."""

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.demands.cylinder_bottoms import CYLINDER_BOTTOMS

DEMO = "small-woman-steel"


def test_as_worn_both_ways_of_asking_agree(found, hung):
    """The buttocks are kept at a grid of 1 cm."""
    one = CYLINDER_BOTTOMS.margin(found(DEMO))
    assert CYLINDER_BOTTOMS.margins(hung(DEMO))[0] == pytest.approx(one, abs=7e-4)


def test_clothing_thicker_by_a_centimetre_presses_so_much_deeper(hung):
    ways = hung(DEMO)
    thick = replace(ways, who=replace(ways.who, clothing=ways.who.clothing + 0.01))
    assert CYLINDER_BOTTOMS.margins(thick) == pytest.approx(CYLINDER_BOTTOMS.margins(ways) - 0.01, abs=1e-12)


def test_cylinders_moved_up_by_as_much_as_the_rig_went_down_lie_where_they_did(hung):
    """Along the plate's slope, which leans by its cosine."""
    ways = hung(DEMO)
    back = replace(ways, seat=np.array([0, 1]), moved=np.array([0.0, 0.02]))
    lean = np.arccos(ways.seats[0].rotation[0, 0])
    usual, again = CYLINDER_BOTTOMS.margins(back)
    assert again == pytest.approx(usual, abs=0.02 * np.sin(lean) + 0.02 * (1.0 - np.cos(lean)))
    assert abs(CYLINDER_BOTTOMS.margins(ways)[1] - usual) > 1e-3


def test_met_is_the_sign_of_the_margin(hung):
    ways = hung(DEMO)
    margins = CYLINDER_BOTTOMS.margins(ways)
    for more in (0.0, margins[0] - 1e-9, margins[0] + 1e-9, 0.2):
        thick = replace(ways, who=replace(ways.who, clothing=ways.who.clothing + more))
        assert CYLINDER_BOTTOMS.met(thick).tolist() == (margins - more >= 0.0).tolist()


@pytest.mark.parametrize(
    ("buttocks", "margin", "words"),
    [
        (0.01, 0.04, "pass 1.0 cm clear of the clothed buttocks; they end 2.0 cm below the fullest"),
        (-0.02, 0.01, "rest on the buttocks, 2.0 cm into suit and flesh"),
        (-0.035, -0.005, "3.5 cm into suit and flesh"),
        (None, np.inf, "end above the buttocks"),
    ],
)
def test_margin_and_words_by_hand(found, told, buttocks, margin, words):
    there = told(found(DEMO), buttock=0.02, cylinder_end=0.0, buttocks=buttocks)
    assert CYLINDER_BOTTOMS.margin(there) == pytest.approx(margin, abs=1e-12)
    (verdict,) = CYLINDER_BOTTOMS.verdicts(there)
    assert words in verdict.sentence
    assert verdict.passes is (margin >= 0.0)


def test_without_cylinders_it_asks_nothing(found, hung, told):
    none = told(found(DEMO), cylinder_end=None, buttocks=None)
    assert CYLINDER_BOTTOMS.verdicts(none) == ()
    assert not CYLINDER_BOTTOMS.asked_of(hung(DEMO, "cylinders=none").rig)
    assert CYLINDER_BOTTOMS.asked_of(hung(DEMO).rig)
