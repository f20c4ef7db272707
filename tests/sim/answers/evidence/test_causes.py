"""The stored divers of known cause: how often the true cause is first, and whether probabilities are true."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from sim.answers.evidence.calibration import stored
from sim.answers.evidence.causes import calibration_score, checks, told_and_true
from sim.answers.seen.causes import CAUSES


def test_three_hundred_divers_of_six_causes_are_stored() -> None:
    rows = stored("seen_cases")
    assert len(rows) == 300
    assert set(Counter(r["cause"] for r in rows)) == set(CAUSES)
    assert {r["doing"] for r in rows} == {"still", "finning"}


@pytest.mark.parametrize("check", checks(), ids=lambda c: c.name)
def test_each_agrees(check) -> None:
    assert all(c.low <= c.ours <= c.high for c in check.compute())


def test_tests_in_the_water_tell_more_than_a_sight_alone() -> None:
    one, after, three = (c.ours for c in checks()[0].compute())
    assert one < after < three


def test_probabilities_told_add_up() -> None:
    for stage in ("p", "after"):
        np.testing.assert_allclose(told_and_true(stage)[0].sum(axis=1), 1.0, atol=6 * 0.5e-4)


@pytest.mark.parametrize(("sharper", "holds"), [(1.0, True), (2.0, False), (0.4, False)])
def test_the_score_tells_true_probabilities_from_overstated_and_understated_ones(sharper, holds) -> None:
    rng = np.random.default_rng(5)
    true_chances = rng.dirichlet(np.full(6, 0.7), 4000)
    drawn = (true_chances.cumsum(axis=1) > rng.random((4000, 1))).argmax(axis=1)
    told = true_chances**sharper
    told /= told.sum(axis=1, keepdims=True)
    assert (abs(calibration_score(told, np.eye(6)[drawn])) < 3.3) is holds
