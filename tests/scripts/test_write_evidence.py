"""The evidence's page and the README's sentences: written, compared, refused."""

from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def writer(script, monkeypatch):
    module = script("write_evidence")
    monkeypatch.setattr(module.setup_env, "ensure", lambda: Path("python"))
    monkeypatch.setattr(module, "computed", lambda: ("# Ours\n\n3.14\n", "All agree.\n"))
    monkeypatch.setattr(module.sys, "prefix", str(ROOT / ".venv"))
    return module


@pytest.fixture
def root(writer, tmp_path):
    (tmp_path / "tests" / "published").mkdir(parents=True)
    (tmp_path / "README.md").write_text(f"# top\n\n{writer.BEGIN}old\n{writer.END}\nbottom\n", encoding="utf-8")
    return tmp_path


def _texts(root):
    return {file: file.read_text(encoding="utf-8") for file in root.rglob("*.md")}


def test_writes_the_page_and_between_the_marks_and_nowhere_else(writer, root, capsys):
    assert writer.main([], root) == 0
    assert _texts(root) == {
        root / "README.md": f"# top\n\n{writer.BEGIN}All agree.\n{writer.END}\nbottom\n",
        root / writer.PAGE: "# Ours\n\n3.14\n",
    }
    assert writer.main([], root) == 0
    assert capsys.readouterr().out.splitlines()[2:] == [f"{writer.PAGE}: unchanged", "README.md: unchanged"]


def test_check_tells_a_difference_and_writes_nothing(writer, root, capsys):
    before = _texts(root)
    assert writer.main(["--check"], root) == 1
    assert _texts(root) == before
    out = capsys.readouterr().out
    assert "-old\n" in out
    assert "+All agree.\n" in out
    assert "+3.14\n" in out
    assert "python3 scripts/write_evidence.py" in out
    assert writer.main([], root) == 0
    capsys.readouterr()
    assert writer.main(["--check"], root) == 0
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize("text", ["nothing", "{1}{0}", "{0}{0}{1}", "{0}"])
def test_marks_that_are_not_there_once_in_order(writer, root, text, capsys):
    (root / "README.md").write_text(text.format(writer.BEGIN, writer.END), encoding="utf-8")
    assert writer.main([], root) == 1
    assert "must stand in it once" in capsys.readouterr().err


def test_unknown_words(writer, root, capsys):
    assert writer.main(["--chek"], root) == 2
    assert "usage" in capsys.readouterr().err


def test_the_project_readme_has_the_marks(writer):
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert writer.renewed(text, "x") != text
