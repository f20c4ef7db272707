"""The shoulder straps: off the neck, off the ball of the joint, above their slots."""

from dataclasses import replace

import pytest

from sim.answers.fit.demands.shoulder_straps import SHOULDER_STRAPS

DEMO = "small-woman-steel"


def test_as_worn_both_ways_of_asking_agree(found, hung):
    assert SHOULDER_STRAPS.margins(hung(DEMO))[0] == pytest.approx(SHOULDER_STRAPS.margin(found(DEMO)), abs=1e-9)


def test_height_moves_no_strap_sideways_and_bands_none_at_all(hung):
    """A run stays in the plane of slot, armpit and the body's length: a slot lower in it is in the same plane."""
    usual, low, moved = SHOULDER_STRAPS.margins(hung(DEMO))
    assert moved == usual
    assert low == pytest.approx(usual, abs=1e-9)


def test_slots_farther_apart_come_nearer_to_the_joint(hung):
    """By a centimetre each: where the strap crosses, between slot and armpit, it is moved by a part of that."""
    ways = hung(DEMO)
    apart = ways.rig.plate.shoulder_slots + [[0.0, 0.01, 0.0], [0.0, -0.01, 0.0]]
    wide = replace(ways, rig=replace(ways.rig, plate=replace(ways.rig.plate, shoulder_slots=apart)))
    lost = SHOULDER_STRAPS.margins(ways) - SHOULDER_STRAPS.margins(wide)
    assert ((lost > 0.002) & (lost < 0.01)).all()


@pytest.mark.parametrize(
    ("numbers", "margin", "words"),
    [
        ({"share": 0.4, "inner": 0.03, "ball": 0.012, "above_slot": 0.05}, 0.012, "1.2 cm inside the ball"),
        ({"share": 0.8, "inner": 0.06, "ball": -0.007, "above_slot": 0.05}, -0.007, "0.7 cm onto the ball"),
        ({"share": 0.1, "inner": -0.004, "ball": 0.05, "above_slot": 0.05}, -0.004, "0.4 cm onto the neck"),
        ({"share": 0.4, "inner": 0.03, "ball": 0.03, "above_slot": -0.02}, -0.02, "slots lie 2.0 cm above"),
        ({"share": 1.1, "inner": 0.15, "ball": -0.06, "above_slot": 0.05}, -0.06, "miss the shoulders"),
    ],
)
def test_the_worst_of_three_decides(found, told, numbers, margin, words):
    straps = found(DEMO).on_back.straps
    there = told(found(DEMO), straps=replace(straps, crossing=replace(straps.crossing, **numbers)))
    (verdict,) = SHOULDER_STRAPS.verdicts(there)
    assert verdict.margin == SHOULDER_STRAPS.margin(there) == pytest.approx(margin, abs=1e-12)
    assert words in verdict.sentence
    assert verdict.passes is (margin >= 0.0)
