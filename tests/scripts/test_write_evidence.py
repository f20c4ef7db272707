"""The README's evidence section: written, compared, refused."""

from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def writer(script, monkeypatch):
    module = script("write_evidence")
    monkeypatch.setattr(module.setup_env, "ensure", lambda: Path("python"))
    monkeypatch.setattr(module, "section", lambda: "## Ours\n\n3.14\n")
    monkeypatch.setattr(module.sys, "prefix", str(ROOT / ".venv"))
    return module


@pytest.fixture
def readme(writer, tmp_path):
    file = tmp_path / "README.md"
    file.write_text(f"# top\n\n{writer.BEGIN}old\n{writer.END}\nbottom\n", encoding="utf-8")
    return file


def test_writes_between_the_marks_and_nowhere_else(writer, readme, capsys):
    assert writer.main([], readme) == 0
    assert readme.read_text(encoding="utf-8") == f"# top\n\n{writer.BEGIN}## Ours\n\n3.14\n{writer.END}\nbottom\n"
    assert writer.main([], readme) == 0
    assert capsys.readouterr().out == "README.md: written\nREADME.md: unchanged\n"


def test_check_tells_a_difference_and_writes_nothing(writer, readme, capsys):
    before = readme.read_text(encoding="utf-8")
    assert writer.main(["--check"], readme) == 1
    assert readme.read_text(encoding="utf-8") == before
    out = capsys.readouterr().out
    assert "-old\n" in out
    assert "+3.14\n" in out
    assert "python3 scripts/write_evidence.py" in out
    assert writer.main([], readme) == 0
    capsys.readouterr()
    assert writer.main(["--check"], readme) == 0
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize("text", ["nothing", "{1}{0}", "{0}{0}{1}", "{0}"])
def test_marks_that_are_not_there_once_in_order(writer, readme, text, capsys):
    readme.write_text(text.format(writer.BEGIN, writer.END), encoding="utf-8")
    assert writer.main([], readme) == 1
    assert "must stand in it once" in capsys.readouterr().err


def test_unknown_words(writer, readme, capsys):
    assert writer.main(["--chek"], readme) == 2
    assert "usage" in capsys.readouterr().err


def test_the_project_readme_has_the_marks(writer):
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert writer.renewed(text, "x") != text
