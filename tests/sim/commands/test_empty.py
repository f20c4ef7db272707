"""``hangflat empty`` as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main

WOMAN = str(demo_path("small-woman-carbon"))


def test_text_chart_and_table(capsys, tmp_path) -> None:
    chart, table = tmp_path / "c.svg", tmp_path / "t.csv"
    assert main(["empty", WOMAN, "--to", "2000 psi", "--chart", str(chart), "--table", str(table)]) == 0
    text = capsys.readouterr().out
    assert text.startswith("From 200 to 138 bar")
    assert text.endswith(f"Chart: {chart}\nTable: {table}\n")
    assert chart.stat().st_size > 5000
    assert table.read_text(encoding="utf-8").count("\n") == 9  # 200, 197.9 ... 137.9 bar and the header


def test_json(capsys, tmp_path) -> None:
    table = tmp_path / "t.csv"
    assert main(["empty", WOMAN, "--to", "190 bar", "--json", "--table", str(table)]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["made_by"]["scenarios"][0]["file"] == Path(WOMAN).name
    assert [p["pressure_bar"] for p in told["points"]] == pytest.approx([200.0, 190.0])
    assert told["table"] == {"file": str(table)}


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (["--to", "much"], '--to: "much"'),
        (["--to=-3 bar"], '--to: "-3 bar" is less than nothing'),
        (["--to", "300 bar"], "the cylinders are at 200 bar, and are to be emptied to 300 bar"),
        (["--chart", "chart.txt"], "chart.txt"),
        (["--chart", "a.csv", "--table", "a.csv"], "the same file"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_written(words, complaint, capsys, tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["empty", WOMAN, *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert complaint in err
    assert list(tmp_path.iterdir()) == []
