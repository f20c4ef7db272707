"""Each hand turns its valve with 2 cm to spare."""

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.found import Found
from sim.answers.fit.reach import HandReach

DEMO = "small-woman-steel"


def with_hands(found: Found, *hands: HandReach) -> Found:
    other = replace(found)
    other.__dict__["reach"] = hands
    other.__dict__["hands"] = {hand.valve: hand.margin for hand in hands}
    return other


@pytest.mark.parametrize("demo", [DEMO, "single-wetsuit"])
def test_as_worn_both_ways_of_asking_agree(found, hung, demo):
    """Hands may be tried at a mirror image of the knob: the same but for rounding, which can flip the last trial."""
    assert VALVE_REACH.margins(hung(demo))[0] == pytest.approx(VALVE_REACH.margin(found(demo)), abs=1e-3)


def test_lower_knobs_are_harder_to_reach_and_higher_ones_easier(hung):
    """By 2 cm, footward along the body as the margin is counted, where shoulders and arms are the same: the places
    tried are 0.6 mm apart, and moved cylinders lean away with the plate."""
    ways = hung(DEMO)
    usual, low, moved = VALVE_REACH.margins(ways)
    assert low == pytest.approx(usual - 0.02, abs=2e-3)
    assert moved == pytest.approx(usual + 0.02 * ways.seats[0].rotation[0, 0], abs=5e-3)


def test_met_is_the_sign_of_the_margin(hung):
    ways = hung(DEMO)
    many = replace(ways, seat=np.zeros(9, dtype=int), moved=np.linspace(-0.12, 0.04, 9))
    margins = VALVE_REACH.margins(many)
    assert margins.min() < 0.0 < margins.max()
    assert VALVE_REACH.met(many).tolist() == (margins >= 0.0).tolist()


def test_stiff_shoulders_of_one_side_count(hung):
    """What is no mirror image is tried by itself; the stiff hand decides."""
    even, stiff = hung(DEMO), hung(DEMO, "fit.stiff_right_shoulder=40 deg")
    assert even.who.alike
    assert not stiff.who.alike
    assert VALVE_REACH.margins(stiff)[0] < VALVE_REACH.margins(even)[0] - 0.02


@pytest.mark.parametrize(
    ("margin", "passes", "words"),
    [
        (0.051, True, "reaches it with 5 cm to spare; what ends the reach is"),
        (0.015, False, "reaches it with 1.5 cm to spare, too little to turn it"),
        (-0.04, False, "stays 4 cm short of it"),
        (-np.inf, False, "has no way to it over the shoulder"),
    ],
)
def test_margin_and_words_by_hand(found, margin, passes, words):
    hands = [replace(h, margin=margin, stiff=margin, supple=margin) for h in found(DEMO).reach]
    there = with_hands(found(DEMO), *hands)
    assert VALVE_REACH.margin(there) == pytest.approx(margin - 0.02, abs=1e-12)
    for verdict in VALVE_REACH.verdicts(there):
        assert verdict.passes is passes
        assert words in verdict.sentence
    assert VALVE_REACH.failing(there) == (() if passes else ("left valve", "right valve", "isolator"))


def test_where_shoulders_decide_it_is_said(found):
    hand = replace(found(DEMO).reach[0], margin=0.01, stiff=-0.03, supple=0.05)
    (verdict,) = VALVE_REACH.verdicts(with_hands(found(DEMO), hand))
    assert "shoulders decide: 3 cm short with the stiffest of 20 people, 5 cm to spare" in verdict.sentence


def test_without_cylinders_it_asks_nothing(found, hung):
    assert VALVE_REACH.margin(with_hands(found(DEMO))) == np.inf
    assert VALVE_REACH.verdicts(with_hands(found(DEMO))) == ()
    assert not VALVE_REACH.asked_of(hung(DEMO, "cylinders=none").rig)
