"""A hand over the shoulder at the plate's top edge: a rule of thumb that fails nothing."""

import pytest

from sim.answers.fit.demands.hand_on_plate import HAND_ON_PLATE


@pytest.mark.parametrize(
    ("spare", "passes", "words"), [(0.012, True, "with 1.2 cm to spare"), (-0.034, None, "3.4 cm short")]
)
def test_it_passes_or_says_nothing(found, told, spare, passes, words):
    there = told(found("small-woman-steel"), top_touched=spare)
    (verdict,) = HAND_ON_PLATE.verdicts(there)
    assert (verdict.passes, verdict.margin) == (passes, spare)
    assert words in verdict.sentence
    assert HAND_ON_PLATE.failing(there) == ()
