"""Every answer says what made it: version, file and digest; more only when asked for; pictures never more."""

import json
import re
from importlib import metadata
from pathlib import Path

import pytest
from matplotlib.figure import Figure
from PIL import Image

import sim
from scenarios.demos import demo_path
from scenarios.reading import read_file
from scenarios.understood import digest
from sim.commands.main import main
from sim.drawing.saved import save_figure
from sim.drawing.stamp import stamped
from sim.telling.made_by import made_by, origin

WOMAN = demo_path("small-woman-carbon")
VERSION = metadata.version("hangflat")
KINDS = ("png", "svg", "pdf")


@pytest.fixture
def unsettled(monkeypatch):
    """Leaves out the motion, which takes most of the time, where a test is not about it."""
    monkeypatch.setattr("sim.answers.settle.report.settle", lambda *_, **__: None)


def answer(capsys, *words):
    assert main([*map(str, words), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_there_is_one_place_that_prints_json_and_one_that_writes_pictures():
    """So no command can forget it: none of the rest dumps an answer, none of the rest saves a figure."""
    root = Path(sim.__file__).parent
    commands = {p.name for p in (root / "commands").glob("*.py") if "json.dumps" in p.read_text(encoding="utf-8")}
    assert commands == {"traced.py"}
    saving = {p.name for p in root.rglob("*.py") if "savefig(" in p.read_text(encoding="utf-8")}
    assert saving == {"saved.py", "paper_form.py"}


def test_an_answer_names_version_file_and_digest_and_no_more(capsys):
    told = answer(capsys, "why", WOMAN, "--set", "plate.mass=0.7 kg")
    mark = digest(read_file(WOMAN, ["plate.mass=700 g"]).content)
    assert list(told)[:2] == ["format", "made_by"]
    assert told["made_by"] == {
        "program": "hangflat", "version": VERSION, "scenarios": [{"file": WOMAN.name, "sha256": mark}],
    }  # fmt: skip


@pytest.mark.usefixtures("unsettled")
def test_the_scenario_that_is_told_gives_the_same_answer(capsys, tmp_path):
    settings = (
        "--set",
        "diver.mass=58 +- 1.5 kg",
        "--set",
        "suit.inflation=argon",
        "--set",
        "suit.undergarment=none",
    )
    told = answer(capsys, "settle", WOMAN, "--with-scenario", *settings)
    again = tmp_path / WOMAN.name
    again.write_text(told["made_by"]["scenarios"][0].pop("scenario"), encoding="utf-8")
    assert answer(capsys, "settle", again) == told  # all of it, the digest too


def test_a_parts_file_is_traced_too(capsys, parts_file, tmp_path):
    told = answer(capsys, "why", parts_file, "--with-scenario", "--with-sources")
    (one,) = told["made_by"]["scenarios"]
    assert one.pop("sources") == []
    again = tmp_path / "again" / parts_file.name
    again.parent.mkdir()
    again.write_text(one.pop("scenario"), encoding="utf-8")
    assert answer(capsys, "why", again) == told


def test_sources_are_those_of_the_catalogue(capsys):
    asked = answer(capsys, "why", WOMAN, "--with-sources")["made_by"]["scenarios"][0]
    assert "scenario" not in asked
    plate = {
        e["name"]: (e["value"], e["source"]) for e in answer(capsys, "catalogue", "plate", "small carbon")["entries"]
    }
    told = {s["key"]: (s["value"], s["source"]) for s in asked["sources"]}
    assert told["plate.width"] == plate["width"]
    assert told["plate.density"] == plate["density"]


def test_measurements_are_named_beside_the_scenario(capsys, tmp_path):
    (tmp_path / WOMAN.name).write_bytes(WOMAN.read_bytes())
    marks = []
    for text in ('dry_mass = "2.9 kg"', 'dry_mass = "2900 g"  # again', 'dry_mass = "2.91 kg"'):
        bench = tmp_path / "bench.toml"
        told = f'format = "bench/1"\nscenario = "{WOMAN.name}"\n[[item]]\nname = "plate"\n{text}\n'
        bench.write_text(told, encoding="utf-8")
        made = answer(capsys, "check-bench", bench)["made_by"]
        assert made["scenarios"] == [{"file": WOMAN.name, "sha256": digest(read_file(WOMAN).content)}]
        assert made["measurements"]["file"] == "bench.toml"
        marks.append(made["measurements"]["sha256"])
    assert marks[0] == marks[1] != marks[2]


@pytest.mark.parametrize("words", [("catalogue", "plate"), ("catalogue", "fields", "waist")])
def test_what_needs_no_scenario_names_the_version(capsys, words):
    assert answer(capsys, *words)["made_by"] == {"program": "hangflat", "version": VERSION, "scenarios": []}


@pytest.mark.parametrize("option", ["--with-scenario", "--with-sources"])
def test_what_only_json_can_hold_is_asked_for_with_json(capsys, option):
    assert main(["why", str(WOMAN), option]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def metadata_of(picture):
    """Everything that a picture's file says beside what is drawn."""
    if picture.suffix == ".png":
        with Image.open(picture) as image:
            return "\n".join(f"{key}: {value}" for key, value in image.text.items())
    text = picture.read_bytes().decode("latin-1")
    if picture.suffix == ".svg":
        return re.search(r"<metadata>.*?</metadata>", text, re.DOTALL)[0]
    return re.search(r"<<[^<>]*/Producer.*?>>", text, re.DOTALL)[0]


def saved(path):
    save_figure(Figure(figsize=(1.0, 1.0)), path)
    return path


def test_pictures_carry_version_name_and_digest_and_nothing_of_the_person(capsys, tmp_path):
    scenario = tmp_path / "Übung 3 (a & b).toml"
    scenario.write_bytes(WOMAN.read_bytes())
    content = read_file(scenario).content
    mark = digest(content)
    drawn = tmp_path / "drawn.png"
    assert main(["why", str(scenario), "--json", "--chart", str(drawn)]) == 0
    capsys.readouterr()
    with stamped(made_by([origin(content, scenario)])):
        files = [saved(tmp_path / f"{n}.{ending}") for ending in KINDS for n in "ab"]
    assert [f.read_bytes() for f in files[::2]] == [f.read_bytes() for f in files[1::2]]  # no time, no chance
    assert metadata_of(drawn) == metadata_of(files[0])
    for kind, picture in zip(KINDS, files[::2], strict=True):
        said = metadata_of(picture)
        assert f"hangflat {VERSION}" in said
        assert mark in said
        assert ("bung 3 (a " in said) or (kind == "pdf" and "/Subject" in said)  # PDF escapes what is not ASCII
        assert str(tmp_path) not in said
        rest = said.replace(mark, "").replace(VERSION, "").lower()
        rest = re.sub(r"http://[^\"<> ]*", "", rest)  # names of the vocabularies hold years
        for secret in ("166", "1.66", "58", "72", "34", "kg", "small woman", "date"):
            assert secret not in rest, (kind, secret)


def test_a_picture_drawn_of_nothing_named_carries_the_version_alone(tmp_path):
    assert metadata_of(saved(tmp_path / "a.png")) == f"Software: hangflat {VERSION}"
