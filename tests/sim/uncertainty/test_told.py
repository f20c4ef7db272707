"""The object and the text of ``settle --uncertain``."""

import json

import pytest

from sim.answers.settle.uncertain import uncertain_told
from sim.answers.settle.uncertain_text import uncertain_lines
from sim.case import Case
from sim.commands.main import main
from sim.telling.record import as_json
from sim.uncertainty.uncertain_settle import uncertain_settle

# CB 5 cm headward of the CM of 100 kg in balance: 50 N m head-up; a lead weighed badly, 0.4 m headward
FLOAT = """\
format = "parts/1"
[water]
density = "1000 kg/m^3"
gravity = "10 m/s^2"
[depth]
pressure = "2 bar"
held = [0.0, 0.0, 0.0]
[[part]]
name = "float"
mass = "99 kg"
cm = [0.0, 0.0, 0.0]
volume = "100 l"
cb = [0.05, 0.0, 0.0]
inertia = [[10.0, 0.0, 0.0], [0.0, 10.0, 0.0], [0.0, 0.0, 10.0]]
[[part]]
name = "lead"
mass = "1 +- 0.2 kg"
cm = [0.4, 0.0, HEIGHT]
volume = "0 l"
cb = [0.4, 0.0, 0.0]
"""


@pytest.fixture
def floating(tmp_path):
    def write(height: float):
        path = tmp_path / "float.toml"
        path.write_text(FLOAT.replace("HEIGHT", str(height)), encoding="utf-8")
        return path

    return write


def test_the_object_on_the_command_line(capsys, floating, monkeypatch):
    monkeypatch.setattr(
        "sim.answers.settle.report.settle", lambda *_, **__: None
    )  # the motion is not the matter here
    assert main(["settle", str(floating(-1.0)), "--uncertain", "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    found = json.loads(out, parse_constant=pytest.fail)["uncertain"]
    assert found["samples"] == 1024
    moment = found["pitch_moment_nm"]
    assert moment["told"] == pytest.approx(46.0)
    assert moment["p5"] == pytest.approx(46.0 - 0.8 * 1.645, abs=0.024)  # 0.03 of the SD of 0.8 N m
    assert [u["name"] for u in found["matter_most"]] == ["part.1.mass"]
    assert found["body_measures_together"] is None


def test_a_pitch_past_the_vertical_is_null_and_its_way_is_told(floating):
    uncertain = uncertain_told(uncertain_settle(Case.read(floating(1.0)), samples=64))
    told = as_json(uncertain)
    assert told["turned_to_pitch_deg"] == {"told": None, "p5": None, "p50": None, "p95": None}
    assert (told["share_over_head_up"], told["share_over_head_down"]) == (1.0, 0.0)
    text = "\n".join(uncertain_lines(uncertain))
    assert "head-up past the vertical in 100 % of draws" in text


def test_the_text_names_what_matters_within_100_columns(floating):
    lines = uncertain_lines(uncertain_told(uncertain_settle(Case.read(floating(-1.0)), samples=64)))
    text = "\n".join(lines)
    assert "5 to 95 % bands of 64 draws" in text
    assert "part.1.mass  100 %" in text
    assert max(map(len, lines)) <= 100
    assert uncertain_lines(None) == []
