"""What a drysuit lifts, as two divers weighed it and told in public: a diary of 2009, and a test of a flooded suit.

The first, with twin steel cylinders of 12 l (4 kg in water, near empty) and a steel plate (3 kg), was neutral at 3 m
under 30 bar with 2 kg of lead in a new suit over a thick fleece, and with 7.5 kg in an old, wider one: lifts of 9
and 14.5 kg. The second, in a trilaminate over two layers, filled as usual, needed 31 lb with the suit alone, and
none once it was flooded. They took themselves for neutral without it, and how large they are was not told: a suit
grows with the skin, by a tenth from 80 to 92 kg. Nothing was fitted to either.
"""

import pytest

from sim.answers.evidence.practice import assembled, with_lead
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget

SUIT = {"gas in suit", "drysuit", "undergarment", "boots"}
POUND = 0.45359237  # kg


def lift(undergarment, gas):
    """Kilograms that the man's suit lifts at 3 m: its gas less shell, garment and boots."""
    settings = (f"suit.undergarment={undergarment}", f"suit.gas={gas}", "water.depth=3 m", *with_lead(2.0))
    soft = soft_rig(assembled("A", *settings).rig)
    return -sum(i.apparent_weight for i in moment_budget(soft, flat_answer(soft)) if i.name in SUIT)


def test_a_thick_fleece_lies_between_what_venting_leaves_and_what_takes_the_squeeze_off():
    assert lift("medium", "vented") < 9.0 < lift("medium", "comfortable")


def test_two_layers_filled_as_usual():
    """Within what a body of 70 to 92 kg in place of 80 makes of it."""
    assert lift("heavy", "comfortable") == pytest.approx(31.0 * POUND, rel=0.1)
    assert lift("heavy", "vented") < 31.0 * POUND


def test_none_of_them_lifts_more_than_the_old_wide_suit():
    assert max(lift(u, g) for u in ("thin", "medium", "heavy") for g in ("vented", "comfortable")) < 14.5
