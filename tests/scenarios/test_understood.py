"""What was understood of a file, written out: reads back to the same; its digest follows from the values."""

import hashlib
import re
from pathlib import Path

import pytest

from scenarios import practice
from scenarios.breathing import FreeGas
from scenarios.catalogue import entries
from scenarios.catalogue.used import used_of_catalogue
from scenarios.demos import demo_names, demo_path
from scenarios.reading import read_file
from scenarios.table import all_spreads
from scenarios.toml_text import toml_text
from scenarios.understood import digest, understood_text

FILES = [*map(demo_path, demo_names()), *sorted(Path(practice.__file__).parent.glob("*.toml"))]
PARTS = """\
format = "parts/1"
title = "\\u00e4 \\"box\\"\\u007f"
water = { density = "1025 kg/m^3", gravity = "9.81 m/s^2" }
depth = { pressure = "252153.75 Pa", held = [0.1, 0.0, 1e-3] }
suit = { gas = "5 l", softness = "300 Pa", cells = [{ at = [0.0, 0.0, 0.1], least = "0.1 l", most = "9 l" }] }
[[part]]
name = "box"
mass = "28.826 +- 0.2 kg"
cm = [0.1, 0, 0.3333333333333333]
volume = "30.027 l"
cb = [0.1, 0.0, 0.0]
inertia = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
"""
# Everything a catalogue entry or a default would fill in otherwise, spreads, joints, and all ways to say a size
ODD = """\
[diver]
sex = "male"
height = "5 ft 11 in"
mass = "80 +- 0.5 kg"
body_fat = "17.3 +- 3 %"
measures = { waist_girth = "31 in", chest_girth = "98.7 +- 1 cm" }
[water]
kind = "fresh"
temperature = "51 °F"
latitude = "47.1 deg"
[suit]
catalogue = "trilaminate"
undergarment = "none"
boots = "none"
inflation = "trimix 18/45"
widths = { thigh = "33.3 cm" }
softness = "600 Pa"
[plate]
catalogue = "standard steel"
mass = "2.87 +- 0.01 kg"
[harness]
catalogue = "one-piece webbing"
shoulder_strap = "62 cm"
[cylinders]
catalogue = "twin aluminium 11.1 l 207 bar"
free_gas = "80 cu ft at 3000 psi"
gas = "nitrox 32"
pressure = "2750 psi"
regulators = { catalogue = "twin", hoses = [] }
[fins]
catalogue = "rubber"
each_mass = "1.35 kg"
[pose]
name = "arms ahead"
joints = { "left knee flexion" = "77 deg" }
[[lead]]
mass = "2 lb"
at = [0.1, -0.05, 0.1]
[[gear]]
catalogue = "mask"
volume = "0.3 l"
[[gear]]
catalogue = "stage aluminium 11.1 l"
side = "right"
"""


def read_again(content, folder, tmp_path):
    """The content written out beside what it names and read."""
    again = tmp_path / "again.toml"
    again.write_text(understood_text(content, folder), encoding="utf-8")
    if getattr(content, "known", None):
        (tmp_path / content.known).write_bytes((folder / content.known).read_bytes())
    return read_file(again).content


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_what_is_written_out_reads_back_to_the_same(path, tmp_path):
    content = read_file(path).content
    again = read_again(content, path.parent, tmp_path)
    assert again == content  # every value to the last bit, and every spread
    assert digest(again) == digest(content)


@pytest.mark.parametrize("text", [ODD, PARTS], ids=["odd", "parts"])
def test_what_is_odd_reads_back_to_the_same(text, tmp_path):
    path = tmp_path / "one.toml"
    path.write_text(text, encoding="utf-8")
    content = read_file(path).content
    again = read_again(content, tmp_path, tmp_path)
    assert again == content
    assert digest(again) == digest(content)
    assert all_spreads(again) == all_spreads(content) != {}


def test_what_was_left_to_be_guessed_is_left_out_again_and_told(tmp_path):
    """Not writing shift says that the bands may be anywhere near; written as a key it would say where they are."""
    path = demo_path("single-wetsuit")
    content = read_file(path, ["cylinders.mass=14 kg"]).content
    said = "shift" in content.cylinders.model_fields_set
    assert ("shift" in read_again(content, path.parent, tmp_path).cylinders.model_fields_set) == said
    unsaid = read_file(path, ["cylinders=steel 12 l 232 bar"]).content
    assert "shift" not in read_again(unsaid, path.parent, tmp_path).cylinders.model_fields_set
    assert re.search(r"^# shift = \"0 mm\"", understood_text(unsaid, path.parent), re.MULTILINE)
    assert digest(unsaid) != digest(read_file(path, ["cylinders=steel 12 l 232 bar", "cylinders.shift=0 cm"]).content)


def test_spelling_order_and_comments_do_not_count(tmp_path):
    one, other = tmp_path / "one.toml", tmp_path / "other.toml"
    text = '# a\n[diver]\nsex="female"\nheight="166 cm"\nmass="58 kg"\n[plate]\ncatalogue="small steel"\n'
    one.write_text(text, encoding="utf-8")
    other.write_text(
        'format = "scenario/1"\nplate = "small steel"\n[diver]\nmass = "58000 g"\nheight = "1.66 m"\nsex = "female"\n'
        '[water]\nkind = "sea"\ndepth = "1000 cm"\ntemperature = "50 °F"\n',
        encoding="utf-8",
    )
    assert digest(read_file(one).content) == digest(read_file(other).content)
    by_setting = read_file(one, ["plate.mass=2 kg"]).content
    one.write_text(text + 'mass = "2000 g"\n', encoding="utf-8")
    assert digest(read_file(one).content) == digest(by_setting)


def test_the_digest_is_that_of_the_values_in_plain_ascii():
    """So it hangs on no clock, no order of a set, no folder and no machine. 80 cu ft = 80 x 0.3048^3 m^3 exactly."""
    gas = FreeGas.model_validate("80 cu ft at 200 bar")
    assert digest(gas) == hashlib.sha256(b'{"pressure":"20000000","volume":"2.26534772736"}').hexdigest()


CHANGES = [
    "title=other", "diver.mass=58.0000001 kg", "diver.mass=58 +- 1 kg", "diver.trained=true", "diver.sex=male",
    "diver.measures.waist_girth=73 cm", "water.depth=11 m", "suit=wetsuit 5 mm", "suit.undergarment=thin",
    "suit.undergarment=none", "suit.undergarment.loft=11 mm", "suit.inflation=argon", "suit.gas=8 l",
    "suit.boots=none", "suit.gaiters=false", "plate=small steel", "plate.thickness=2.1 mm", "harness.drop=0 cm",
    "cylinders.gas=oxygen", "cylinders.pressure=200.1 bar", "cylinders.regulators={ catalogue = 'twin', hoses = [] }",
    "wing.gas=4 l", "fins=plastic", "pose=arms ahead", "pose.joints.left_knee_flexion=80 deg", "fit.neck_bulk=0 deg",
    "lead.0.place=belt", "lead=none", "gear.1.name=lamp", "gear.0.at=[0.1,0.0,0.2]",
]  # fmt: skip


def test_every_change_of_a_value_changes_the_digest():
    path = demo_path("small-woman-carbon")
    found = {"": digest(read_file(path).content)}
    found |= {change: digest(read_file(path, [change]).content) for change in CHANGES}
    assert len(set(found.values())) == len(CHANGES) + 1


def test_a_drawing_counts_by_what_it_holds_and_is_named_from_the_scenario(tmp_path):
    text = demo_path("tall-man-steel").read_text(encoding="utf-8")
    plate = '[plate]\nfile = "mine.stl"\nunit = "mm"\nmaterial = "aluminium"\n'
    text = re.sub(r"\[plate\]\n(?:[^\[]*\n)*?(?=\[)", plate, text, count=1)
    marks = []
    for name, content in (("a", b"solid"), ("b", b"solid"), ("c", b"other")):
        folder = tmp_path / name
        folder.mkdir()
        (folder / "mine.stl").write_bytes(content)
        (folder / "d.toml").write_text(text, encoding="utf-8")
        read = read_file(folder / "d.toml").content
        marks.append(digest(read))
        assert 'file = "mine.stl"' in understood_text(read, folder)
        assert read_again(read, folder, folder) == read
    assert marks[0] == marks[1] != marks[2]


def test_what_was_learnt_counts():
    path = demo_path("calibrated-diver")
    assert digest(read_file(path).content) != digest(read_file(path, ["known=none"]).content)


def test_numbers_of_the_catalogue_are_told_with_their_source_and_no_others():
    content = read_file(
        demo_path("small-woman-carbon"),
        ["plate.thickness=3 mm", "suit.undergarment.loft=12 mm", "lead.0.density=11000 kg/m^3"],
    ).content
    used = {u.key: u for u in used_of_catalogue(content)}
    assert "plate.thickness" not in used
    assert "suit.undergarment.loft" not in used
    assert not any(key.startswith("lead") for key in used)
    plate = entries("plate")["small carbon"]
    assert used["plate.width"].value == plate.values["width"]
    assert used["plate.width"].source == plate.sources["width"]
    assert used["cylinders.water_capacity"].value == "8.5 l"
    assert {k.split(".")[0] for k in used} == {"suit", "plate", "harness", "cylinders", "wing", "fins", "gear"}
    assert all(u.source for u in used.values())


def test_a_value_that_no_file_can_hold_is_a_fault_of_ours():
    with pytest.raises(TypeError):
        toml_text({"a": object()})
