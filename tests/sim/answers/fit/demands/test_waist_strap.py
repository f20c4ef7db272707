"""The waist strap: 5 cm of webbing between hip bones and ribs, half a centimetre over either at most."""

import pytest

from sim.answers.fit.demands.waist_strap import WAIST_STRAP

DEMO = "small-woman-steel"


def test_as_worn_both_ways_of_asking_agree(found, hung):
    assert WAIST_STRAP.margins(hung(DEMO))[0] == pytest.approx(WAIST_STRAP.margin(found(DEMO)), abs=1e-12)


def test_margin_by_hand(found, told):
    """Ribs 12 cm above the hip bones: the middle may lie (12 - 5) / 2 + 0.5 cm from midway between them."""
    for strap, margin in ((0.16, 0.04), (0.18, 0.02), (0.14, 0.02), (0.11, -0.01)):
        there = told(found(DEMO), crest=0.10, tenth_rib=0.22, waist_strap=strap)
        assert WAIST_STRAP.margin(there) == pytest.approx(margin, abs=1e-12)


def test_a_rig_hung_lower_takes_so_much_off_the_margin(hung):
    """Hung from about the natural waist; bands on the cylinders change nothing."""
    ways = hung(DEMO, "harness.drop=1 cm")
    usual, low, moved = WAIST_STRAP.margins(ways)
    assert low == pytest.approx(usual - 0.02, abs=1e-12)
    assert moved == usual


@pytest.mark.parametrize(
    ("strap", "place", "words", "passes"),
    [
        (0.16, "on the waist", "clears the hip bones by 3.5 cm", True),
        (0.1201, "on the waist", "its lower 0.5 cm lie over the hip bones", True),
        (0.11, "on the hips", "its lower 1.5 cm lie over the hip bones, so that ashore", False),
        (0.07, "on the hips", "all the webbing lies over the hip bones", False),
        (0.21, "above the waist", "its upper 1.5 cm lie over the ribs", False),
        (0.25, "above the waist", "all the webbing lies over the ribs", False),
        (-0.05, "on the hips", "below the crotch", False),
    ],
)
def test_words(found, told, strap, place, words, passes):
    there = told(found(DEMO), crest=0.10, tenth_rib=0.22, crotch=-0.04, waist_strap=strap, place=place)
    (verdict,) = WAIST_STRAP.verdicts(there)
    assert f"runs {place}; " in verdict.sentence
    assert words in verdict.sentence
    assert verdict.passes is passes
    assert WAIST_STRAP.failing(there) == (() if passes else ("waist strap",))
