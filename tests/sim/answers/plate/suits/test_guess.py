"""The guess at margins from measures."""

import numpy as np
import pytest

from sim.answers.plate.suits.guess import FEWEST, guessed


def people(number, seed):
    """Measures that go together, as those of people do, and margins, each bent along a way that another follows."""
    random = np.random.default_rng(seed)
    few = random.normal(size=(number, 3))
    measures = few @ np.random.default_rng(1).normal(size=(3, 12)) + 0.1 * random.normal(size=(number, 12))
    return measures, 0.02 * few - 0.01 + 0.01 * np.roll(few, 1, axis=1) ** 2


def test_bent_margins_are_told_better_than_by_a_line_and_their_error_honestly():
    known, others = people(250, 2), people(400, 3)
    bent, again = guessed(known[0], known[1], others[0])
    off, own = (np.sqrt(np.mean((g - t) ** 2)) for g, t in ((bent, others[1]), (again, known[1])))
    line = np.linalg.lstsq(np.c_[np.ones(250), known[0]], known[1], rcond=None)[0]
    by_line = np.sqrt(np.mean((np.c_[np.ones(400), others[0]] @ line - others[1]) ** 2))
    assert off < 0.5 * by_line
    # what it says of its own error, guessing each from others alone, is what strangers show
    assert own == pytest.approx(off, rel=0.35)


def test_nobody_is_guessed_from_too_few():
    measures, margins = people(FEWEST - 1, 4)
    with pytest.raises(ValueError, match=str(FEWEST)):
        guessed(measures, margins, measures)
