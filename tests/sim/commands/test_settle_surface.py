import json

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.commands.main import main
from sim.report.caution import CAUTION
from sim.report.surface import face, surface_answer, told_surface
from sim.report.surface_text import surface_lines

FIELDS = {
    "reached_from", "up", "pitch_deg", "roll_deg", "face", "trunk_from_vertical_deg", "mouth_above_water_mm",
    "water_level_m", "displaced_l", "reserve_buoyancy_kg", "under_water", "stable", "least_stiffness_nm_per_rad",
}  # fmt: skip


@pytest.fixture(autouse=True)
def _unsettled(monkeypatch):
    """Leaves out the motion under water, which takes most of the time."""
    monkeypatch.setattr("sim.report.settle_report.settle", lambda *_, **__: None)


def test_json_gets_one_more_object(capsys):
    demo = str(demo_path("small-woman-steel"))
    assert main(["settle", demo, "--json", "--surface"]) == 0
    found = json.loads(capsys.readouterr().out)
    surface = found["surface"]
    assert found["caution"] == CAUTION
    assert surface["outcome"] == "floats"
    assert surface["heavy_by_kg"] is None
    assert sorted(s for r in surface["rests"] for s in r["reached_from"]) == ["face down", "face up", "upright"]
    for rest in surface["rests"]:
        assert rest.keys() == FIELDS
        assert rest["stable"]
        assert np.linalg.norm(rest["up"]) == pytest.approx(1.0, abs=1e-12)
        assert np.cos(np.radians(rest["trunk_from_vertical_deg"])) == pytest.approx(rest["up"][0], abs=1e-12)
        assert all(0.0 <= share <= 1.0 for share in rest["under_water"].values())
    assert main(["settle", demo, "--json"]) == 0
    assert "surface" not in json.loads(capsys.readouterr().out)


def test_text_quotes_the_reference_and_keeps_the_caution(capsys):
    assert main(["settle", str(demo_path("single-wetsuit")), "--surface"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Surface attitude: mouth height and trunk angle (wing blown up to its 15.0 l)" in said
    assert "For reference only: for lifejackets the LSA Code (2.2) asks for a mouth 120 mm above the water" in said
    assert "A wing is not a lifejacket." in said
    assert CAUTION in said


def test_more_gas_in_the_wing_is_more_reserve():
    """The same diver with 5 and with 9 l: 4 l more, less what of the bag is a little heavier for its gas."""
    demo = demo_path("single-wetsuit")
    few, more = (told_surface(surface_answer(demo, [f"wing.gas={litres} l"]))["rests"][0] for litres in (5, 9))
    assert more["reserve_buoyancy_kg"] - few["reserve_buoyancy_kg"] == pytest.approx(4.0 * 1.0246, abs=0.02)


def test_a_sunk_diver_is_told_so():
    surface = told_surface(surface_answer(demo_path("single-wetsuit"), ["wing=none", "lead.0.mass=30 kg"]))
    assert surface["outcome"] == "sinks"
    assert surface["rests"] == []
    assert surface["heavy_by_kg"] > 10.0
    said = " ".join(" ".join(surface_lines(surface)).split())
    assert f"The diver sinks: even so the whole is {surface['heavy_by_kg']:.1f} kg too heavy to float." in said


def test_a_parts_file_is_refused_in_one_sentence(parts_file, capsys):
    assert main(["settle", str(parts_file), "--surface"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "--surface needs the shapes of body and gear, which a parts file has not" in err
    assert len(err.strip().splitlines()) == 1


@pytest.mark.parametrize(
    ("up", "word"),
    [
        ([0.1, 0.0, -0.99], "up"),
        ([-0.7, 0.1, 0.7], "down"),
        ([0.99, 0.05, 0.1], "forward"),
        ([0.1, -0.99, 0.05], "to the side"),
    ],
)
def test_which_way_the_face_looks(up, word):
    assert face(np.array(up)) == word


def test_not_asked_for_is_not_told():
    assert surface_lines(None) == []
