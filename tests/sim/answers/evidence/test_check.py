"""How a check is judged, with numbers worked out by hand."""

import math
from dataclasses import replace

import pytest

from sim.answers.evidence.check import Check, Compared, near, within, worked_out


def check(*cases: Compared) -> Check:
    return Check("Water", "some number", "a book", "published", "m", 2, lambda: cases)


def test_near_and_within():
    assert near(1.04, 1.0, 0.05).passes
    assert not near(1.06, 1.0, 0.05).passes
    assert near(1.04, 1.0, 0.05).strain == pytest.approx(0.8)
    assert within(5.0, 4.0, 8.0).strain == pytest.approx(0.5)
    assert not within(math.nan, 4.0, 8.0).passes
    assert within(math.nan, 4.0, 8.0).strain == math.inf


def test_the_worst_case_is_told_and_one_failure_fails_the_row():
    row = worked_out(check(near(1.0, 1.0, 0.1, "a"), near(1.3, 1.0, 0.1, "b"), near(0.95, 1.0, 0.1, "c")))
    assert (row.worst.case, row.cases, row.passing, row.passes) == ("b", 3, 2, False)


def test_of_equally_bad_cases_the_first_is_told_whatever_the_last_digit():
    for tiny in (-1e-13, 0.0, 1e-13):
        assert worked_out(check(near(1.05, 1.0, 0.1, "a"), near(0.95 + tiny, 1.0, 0.1, "b"))).worst.case == "a"


def test_a_number_that_is_none_is_the_worst():
    row = worked_out(check(near(5.0, 1.0, 0.1, "far"), near(math.nan, 1.0, 0.1, "none")))
    assert row.worst.case == "none"
    assert row.passing == 0


def test_nothing_compared_is_no_check():
    with pytest.raises(ValueError, match="compares nothing"):
        worked_out(replace(check(), name="empty"))
