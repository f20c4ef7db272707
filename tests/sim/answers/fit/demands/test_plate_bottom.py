"""The plate's lower end stays 5 cm above the fullest of the buttocks."""

import pytest

from sim.answers.fit.demands.plate_bottom import PLATE_BOTTOM

DEMO = "small-woman-steel"


def test_as_worn_both_ways_of_asking_agree(found, hung):
    assert PLATE_BOTTOM.margins(hung(DEMO))[0] == pytest.approx(PLATE_BOTTOM.margin(found(DEMO)), abs=1e-12)


def test_a_plate_hung_lower_loses_so_much(hung):
    usual, low, moved = PLATE_BOTTOM.margins(hung(DEMO))
    assert low == pytest.approx(usual - 0.02, abs=1e-12)
    assert moved == usual


def test_it_is_told_only_where_it_fails(found, told):
    fine, low = (told(found(DEMO), buttock=0.02, bottom=bottom) for bottom in (0.08, 0.05))
    assert PLATE_BOTTOM.margin(fine) == pytest.approx(0.01, abs=1e-12)
    assert PLATE_BOTTOM.verdicts(fine) == ()
    (verdict,) = PLATE_BOTTOM.verdicts(low)
    assert verdict.margin == pytest.approx(-0.02, abs=1e-12)
    assert "its lower end lies 3.0 cm above the fullest of the buttocks" in verdict.sentence
    assert PLATE_BOTTOM.failing(low) == ("plate bottom",)
