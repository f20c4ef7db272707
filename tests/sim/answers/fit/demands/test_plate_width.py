"""The plate is no wider than the back under it."""

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.demands.plate_width import PLATE_WIDTH

DEMO = "small-woman-steel"


def test_as_worn_both_ways_of_asking_agree(found, hung):
    """Flanks are kept every 5 mm."""
    assert PLATE_WIDTH.margins(hung(DEMO))[0] == pytest.approx(PLATE_WIDTH.margin(found(DEMO)), abs=5e-4)


def test_a_plate_wider_by_a_centimetre_each_side_loses_so_much(hung):
    ways = hung(DEMO)
    wide = replace(ways.rig, widths=replace(ways.rig.widths, half=ways.rig.widths.half + 0.01))
    assert PLATE_WIDTH.margins(replace(ways, rig=wide)) == pytest.approx(PLATE_WIDTH.margins(ways) - 0.01, abs=1e-12)


def test_a_back_as_broad_everywhere_by_hand(hung):
    """Flanks half a plate and 3 cm broad, armpits broader still: 3 cm are left."""
    ways = hung(DEMO)
    widest = ways.rig.widths.half.max()
    person = replace(ways.who.person, measures={**ways.who.person.measures, "interscyei": 2.0 * (widest + 0.05)})
    who = replace(ways.who, person=person, flanks=np.array([[-1.0, 1.0], [widest + 0.03, widest + 0.03]]))
    assert PLATE_WIDTH.margins(replace(ways, who=who)) == pytest.approx(0.03, abs=1e-12)


@pytest.mark.parametrize(
    ("flank", "armpit", "margin", "words"),
    [
        (0.012, 0.03, 0.012, "by 1.2 cm a side at the flanks"),
        (0.03, -0.005, -0.005, "stands out 0.5 cm a side between the armpits"),
        (-0.01, np.inf, -0.01, "stands out 1.0 cm a side at the flanks"),
    ],
)
def test_the_narrower_place_decides(found, told, flank, armpit, margin, words):
    there = told(found(DEMO), flank=flank, armpit=armpit)
    (verdict,) = PLATE_WIDTH.verdicts(there)
    assert verdict.margin == PLATE_WIDTH.margin(there) == pytest.approx(margin, abs=1e-12)
    assert words in verdict.sentence
