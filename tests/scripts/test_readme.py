"""The README stays short enough to be read, and what it links to is there."""

import re
import shutil
from pathlib import Path

import pytest

from scenarios.demos import demo_path

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PYTHON = re.findall(r"^```python\n(.*?)^```$", README, flags=re.MULTILINE | re.DOTALL)
LONGEST = 9_000  # bytes: what somebody reads before they try


def test_is_read_in_a_few_minutes():
    assert len(README.encode()) < LONGEST


def test_every_link_leads_somewhere():
    links = re.findall(r"\]\(([^)#]+)\)", README)
    assert len(links) >= 4
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_every_command_named_is_one():
    from sim.commands.command_line import COMMANDS

    named = set(re.findall(r"^(?:`)?hangflat ([a-z-]+)", README, flags=re.MULTILINE))
    assert len(named) >= 9
    assert named <= set(COMMANDS)


@pytest.mark.parametrize("block", PYTHON)
def test_what_is_shown_of_python_runs_as_it_stands(block, tmp_path, monkeypatch, capsys):
    shutil.copy(demo_path("small-woman-steel"), tmp_path / "student.toml")
    monkeypatch.chdir(tmp_path)
    exec(compile(block, "README.md", "exec"), {"__name__": "__main__"})
    assert re.search(r"-?\d+\.\d+", capsys.readouterr().out)


def test_python_is_shown():
    assert PYTHON
