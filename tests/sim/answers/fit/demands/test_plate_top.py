"""The plate's top stays 2 cm below C7."""

import pytest

from sim.answers.fit.demands.plate_top import PLATE_TOP

DEMO = "small-woman-steel"


def test_as_worn_both_ways_of_asking_agree(found, hung):
    assert PLATE_TOP.margins(hung(DEMO))[0] == pytest.approx(PLATE_TOP.margin(found(DEMO)), abs=1e-12)


def test_a_plate_hung_lower_gains_so_much(hung):
    usual, low, moved = PLATE_TOP.margins(hung(DEMO))
    assert low == pytest.approx(usual + 0.02, abs=1e-12)
    assert moved == usual


@pytest.mark.parametrize(
    ("top", "margin", "words"),
    [
        (0.43, 0.05, "its top is 7.0 cm below the neck bone (C7) and 2.0 cm below the shoulders"),
        (0.45, 0.03, "its top is 5.0 cm below the neck bone (C7) and level with the shoulders"),
        (0.47, 0.01, "its top is 3.0 cm below the neck bone (C7) and 2.0 cm above the shoulders"),
        (0.49, -0.01, "4.0 cm above the shoulders: the plate is longer than this back"),
        (0.52, -0.04, "its top is 2.0 cm above the neck bone (C7)"),
    ],
)
def test_margin_and_words_by_hand(found, told, top, margin, words):
    there = told(found(DEMO), c7=0.50, acromion=0.45, top=top)
    assert PLATE_TOP.margin(there) == pytest.approx(margin, abs=1e-12)
    (verdict,) = PLATE_TOP.verdicts(there)
    assert words in verdict.sentence
    assert verdict.passes is (margin >= 0.0)
    assert verdict.margin == pytest.approx(margin, abs=1e-12)
