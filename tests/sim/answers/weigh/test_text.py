"""What an instructor reads of a weighing."""

from __future__ import annotations

from functools import cache

import pytest

from scenarios.demos import demo_path
from sim.answers.weigh.report import weigh_answer
from sim.answers.weigh.text import weigh_text
from sim.case import Case
from sim.telling.caution import CAUTION


@cache
def text(name: str, *settings: str) -> str:
    told = weigh_text(weigh_answer(Case.read(demo_path(name), settings)))
    assert max(map(len, told.splitlines())) <= 100
    return " ".join(told.split())


def test_lead_that_is_too_much_is_said_first():
    assert text("tall-man-steel").startswith("You need no lead: without any you sink with 0.7 kg at the last stop")
    assert "You wear 2.0 kg, all of it too much." in text("tall-man-steel")


def test_what_is_missing_is_said_too():
    assert "You wear 4.0 kg: 3.8 kg too little." in text("loose-legs")


@pytest.mark.parametrize("name", ["tall-man-steel", "loose-legs"])
def test_conditions_failures_and_caution_are_told(name):
    told = text(name)
    assert "4 m, 50 bar in every cylinder" in told
    assert told.index("wing torn") < told.index("suit flooded")
    assert "With its valve shut the suit takes" in told
    assert "In nine of ten divers of whom this file is true it is none to" in told
    assert told.endswith(CAUTION)


def test_a_wing_that_is_too_small_is_said():
    told = text("loose-legs", "wing.capacity=4 l")
    assert "it is 0." in told
    assert "too small" in told
