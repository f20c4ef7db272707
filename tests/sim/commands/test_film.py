"""``hangflat film`` where it cannot end well: one line or none, and nothing left behind."""

from __future__ import annotations

import resource
import sys
from pathlib import Path

import psutil
import pytest

from sim.answers.film.encoder import Mp4
from sim.commands.main import main
from sim.drawing import film_renderer


@pytest.fixture
def words(tmp_path: Path, parts_file: Path) -> list[str]:
    """Of a film of an old name; all else in its folder would be left behind."""
    old = tmp_path / "film" / "f.mp4"
    old.parent.mkdir()
    old.write_text("old", encoding="utf-8")
    return ["film", str(parts_file), str(old), "--seconds", "3", "--size", "640x360"]


def nothing_left(words: list[str]) -> bool:
    old = Path(words[2])
    children = [c for c in psutil.Process().children(recursive=True) if "film_child" in " ".join(c.cmdline())]
    return list(old.parent.iterdir()) == [old] and old.read_text(encoding="utf-8") == "old" and not children


def test_without_a_renderer_it_is_said_in_a_line(words, monkeypatch, capsys):
    monkeypatch.setattr(film_renderer, "RENDERER", (sys.executable, "-c", "import os; os.abort()"))
    assert main(words) == 2
    err = capsys.readouterr().err
    assert err.startswith("A film cannot be drawn here: no OpenGL library works here")
    assert err.count("\n") == 1
    assert nothing_left(words)


def test_without_an_encoder_it_is_said_in_a_line(words, monkeypatch, capsys):
    monkeypatch.setitem(sys.modules, "av", None)
    assert main(words) == 2
    err = capsys.readouterr().err
    assert ".gif" in err
    assert "pip install" in err
    assert err.count("\n") == 1
    assert nothing_left(words)


def test_interrupted_it_leaves_neither_file_nor_process(words, monkeypatch):
    count = iter(range(5))

    def interrupted(self: Mp4, picture: object) -> None:
        if next(count) == 3:
            raise KeyboardInterrupt

    monkeypatch.setattr(Mp4, "add", interrupted)
    assert main(words) == 130
    assert nothing_left(words)


@pytest.mark.skipif(sys.platform == "win32", reason="no limits there")
@pytest.mark.parametrize("ending", [".mp4", ".gif"])
def test_a_full_disk_is_said_in_a_line(ending, words, capsys):
    """As a disk that is full says it: no file may grow beyond 20 kB."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    words[2] = words[2].replace(".mp4", ending)
    Path(words[2]).write_text("old", encoding="utf-8")
    for other in set(Path(words[2]).parent.iterdir()) - {Path(words[2])}:
        other.unlink()
    resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, before[1]))
    try:
        assert main(words) == 2
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    err = capsys.readouterr().err
    assert "cannot be written" in err
    assert err.count("\n") == 1
    assert nothing_left(words)
