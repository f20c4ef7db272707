"""Help in columns: nothing lost, nothing wider than the terminal."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.commands.command_line import COMMANDS
from sim.commands.help_pages import table, wrapped
from sim.commands.main import main

WORDS = st.text(alphabet="abcdefgh,.-", min_size=1, max_size=15)
ROWS = st.lists(st.tuples(WORDS, st.lists(WORDS, max_size=40).map(" ".join)), min_size=1, max_size=6)


@given(ROWS, st.integers(40, 120))
def test_every_word_is_there_in_order_and_no_line_too_wide(rows, width):
    lines = list(table(rows, width))
    assert " ".join(lines).split() == " ".join(f"{name} {words}" for name, words in rows).split()
    assert max(len(line) for line in lines) <= width


def test_meanings_stand_below_each_other_and_below_a_long_name():
    rows = [("FILE", "what it is, told at some length"), ("--a-name-longer-than-its-column", "below")]
    assert list(table(rows, 52)) == [
        "  FILE                      what it is, told at some",
        "                            length",
        "  --a-name-longer-than-its-column",
        "                            below",
    ]


def test_line_breaks_in_a_paragraph_are_not_kept_but_empty_lines_are():
    assert wrapped("one\ntwo\n\nthree", 80) == ["one two", "", "three"]


@pytest.mark.parametrize("command", COMMANDS)
def test_a_page_of_help_keeps_within_the_terminal_as_it_is_now(command, capsys, monkeypatch):
    monkeypatch.setenv("COLUMNS", "100")
    assert main([command, "--help"]) == 0
    capsys.readouterr()
    monkeypatch.setenv("COLUMNS", "72")
    assert main([command, "--help"]) == 0
    page = capsys.readouterr().out
    assert max(len(line) for line in page.split("\n")) <= 72
    assert "\n  --" in page  # what can be given starts a line


def test_what_to_begin_with_stands_on_the_first_page_alone(capsys):
    main(["--help"])
    assert "Start with:" in capsys.readouterr().out
    main(["study", "--help"])
    told = capsys.readouterr().out
    assert "report" in told
    assert "Start with:" not in told
