"""Replays the smallest texts that once broke something: reading for ``text/*.toml``, settle for ``text/settled``.

``scripts/attack_text.py`` looks for more of them.
"""

from pathlib import Path

import pytest

pytest.importorskip("resource", reason="the children of the attack have limits that this system does not know")
HERE = Path(__file__).parent / "text"
READ = sorted(HERE.glob("*.toml"))
SETTLED = sorted((HERE / "settled").glob("*.toml"))


def test_there_is_something_to_replay():
    assert READ


@pytest.mark.parametrize("path", READ, ids=lambda p: p.stem)
def test_reading_refuses_it_in_words(path, script):
    attack = script("attack_text")
    end, trouble = attack.read_as(attack.kind_of(path.read_bytes()), path)
    assert trouble == ""
    assert end is attack.End.REFUSED


@pytest.mark.parametrize("path", SETTLED, ids=lambda p: p.stem)
def test_settling_answers_or_refuses(path, script, monkeypatch):
    attack = script("attack_text")
    monkeypatch.setattr("sys.warnoptions", ["default"])
    assert attack.judged("settle", attack.ran(["settle", str(path), "--json"])) in (
        (attack.End.ANSWERED, ""),
        (attack.End.REFUSED, ""),
    )


@pytest.mark.parametrize("seed", [1, 2])
def test_a_few_new_mutants(seed, script, tmp_path):
    attack = script("attack_text")
    for number in range(40):
        own, text = attack.made(seed, number)
        assert attack.made(seed, number) == (own, text)  # any can be made again
        path = tmp_path / "mutant.toml"
        path.write_bytes(text)
        _, trouble = attack.read_as(own.kind, path)
        assert trouble == "", number
