"""Shares from a guess put right: against a population of which everything is known."""

import numpy as np

from sim.answers.plate.suits.shares import shares_of

CASES, PEOPLE, FEW = 400, 2000, 120


def drawn(random, wrong):
    """How people end, and a guess of it that is wrong for a share of them, mostly one way."""
    truth = random.random(PEOPLE) < random.uniform(0.1, 0.9)
    guess = np.where(random.random(PEOPLE) < wrong, random.random(PEOPLE) < 0.8, truth)
    return (np.where(v, "passes", "fails").astype("<U6") for v in (truth, guess))


def shares(truth, guess):
    return shares_of(["passes"], guess[FEW:], truth[:FEW], guess[:FEW])["passes"]


def test_the_share_is_right_on_average_however_poor_the_guess_and_its_band_holds_what_it_says():
    for wrong in (0.05, 0.3, 1.0):
        random = np.random.default_rng(7)
        off, held = [], 0
        for _ in range(CASES):
            truth, guess = drawn(random, wrong)
            found = shares(truth, guess)
            right = (truth == "passes").mean()
            off.append(found.share - right)
            held += found.low <= right <= found.high
        # three standard errors of a mean, and of a share of 0.9
        assert abs(np.mean(off)) < 3.0 * np.std(off) / np.sqrt(CASES)
        assert held / CASES > 0.9 - 3.0 * np.sqrt(0.09 / CASES)


def test_a_better_guess_makes_a_narrower_band():
    widths = []
    for wrong in (0.02, 0.2, 1.0):
        found = shares(*drawn(np.random.default_rng(3), wrong))
        widths.append(found.high - found.low)
    assert widths == sorted(widths)


def test_whoever_is_all_worked_out_needs_no_guess():
    ends = np.array(["passes", "fails", "passes", "passes"], dtype="<U6")
    none = np.zeros(0, dtype="<U6")
    assert shares_of(["passes"], none, ends, none)["passes"].share == 0.75
    nobody = shares_of(["passes"], none, none, none)["passes"]
    assert (nobody.low, nobody.high) == (0.0, 1.0)
