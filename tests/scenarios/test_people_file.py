"""Real people from a table."""

import random

import pytest

from scenarios.errors import ScenarioError
from scenarios.people_file import people_file

TABLE = """name,sex,height [cm],mass [kg],waist girth [cm]
anna,female,158,51.5,66
ben,male,1.92 m,101 kg,
"""


def read(tmp_path, text):
    file = tmp_path / "people.csv"
    file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return people_file(file)


def test_units_stand_in_the_head_or_beside_the_value_and_an_empty_cell_was_not_measured(tmp_path):
    anna, ben = read(tmp_path, TABLE)
    assert (anna.name, anna.diver.sex, anna.diver.height, anna.diver.mass) == ("anna", "female", 1.58, 51.5)
    assert list(anna.diver.measures.values()) == [pytest.approx(0.66)]
    assert (ben.line, ben.diver.height, ben.diver.mass, dict(ben.diver.measures)) == (3, 1.92, 101.0, {})


@pytest.mark.parametrize("parted", [";", "\t"])
def test_whatever_parts_the_first_line_parts_all(tmp_path, parted):
    assert [p.diver for p in read(tmp_path, TABLE.replace(",", parted))] == [p.diver for p in read(tmp_path, TABLE)]


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("", None, "the file is empty"),
        ("sex,height [cm],mass [kg]\n", 1, "lists nobody"),
        ("sex,height [cm]\nfemale,160\n", 1, 'no column "mass"'),
        ("sex,height,height,mass\nmale,1 m,1 m,80 kg\n", 1, "two columns of this name"),
        ("sex,height [cm],mass [kg],shoe\nmale,180,80,43\n", 1, "shoe"),
        (TABLE.replace("158", "15.8"), 2, "height"),
        (TABLE.replace("51.5", "nan"), 2, "nan"),
        (TABLE.replace("anna,female", "anna,female,x"), 2, "cells for 5 columns"),
        (TABLE.replace("158", '"158'), None, "no sound table"),
        (TABLE.encode("utf-16"), None, "UTF-8"),
    ],
)
def test_what_is_wrong_is_told_with_its_line(tmp_path, text, line, said):
    with pytest.raises(ScenarioError) as caught:
        read(tmp_path, text)
    problem = caught.value.problems[0]
    assert said in f"{problem.key} {problem.message}"
    assert line is None or problem.line == line


def test_every_problem_of_every_row_is_told_at_once(tmp_path):
    with pytest.raises(ScenarioError) as caught:
        read(tmp_path, TABLE.replace("158", "15").replace("101 kg", "1010 kg"))
    assert [p.line for p in caught.value.problems] == [2, 3]


def test_a_spoilt_table_is_read_or_refused_and_nothing_else(tmp_path):
    chance = random.Random(11)
    bits = [b",", b";", b"\n", b'"', b"\0", b"\xff", b"-", b"9" * 400, b"[", b"]", b"nan", b"1e308", b"male", b"\r"]
    for _ in range(250):
        text = bytearray(TABLE.encode())
        for _ in range(chance.randint(1, 5)):
            place = chance.randrange(len(text))
            text[place : place + chance.randint(0, 4)] = chance.choice(bits)
        try:
            told = [p.diver.height for p in read(tmp_path, bytes(text))]
        except ScenarioError as error:
            told = [len(p.message) for p in error.problems]
        assert told
        assert all(0 < number < 2500 for number in told)  # the longest message lists every measure
