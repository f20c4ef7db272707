"""What stands beside the fields: values as they were taken, where they are from, which are estimates."""

from __future__ import annotations

import tomllib

import pytest

from scenarios.demos import demo_path
from sim.page.answers import answered
from sim.page.facts import facts
from sim.page.set_up import SetUp, case_of
from sim.telling.language import spoken

DEMO = demo_path("small-woman-steel")


@pytest.fixture(scope="module")
def told():
    document = tomllib.loads(DEMO.read_text(encoding="utf-8"))
    document["diver"]["height"] = "5 ft 6 in"
    return facts(case_of(SetUp(document, DEMO)))


def test_a_value_in_any_unit_has_its_place_on_the_slider(told):
    assert told["diver.height"]["on"] == pytest.approx({"cm": 167.64, "in": 66.0})
    assert told["water.temperature"]["on"] == pytest.approx({"°C": 10.0, "°F": 50.0})
    assert told["cylinders.pressure"]["on"]["psi"] == pytest.approx(2900.75, abs=0.01)


def test_what_is_not_given_is_filled_in_and_marked(told):
    assert told["diver.body_density"]["estimated"]
    assert told["diver.measures.hip girth"]["estimated"]
    assert "estimated" not in told["diver.measures.waist girth"]
    assert told["suit.gas"]["value"] == "vented"
    assert told["suit.gas"]["worked"].endswith(" l")
    assert told["pose.joints.knee flexion"]["value"].endswith(" deg")
    assert "common practice" in told["plate.thickness"]["source"]


def test_imperial_readers_are_told_in_their_units():
    document = tomllib.loads(DEMO.read_text(encoding="utf-8"))
    with spoken("en", "imperial"):
        assert facts(case_of(SetUp(document, DEMO)))["diver.mass"]["value"] == "127.9 lb"
    flat = answered("flat", document, str(DEMO), told_in=("de", "imperial"))
    assert flat["moment"] < -10.0  # in N m, whoever reads
    assert "lbf ft" in flat["sentence"]
