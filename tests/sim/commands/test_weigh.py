"""``hangflat weigh`` and ``hangflat later`` as they are typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import hangflat
from scenarios.demos import demo_path
from sim.commands.main import main
from sim.telling.caution import CAUTION

DIVER = str(demo_path("single-wetsuit"))


def test_a_weighing_in_words_and_drawn(capsys, tmp_path):
    chart = tmp_path / "c.svg"
    assert main(["weigh", DIVER, "--chart", str(chart)]) == 0
    text = capsys.readouterr().out
    assert text.startswith("Wear ")
    assert "You wear 2.0 kg: 0.6 kg too much." in " ".join(text.split())
    assert max(map(len, text.splitlines())) <= 100
    body, _, end = text.rpartition("\n\nChart: ")
    assert " ".join(body.split()).endswith(CAUTION)
    assert end == f"{chart}\n"
    assert chart.stat().st_size > 5000


def test_the_front_door_gives_what_is_printed(capsys):
    assert main(["weigh", DIVER, "--json", "--depth", "6 m", "--pressure", "40 bar", "--breath", "relaxed"]) == 0
    printed = json.loads(capsys.readouterr().out)
    found = hangflat.weigh(hangflat.load(DIVER), depth=6.0, pressure=40e5, breath="relaxed")
    assert json.loads(json.dumps(hangflat.as_json(found))) == printed
    assert printed["format"] == "hangflat.weigh/1"
    assert printed["how"] == {"depth_m": 6.0, "pressure_bar": 40.0, "breath": "relaxed", "suit_gas": None}
    assert printed["made_by"]["scenarios"][0]["file"] == Path(DIVER).name


def test_a_parts_file_is_weighed_as_it_stands(parts_file, capsys, tmp_path):
    assert main(["weigh", str(parts_file), "--chart", str(tmp_path / "c.png")]) == 0
    assert capsys.readouterr().out.startswith("You need no lead: without any you neither sink nor float up as this")


def test_later_in_words_as_object_and_as_table(capsys, tmp_path):
    chart, table = tmp_path / "c.svg", tmp_path / "t.csv"
    assert main(["later", DIVER, "--chart", str(chart), "--table", str(table)]) == 0
    text = capsys.readouterr().out
    assert text.startswith("From 1 m and 200 bar to 4 m and 49 bar")
    assert text.endswith(f"Chart: {chart}\nTable: {table}\n")
    assert main(["later", DIVER, "--json"]) == 0
    printed = json.loads(capsys.readouterr().out)
    assert printed["format"] == "hangflat.later/1"
    assert table.read_text(encoding="utf-8").count("\n") == len(printed["points"]) + 1
    found = hangflat.later(hangflat.load(DIVER))
    assert json.loads(json.dumps(hangflat.as_json(found))) == printed
    assert found.points[-1].depth == printed["points"][-1]["depth_m"]


def test_fields_say_what_the_objects_hold(capsys):
    for answer in ("weigh", "later"):
        assert main(["catalogue", "fields", answer]) == 0
        assert f"hangflat.{answer}/1" in capsys.readouterr().out
    assert main(["catalogue", "fields", "weigh surplus", "--json"]) == 0
    assert [e["name"] for e in json.loads(capsys.readouterr().out)["entries"]] == ["waters[].surplus_kg"]


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (["weigh", DIVER, "--depth", "5"], '--depth: "5" has no unit'),
        (["weigh", DIVER, "--pressure", "900 bar"], '--pressure: "900 bar" is not believable'),
        (["weigh", DIVER, "--suit-gas", "full"], "--suit-gas: 'full' is not known here"),
        (["weigh", DIVER, "--breath", "held"], "breath"),
        (["weigh", DIVER, "--chart", "c.txt"], "c.txt"),
        (["later", DIVER, "--chart", "a.csv", "--table", "a.csv"], "the same file"),
        (["later", DIVER, "--set", "later.gas_use=20 l/min"], "stretch"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_written(words, complaint, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert main(words) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert complaint in err
    assert list(tmp_path.iterdir()) == []
