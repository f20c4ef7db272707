"""``hangflat change`` as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main

BARE = ("--set", "suit=none", "--set", "plate=none", "--set", "harness=none", "--set", "cylinders=none")
DIVER = [str(demo_path("single-wetsuit")), *BARE, "--set", "wing=none", "--set", "gear=none"]


def test_text_and_chart(capsys, tmp_path) -> None:
    chart = tmp_path / "c.svg"
    assert main(["change", *DIVER, "--chart", str(chart)]) == 0
    text = capsys.readouterr().out
    assert "What to change\n" in text
    assert text.endswith(f"Chart: {chart}\n")
    assert chart.stat().st_size > 5000


def test_json(capsys) -> None:
    assert main(["change", *DIVER, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["made_by"]["scenarios"][0]["file"] == Path(DIVER[0]).name
    assert told["changes"]
    assert {c["kind"] for c in told["changes"]} <= {"lead", "pose", "gear"}


@pytest.mark.parametrize(("words", "complaint"), [(["--chart", "c.txt"], "c.txt"), (["--set", "lead=3"], "lead")])
def test_what_cannot_be_is_told_and_nothing_written(words, complaint, capsys, tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["change", *DIVER, *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert complaint in err
    assert list(tmp_path.iterdir()) == []
