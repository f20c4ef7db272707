"""The carry ashore as people and programs read it."""

import json

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.told.ashore import lean_words
from sim.commands.main import main

FILE = str(demo_path("small-woman-steel"))


def told(capsys: pytest.CaptureFixture[str], *more: str) -> dict:
    assert main(["fit", FILE, "--json", *more]) == 0
    return json.loads(capsys.readouterr().out)["plates"][0]["ashore"]


def test_pairs_are_least_and_greatest_and_the_shares_add_up(capsys):
    a = told(capsys)
    for key, value in a.items():
        if isinstance(value, list) and len(value) == 2 and all(isinstance(v, float) for v in value):
            assert value[0] <= value[1], key
    assert a["carried_kg"] == pytest.approx(a["rig_kg"] + a["belt_lead_kg"])
    assert a["carried_share_of_body_mass"] == pytest.approx(a["carried_kg"] / a["body_mass_kg"])
    assert a["lean_from_ankles_deg"] < a["lean_from_hips_deg"]


def test_text_gives_ranges_and_sends_to_a_professional(capsys):
    assert main(["fit", FILE]) == 0
    text = " ".join(capsys.readouterr().out.split())
    for words in ("% of the diver's 58 kg", "in parts", "on a bench", "doctor or physiotherapist"):
        assert words in text
    at_most = told(capsys)["shoulder_force_n"][1] / 9.80665
    assert f"they bear {at_most:.0f} kg, {at_most / 2.0:.0f} kg each" in text
    assert "safe" not in text


def test_who_is_heavier_in_front_leans_back() -> None:
    assert lean_words([np.radians(3.0), np.radians(15.0)]) == "leans forward 3 to 15 degrees"
    assert lean_words([np.radians(-1.0), np.radians(-6.0)]) == "leans back 1 to 6 degrees"
    assert lean_words([np.radians(-2.0), np.radians(-2.0)]) == "leans back 2 degrees"
