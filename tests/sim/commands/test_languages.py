"""What programs read is the same in every language and in all units; what people read is not."""

import json

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main

MAN = "tall-man-steel"


def heard(capsys, *words):
    assert main(list(words)) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("command", ["settle", "fit", "why", "weigh"])
def test_json_is_english_and_metric_for_every_reader(capsys, command):
    file = str(demo_path(MAN))
    plain = heard(capsys, command, file, "--json")
    assert heard(capsys, command, file, "--json", "--language", "pl", "--units", "imperial") == plain
    json.loads(plain)


@pytest.mark.parametrize(
    ("language", "words", "said"),
    [
        ("de", ("check-bench", "bench.toml", "--shee", "x.pdf"), "Unbekannte Option: --shee. Meintest du --sheet?"),
        ("pl", ("plate", "none.stl"), "nie ma takiego pliku; sprawdź nazwę i folder"),
        ("fr", ("study", "none.toml", "-o", "out"), "il n'y a pas de tel fichier"),
    ],
)
def test_what_cannot_be_used_is_said_in_the_readers_language(capsys, tmp_path, monkeypatch, language, words, said):
    monkeypatch.chdir(tmp_path)
    assert main([*words, "--language", language]) == 2
    assert said in " ".join(capsys.readouterr().err.split())


def test_a_caution_says_that_nobody_who_teaches_in_the_language_has_read_it(capsys):
    file = str(demo_path(MAN))
    for language, words in (("de", "Muttersprache"), ("pl", "językiem ojczystym"), ("fr", "langue maternelle")):
        told = " ".join(heard(capsys, "why", file, "--language", language).split())
        assert words in told
        assert "This is a model" not in told


def test_no_english_sentence_is_left_in_an_answer(capsys):
    """Words that only English has, in what is told of a demo diver but its own title."""
    english = {"the", "with", "of", "head-up", "head-down", "when", "which", "buttocks", "cylinders"}
    for language, command in (("de", "fit"), ("pl", "settle"), ("fr", "later")):
        lines = heard(capsys, command, str(demo_path(MAN)), "--language", language).splitlines()
        words = {word.strip(".,;:()") for line in lines if "tall man" not in line for word in line.split()}
        assert words & english == set(), (language, command)
