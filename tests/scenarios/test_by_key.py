"""Values of a table by dotted key: read, put otherwise, listed."""

from __future__ import annotations

import pytest

from scenarios.by_key import numbers_in, quantity_at, stated_value, told_otherwise, told_value
from scenarios.demos import demo_path
from scenarios.reading import read_scenario


@pytest.fixture(scope="module")
def scenario():
    return read_scenario(demo_path("small-woman-carbon"))


@pytest.mark.parametrize(
    "key",
    ["diver.mass", "diver.measures.waistcircumference", "lead.0.mass", "suit.undergarment.loft", "plate.thickness"],
)
def test_what_is_put_otherwise_is_read_back_and_nothing_else_changes(scenario, key):
    before = numbers_in(scenario)
    after = numbers_in(told_otherwise(scenario, key, 0.123))
    assert told_value(told_otherwise(scenario, key, 0.123), key) == 0.123
    assert before[key] == told_value(scenario, key) == stated_value(scenario, key)
    assert {k for k in before if before[k] != after[k]} == {key}


def test_a_list_grows_by_the_number_after_its_last_and_a_member_is_replaced_whole(scenario):
    first, count = scenario.lead[0], len(scenario.lead)
    assert told_otherwise(scenario, f"lead.{count}", first).lead == (*scenario.lead, first)
    assert told_otherwise(scenario, "lead.0", scenario.lead[-1]).lead == (scenario.lead[-1], *scenario.lead[1:])


def test_numbers_are_the_quantities_that_are_told(scenario):
    found = numbers_in(scenario)
    assert found["diver.height"] == pytest.approx(1.66)
    assert "diver.body_density" not in found  # left to be estimated
    assert all(quantity_at(scenario, key) is not None for key in found)


@pytest.mark.parametrize("key", ["diver.body_density", "lead.9.mass", "diver.nobody", "diver.sex", "diver"])
def test_what_is_not_told_is_none(scenario, key):
    assert stated_value(scenario, key) is None


def test_a_quantity_is_known_by_its_key_whether_told_or_not(scenario):
    assert quantity_at(scenario, "diver.body_density").dimension == "density"
    assert quantity_at(scenario, "diver.measures.anything").dimension == "length"
    assert quantity_at(scenario, "lead.0.mass").dimension == "mass"
    assert quantity_at(scenario, "lead.9.mass") is None
    assert quantity_at(scenario, "diver.nobody") is None
