"""From margins to how each ends: the fast way for arrays against the answer for one person."""

import numpy as np

from sim.answers.fit.demands.every import DEMANDS
from sim.answers.fit.demands.waist_strap import WAIST_STRAP
from sim.answers.fit.plate_on_person import outcome
from sim.answers.plate.suits.known import BANDS, PASSES
from sim.answers.plate.suits.ways import met_somewhere, outcomes

DROPS = (-0.03, 0.0, 0.03)


def random_margins(number=600):
    """Margins that rise and fall between the heights, the strap's own as it is: 0 or a little more at all of them."""
    random = np.random.default_rng(5)
    margins = random.normal(0.03, 0.05, (number, len(DEMANDS), 3))
    strap = [demand.name for demand in DEMANDS].index(WAIST_STRAP.name)
    margins[:, strap] = np.abs(margins[:, strap]) * np.where(random.random((number, 1)) < 0.9, 1.0, -1.0)
    return margins


def test_each_ends_as_the_answer_for_one_person_says():
    margins = random_margins()
    told = outcomes(DEMANDS, margins, np.full(len(margins), -1.0))
    names = [demand.name for demand in DEMANDS]
    for one, end in zip(margins, told, strict=True):
        found = outcome(DROPS, dict(zip(names, one, strict=True)))
        assert end == (found.reason or PASSES)
    assert len(set(told.tolist())) > 5  # every reason is among them


def test_met_somewhere_is_what_a_fine_walk_over_the_heights_finds():
    margins = random_margins()
    walk = np.linspace(DROPS[0], DROPS[-1], 3001)
    seen = np.array([
        np.all([np.interp(walk, DROPS, m) >= -1e-4 for m in one], axis=0).any() for one in margins
    ])  # fmt: skip
    strict = np.array([
        np.all([np.interp(walk, DROPS, m) >= 1e-4 for m in one], axis=0).any() for one in margins
    ])  # fmt: skip
    found = met_somewhere(margins)
    assert (strict <= found).all()
    assert (found <= seen).all()


def test_bands_mend_only_what_bands_decide():
    margins = np.full((1, len(DEMANDS), 3), 0.02)
    for place, demand in enumerate(DEMANDS):
        failing = margins.copy()
        failing[0, place] = -0.02
        (end,) = outcomes(DEMANDS, failing, np.ones(1))
        assert (end == BANDS) == demand.by_bands, demand.name
