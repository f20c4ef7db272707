"""The bench's server: the same answers as the commands, for this machine alone, and nothing lost."""

from __future__ import annotations

import tomllib

from scenarios.demos import demo_path
from sim.page.form import form
from sim.page.set_up import opened, text_of

DEMO = demo_path("small-woman-steel")


def test_shapes_that_are_known_are_not_sent_again(served, document):
    first = served.answer("view", document)["surfaces"]
    known = [s["digest"] for s in first]
    again = served.ask("answer", {"what": "view", "document": document, "known": known})[1]["surfaces"]
    assert [s["digest"] for s in again] == known
    assert not any("positions" in s for s in again)
    other = {**document, "lead": [{"mass": "2 kg", "place": "belt"}]}
    sent = served.ask("answer", {"what": "view", "document": other, "known": known})[1]["surfaces"]
    assert [s["name"] for s in sent if "positions" in s and s["name"] != "wing"] == ["lead, belt"]


def test_wrong_input_is_told_at_its_key_in_the_words_of_the_command_line(served, document):
    wrong = {**document, "diver": {**document["diver"], "height": "166"}}
    problems = served.answer("flat", wrong)["problems"]
    assert [p["key"] for p in problems] == ["diver.height"]
    assert 'has no unit; write it with one, like "166 cm"' in problems[0]["message"]


def test_advice_can_be_put_in(served, document):
    told = served.work("advice", document)
    best = served.ask("apply", {"document": document, "settings": told["best"]["settings"]})[1]["document"]
    assert abs(served.answer("flat", best)["moment"]) < abs(served.answer("flat", document)["moment"])


def test_saving_keeps_comments_where_values_did_not_change(served, document):
    changed = {
        **document,
        "diver": {**document["diver"], "mass": "61 kg"},
        "lead": [{"mass": "1 kg", "place": "tail"}],
    }
    base = served.anew()["base"]
    there = set(served.file.parent.iterdir())
    assert served.ask("save", {"document": changed, "mark": served.mark, "base": base})[1]["document"] == changed
    text = served.file.read_text(encoding="utf-8")
    assert tomllib.loads(text) == changed
    assert "# without shoes" in text
    assert "# without clothes" not in text  # it stood beside the mass
    assert set(served.file.parent.iterdir()) == there  # no draft is left


def test_a_set_up_that_did_not_change_is_the_file_byte_for_byte():
    set_up, text = opened(DEMO)
    assert text_of(set_up.document, text) == text


def test_every_field_is_a_key_of_the_scenario():
    from scenarios.scenario_keys import scenario_keys

    keys = {k.key for k in scenario_keys()}
    for group in form():
        for field in group.fields:
            key = f"{group.table}.N.{field.key}" if group.table else field.key
            known = key in keys or key.startswith(("diver.measures.", "pose.joints."))
            assert known or key == "gear.N.catalogue", key


def test_what_is_written_is_told_as_the_page_is_and_so_is_the_command(served, document):
    asked = {"document": document, "mark": served.anew()["mark"], "name": "posture txt"}
    plain, german = (
        {one["name"]: one["command"] for one in served.ask("outputs", {**asked, **told})[1]["outputs"]}
        for told in ({}, {"language": "de", "units": "imperial"})
    )
    assert plain["posture txt"] == "hangflat posture student.toml > student-posture.txt"
    assert german["posture txt"].endswith("student.toml --language de --units imperial > student-posture.txt")
    text = served.ask("write", {**asked, "language": "de", "units": "imperial"})[1].decode()
    assert "kopf" in text
    assert "lbf ft" in text


def test_a_new_name_is_never_one_that_is_there_and_is_asked_for_where_there_is_none(served, document):
    begun = served.anew()
    other = {**document, "title": "another"}
    asked = {"document": other, "mark": begun["mark"], "base": begun["base"]}
    for name, said in (("student", "is there already"), ("student.toml", "is there already"), (" ", "needs a name")):
        status, told = served.ask("save", {**asked, "name": name})
        assert (status, [p["key"] for p in told["problems"]]) == (200, ["name"])
        assert said in told["problems"][0]["message"]
    assert tomllib.loads(served.file.read_text(encoding="utf-8")) == document
    assert served.ask("save", {**asked, "name": "../NUL"})[1]["file"] == "_NUL.toml"
    (served.file.parent / "_NUL.toml").unlink()
