"""The README stays short enough to be read, and what it links to is there."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
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
