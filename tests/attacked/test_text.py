"""Replays the smallest texts that once broke the reading of a file, and tries a few new ones.

``scripts/attack_text.py`` looks for more of them.
"""

import itertools
from pathlib import Path

import pytest

pytest.importorskip("resource", reason="the children of the attack have limits that this system does not know")
HERE = Path(__file__).parent / "text"
READ = sorted(HERE.glob("*.toml"))


def test_there_is_something_to_replay():
    assert READ


@pytest.mark.parametrize("path", READ, ids=lambda p: p.stem)
def test_reading_refuses_it_in_words(path, script):
    judge = script("attack_text_judge")
    end, trouble = judge.read_as(judge.kind_of(path.read_bytes()), path)
    assert trouble == ""
    assert end is judge.End.REFUSED


def test_rigs_that_reading_accepts_are_settled_or_refused_in_words(script, monkeypatch, tmp_path):
    attack, judge = script("attack_text"), script("attack_text_judge")
    monkeypatch.setattr("sys.warnoptions", [])
    path, left = tmp_path / "mutant.toml", 2
    for number in itertools.count():
        own, text = attack.made(1, number)
        path.write_bytes(text)
        if own.kind != "parts" or judge.read_as("parts", path)[0] is not judge.End.ANSWERED:
            continue
        assert judge.judged("settle", judge.ran(["settle", str(path), "--json"]))[1] == "", number
        left -= 1
        if left == 0:
            break


@pytest.mark.parametrize("seed", [1, 2])
def test_a_few_new_mutants(seed, script, tmp_path):
    attack, judge = script("attack_text"), script("attack_text_judge")
    for number in range(40):
        own, text = attack.made(seed, number)
        assert attack.made(seed, number) == (own, text)  # any can be made again
        path = tmp_path / "mutant.toml"
        path.write_bytes(text)
        _, trouble = judge.read_as(own.kind, path)
        assert trouble == "", number
