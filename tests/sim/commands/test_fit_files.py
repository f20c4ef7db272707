"""``hangflat fit``'s files: picture, chart and table are written whole or not at all, bad words are explained."""

from __future__ import annotations

import csv
import json

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main

DEMO = str(demo_path("small-woman-steel"))
SHORT = "drop; from=0 cm; to=2 cm; steps=2"


def test_chart_and_table_of_a_sweep_are_written_and_told(tmp_path, capsys):
    chart, table = tmp_path / "chart.svg", tmp_path / "table.csv"
    words = ["fit", DEMO, "--sweep", SHORT, "--chart", str(chart), "--table", str(table), "--json"]
    assert main([*words, "--plate", "standard steel", "--plate", "small steel"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    told = json.loads(out)["sweep"]
    assert [p["plate"] for p in told["plates"]] == ["standard steel", "small steel"]
    assert told["chart"]["file"] == str(chart)
    with table.open(encoding="utf-8", newline="") as file:
        assert len(list(csv.reader(file))) == 1 + 2 * 2
    assert chart.read_text(encoding="utf-8").startswith("<?xml")
    assert sorted(tmp_path.iterdir()) == [chart, table]


def test_a_picture_is_written_and_told(tmp_path, capsys):
    picture = tmp_path / "fit.svg"
    assert main(["fit", DEMO, "--picture", str(picture)]) == 0
    assert f"Picture: {picture}" in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == [picture]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--sweep", "dorp"], 'Did you mean "drop"'),
        (["--chart", "OUT/chart.png"], "--sweep drop"),
        (["--table", "OUT/table.csv"], "--sweep drop"),
        (["--sweep", SHORT, "--chart", "OUT/chart.gif"], ".png or .svg or .pdf"),
        (["--sweep", SHORT, "--table", "OUT/table.txt"], ".csv"),
        (["--sweep", SHORT, "--chart", "OUT/nowhere/chart.png"], "there is no folder"),
        (["--sweep", SHORT, "--plate", "no such plate", "--chart", "OUT/chart.png"], "no such plate"),
        (["--sweep", "plate length; from=28 cm; to=29 cm; steps=2", "--chart", "OUT/chart.png"], "plate"),
        (["--picture", "OUT/fit.docx"], ".png or .svg or .pdf"),
        (["--picture", "OUT/fit.png", "--plate", "small steel", "--plate", "standard steel"], "one plate"),
    ],
)
def test_what_cannot_be_is_said_in_a_message_and_nothing_is_left_behind(tmp_path, capsys, words, said):
    words = [w.replace("OUT", str(tmp_path)) for w in words]
    assert main(["fit", DEMO, *words]) == 2
    out, err = capsys.readouterr()
    assert said in err
    assert out == ""
    assert list(tmp_path.iterdir()) == []
