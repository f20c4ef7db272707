"""Errors in the reader's language: known again by their sentences, what was found left as it is."""

import re

import pytest

from sim.commands.main import main
from sim.telling.known_sentences import ERROR, in_words
from sim.telling.language import messages_of, spoken

OTHERS = ["de", "pl", "fr"]
BAD = """\
[diver]
sex = "female"
height = "166,5 cm"
mass = "58"
hight = "3 cm"
[plate]
thickness = "3 kg"
"""


def sentences(code):
    """Those with fields, and what is said in their place."""
    return [(k.removeprefix(ERROR), v[0]) for k, v in messages_of(code).items() if k.startswith(ERROR) and "{0}" in k]


@pytest.mark.parametrize("code", OTHERS)
def test_each_sentence_is_known_again_whatever_stands_in_its_fields(code):
    assert len(sentences(code)) > 80
    unknown = []
    with spoken(code):
        for english, said in sentences(code):
            fields = [f"§{k}" for k in range(len(set(re.findall(r"{(\d)}", english))))]
            if in_words(english.format(*fields), part=True) != said.format(*fields):
                unknown.append(english)
    assert unknown == []


@pytest.mark.parametrize("code", OTHERS)
def test_what_stands_in_quotes_is_left_as_it_was_found(code):
    with spoken(code):
        assert '"a mass"' in in_words('"a mass" has a blank inside a number; write it like "58 kg"')
        assert in_words("nothing of the kind is in the table") == "nothing of the kind is in the table"


@pytest.mark.parametrize("code", OTHERS)
def test_a_bad_file_is_told_with_lines_and_keys_as_they_are(code, tmp_path, capsys):
    file = tmp_path / "diver.toml"
    file.write_text(BAD, encoding="utf-8")
    assert main(["settle", str(file)]) == 2
    plain = capsys.readouterr().err
    assert main(["settle", str(file), "--language", code]) == 2
    told = capsys.readouterr().err
    places = re.compile(r"^(?:\S+:\d+: \S+:| +\d+ \|.*)", re.MULTILINE)
    assert places.findall(told) == places.findall(plain) != []
    assert not re.search(r"\b(unit|write|known|unknown|instead|did|like)\b", told)


def test_an_option_that_cannot_be_read_is_told_in_the_language_of_the_system(capsys, monkeypatch):
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")
    assert main(["settle", "x.toml", "--units", "furlongs"]) == 2
    assert "metric oder imperial" in capsys.readouterr().err
    assert main(["settle", "x.toml", "--roll", "sideways"]) == 2
    assert "Möglich sind" in capsys.readouterr().err


@pytest.mark.parametrize("code", OTHERS)
def test_what_stands_in_brackets_is_known_beside_other_brackets(code):
    with spoken(code):
        both = in_words(
            "pressure the cylinder is made for (gauge) (pressure with unit; 50 bar to 400 bar)", part=True
        )
        why = in_words('between 30 kg and 200 kg (adults only), like "58 kg"', part=True)
    assert not re.search(r"\b(gauge|with unit|made)\b", both)
    assert "400 bar" in both
    assert not re.search(r"\b(between|adults|only|like)\b", why)
    assert '"58 kg"' in why


@pytest.mark.parametrize("code", OTHERS)
def test_a_key_is_written_as_in_the_file(code):
    with spoken(code):
        assert in_words('a value with a unit stands in quotes: mass = "4 kg"').endswith('mass = "4 kg"')
