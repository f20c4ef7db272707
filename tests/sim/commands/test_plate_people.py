"""``hangflat plate`` on people and divers, as it is typed."""

import csv
import json

import pytest

import hangflat
from sim.answers.fit.dressed_person import drawn_person, dress_of, dressed_person
from sim.answers.fit.hung_rig import hung_rig
from sim.answers.fit.plate_on_person import banded
from sim.answers.plate.bench import bench_plate
from sim.answers.plate.laid import laid, wearing, worn_plate
from sim.answers.plate.suits.known import outcome_name
from sim.answers.plate.suits.told import ENDS
from sim.commands.main import main
from sim.person.population import many_drawn

PEOPLE = 2  # of each sex


@pytest.fixture(scope="module")
def drawn():
    many = [many_drawn(sex, PEOPLE) for sex in ("female", "male")]
    return [of_sex.person(i) for of_sex in many for i in range(PEOPLE)]


@pytest.fixture(scope="module")
def ends(drawn):
    """How it ends for each, worked out one by one."""
    bench = bench_plate("small steel")
    worn = worn_plate(laid(wearing(bench), bench))
    rig, dress = hung_rig("", worn), dress_of(worn)
    return [ENDS[outcome_name(banded(rig, dressed_person(drawn_person(p), dress)))] for p in drawn]


def test_people_listed_in_a_table_end_as_those_drawn_with_their_measures(capsys, tmp_path, drawn, ends):
    listed, table = tmp_path / "people.csv", tmp_path / "table.csv"
    names = sorted(drawn[0].measures)
    with listed.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["name", "sex", "height [m]", "mass [kg]", *(f"{name} [m]" for name in names)])
        for number, p in enumerate(drawn):
            writer.writerow([f"p{number}", p.sex, p.height, p.mass, *(p.measures[name] for name in names)])
    assert main(["plate", "small steel", "--csv", str(listed), "--table", str(table), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["people"]
    assert [p["name"] for p in told["persons"]] == [f"p{number}" for number in range(len(drawn))]
    assert [p["ends"] for p in told["persons"]] == [[end] for end in ends]
    rows = list(csv.DictReader(table.open(encoding="utf-8")))
    assert [row["small steel"] for row in rows] == ends


def test_so_many_of_a_survey_and_their_map(capsys, tmp_path, ends):
    drawn_map = tmp_path / "map.svg"
    words = ["plate", "small steel", "--people", str(PEOPLE), "--map", str(drawn_map), "--json"]
    assert main(words) == 0
    answer = json.loads(capsys.readouterr().out)["people"]
    assert hangflat.as_json(hangflat.plate("small steel", people=PEOPLE))["people"] == {
        key: value for key, value in answer.items() if key != "map"
    }
    (told,) = answer["plates"]
    for sex, own in (("female", ends[:PEOPLE]), ("male", ends[PEOPLE:])):
        assert told[sex]["in_full"] == PEOPLE
        assert told[sex]["suits"]["share"] == own.count(ENDS["passes"]) / PEOPLE
        assert told[sex]["suits_with_bands"]["share"] == own.count(ENDS["bands"]) / PEOPLE
    assert drawn_map.stat().st_size > 5000


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--people", "0"], "whole number"),
        (["--people", "5", "--csv", "x.csv"], "give one"),
        (["--map", "m.png"], "--people"),
        (["--divers-picture", "d.png"], "--divers"),
        (["--change-picture", "d.png"], "--change"),
        (["--most-mass", "1 kg"], "--design"),
        (["--design", "p.json"], ".toml"),
        (["--design", "p.toml", "--search", "length,length"], "once at most"),
        (["--design", "p.toml", "--most-mass", "1"], "unit"),
        (["--beside", "no such plate", "--people", "2"], "no such plate"),
    ],
)
def test_what_cannot_be_asked_is_said_and_leaves_no_file(capsys, tmp_path, monkeypatch, words, said):
    monkeypatch.chdir(tmp_path)
    assert main(["plate", "small steel", *words]) == 2
    assert said in capsys.readouterr().err
    assert not list(tmp_path.iterdir())
