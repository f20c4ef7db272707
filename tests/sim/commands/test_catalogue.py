import json

import pytest

from scenarios.catalogue import entries, sections
from scenarios.measure_names import measures
from scenarios.models import Scenario
from scenarios.scenario_keys import scenario_keys
from sim.answers.formats import FORMATS
from sim.commands.main import main
from sim.telling.record import fields_of


def listed(capsys, *words):
    assert main(["catalogue", *words, "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    return json.loads(out)["entries"]


def test_overview_names_every_section(capsys):
    assert {e["name"] for e in listed(capsys)} == {*sections(), "keys", "measures", "poses", "materials", "fields"}


@pytest.mark.parametrize("section", sections())
def test_a_section_lists_every_entry(capsys, section):
    assert [e["name"] for e in listed(capsys, section)] == list(entries(section))


def test_an_entry_shows_its_values_with_sources(capsys):
    found = {e["name"]: e for e in listed(capsys, "plate", "standard steel")}
    assert found["thickness"] == {"name": "thickness", "value": "3 mm", "source": "common practice"}


def test_measures_are_all_there(capsys):
    assert {e["survey_name"] for e in listed(capsys, "measures")} == {m.measure for m in measures()}


def test_keys_begin_with_the_tables_and_reach_inside_lists_and_unions():
    keys = {k.key: k for k in scenario_keys()}
    assert {k for k in keys if "." not in k} == set(Scenario.model_fields)
    assert keys["diver.height"].needed
    assert keys["diver.height"].example == "166 cm"
    assert keys["diver.sex"].choices == ("female", "male")
    assert keys["suit.kind"].choices == ("dry", "wet")
    assert {"lead.N.place", "gear.N.side", "plate.bends.N.angle"} <= keys.keys()
    assert len(keys) == len(scenario_keys())


def test_keys_can_be_searched_by_a_word(capsys):
    found = [e["name"] for e in listed(capsys, "keys", "girth")]
    assert found == ["diver.measures", "suit.widths.heel_girth"]


def test_fields_of_every_answer_are_listed_with_their_unit_and_what_is_plus(capsys):
    told = [(e["format"], e["name"], e["summary"], e["unit"]) for e in listed(capsys, "fields")]
    fields = [(name, field) for name, kind in FORMATS.items() for field in fields_of(kind)]
    assert told == [(name, f.path, f.meaning, f.unit) for name, f in fields]
    assert all(name == next(f for f in fields_of(kind)).meaning for name, kind in FORMATS.items())
    assert main(["catalogue", "fields", "flat_moment"]) == 0
    assert capsys.readouterr().out.splitlines()[:2] == [
        "Fields of hangflat.fit/1",
        "  plates[].look_ahead.flat_moment_nm    N m  what turns the diver held flat, plus head-up",
    ]


@pytest.mark.parametrize(
    ("language", "word", "said"),
    [
        ("de", "Bauchgurt", "was den waagerecht gehaltenen Taucher dreht, plus: kopfhoch"),
        ("pl", "pas biodrowy", "co obraca nurka trzymanego poziomo, plus: głową w górę"),
        ("fr", "ventrale", "ce qui tourne le plongeur tenu à plat, plus : tête haute"),
    ],
)
def test_fields_are_told_and_looked_for_in_the_readers_language_and_json_is_the_same(capsys, language, word, said):
    plain = listed(capsys, "fields", "waist strap")
    assert listed(capsys, "fields", "waist strap", "--language", language) == plain
    assert main(["catalogue", "fields", "flat_moment", "--language", language]) == 0
    assert said in " ".join(capsys.readouterr().out.split())
    assert main(["catalogue", "fields", word.lower(), "--language", language]) == 0
    assert word in capsys.readouterr().out


def test_fields_can_be_asked_for_by_answer_and_by_a_word(capsys):
    assert {e["format"] for e in listed(capsys, "fields", "Fit")} == {"hangflat.fit/1"}
    found = listed(capsys, "fields", "waist")
    assert "plates[].straps.waist_strap_m" in {e["name"] for e in found}
    assert all("waist" in f"{e['name']} {e['summary']}" for e in found)
    assert listed(capsys, "fields", "fit waist") == [e for e in found if e["format"] == "hangflat.fit/1"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["plat"], 'did you mean "plate"'),
        (["plate", "small stel"], '"small steel"'),
        (["keys", "zzz"], '"zzz"'),
        (["fields", "zzz"], '"zzz"'),
    ],
)
def test_unknown_words_are_one_message(capsys, words, told):
    assert main(["catalogue", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err


@pytest.mark.parametrize(
    "words", [[], ["keys"], ["measures"], ["poses"], ["fields"], ["cylinders"], ["suit", "trilaminate"]]
)
def test_text_is_at_most_100_columns_wide(capsys, words):
    assert main(["catalogue", *words]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 100
