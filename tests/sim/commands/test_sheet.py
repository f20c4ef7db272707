"""``hangflat sheet`` where it cannot do what is asked: one line, exit 2, what was there stays."""

from __future__ import annotations

import sys

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main

DIVER = str(demo_path("single-wetsuit"))


def refused(words: list[str], capsys: pytest.CaptureFixture[str]) -> str:
    assert main(["sheet", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    return err


def test_without_the_typesetter_it_says_how_to_get_it(capsys, tmp_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    file = tmp_path / "s.pdf"
    file.write_text("old", encoding="utf-8")
    assert '-e ".[print]"' in refused([DIVER, "-o", str(file)], capsys)
    assert file.read_text(encoding="utf-8") == "old"


def test_bad_files_leave_nothing(capsys, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text('format = "scenario/1"\n[diver]\nmass = "heavy"\n', encoding="utf-8")
    assert main(["sheet", DIVER, str(bad), "-o", str(tmp_path / "s.pdf")]) == 2
    assert "bad.toml" in capsys.readouterr().err
    assert "ends in '.doc'" in refused([DIVER, "-o", str(tmp_path / "s.doc")], capsys)
    assert "up to 40 files; got 41" in refused([DIVER] * 41 + ["-o", str(tmp_path / "s.pdf")], capsys)
    assert [p.name for p in tmp_path.iterdir()] == ["bad.toml"]
