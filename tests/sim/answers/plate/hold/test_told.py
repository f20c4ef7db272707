import json

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.plate.bench import bench_plate
from sim.answers.plate.hold import held, run
from sim.answers.plate.hold.picture import draw_stress
from sim.answers.plate.hold.place import place_words
from sim.answers.plate.hold.run import SheetPlate, case_held
from sim.answers.plate.hold.text import hold_text
from sim.answers.plate.hold.told import hold_told
from sim.case import Case
from sim.commands.main import main
from sim.shells.sheet_mesh import Fineness
from sim.telling.record import as_json


@pytest.fixture(scope="module")
def found():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(held, "FIRST", Fineness(0.06, 6.0, 6.0))
        patch.setattr(
            held, "UNSURE", np.inf
        )  # nothing is refined: the figures are rough, what is said of them is not
        case = Case.read(demo_path("small-woman-steel"))
        return case_held(case, ["small aluminium; thickness=4 mm"], vehicle=3.0)


def test_what_is_told_of_each_plate(found):
    told = hold_told(found)
    own, other = told.plates
    assert (own.material, other.material) == ("stainless steel 316L", "aluminium 6061-T6")
    assert other.thickness == pytest.approx(0.004)
    assert [w.way for w in own.ways] == ["standing", "lifted", "set down", "vehicle"]
    assert [w.load for w in told.loads] == [1.0, 1.5, 3.0, 3.0]
    assert told.loads[3].source == "stated"
    for plate in told.plates:
        for way in plate.ways:
            assert way.of_strength == pytest.approx(way.peak / plate.strength)
            assert 0.0 < way.deflection < 0.02
            assert 0.0 <= way.down <= 0.400  # the plate's length
    # twin steel 8.5 l with gas, valves and bands, as the demo weighs them
    assert told.carried_mass == pytest.approx(27.0, abs=0.1)
    json.dumps(as_json(told), allow_nan=False)


def test_the_greatest_stress_is_that_of_the_worst_way(found, monkeypatch):
    monkeypatch.setattr(held, "FIRST", Fineness(0.06, 6.0, 6.0))
    monkeypatch.setattr(held, "UNSURE", np.inf)
    bench = bench_plate(demo_path("small-woman-steel"))
    peaks = {way.way.name: way.peak for way in found.plates[0].held.ways}
    assert run.greatest_stress(bench, ways=["standing", "lifted"]) == pytest.approx(
        max(peaks["standing"], peaks["lifted"]), rel=1e-9
    )


def test_text_names_every_plate_way_and_what_it_is_not(found):
    told = hold_told(found)
    text, other = hold_text(told), told.plates[1]
    assert all(word in text for word in ("standing", "lifted", "set down", "vehicle", other.plate, "   4.0   "))
    assert "no certificate" in text
    assert max(map(len, text.split("\n"))) <= 100


def test_picture(found, tmp_path):
    file = tmp_path / "stress.png"
    draw_stress(found, hold_told(found), file)
    assert file.read_bytes().startswith(b"\x89PNG")


def test_places_are_named(found):
    pattern = found.plates[0].of.plate.pattern
    points, outer = pattern.points, pattern.outline.outer
    near = np.array([0.005, 0.0])
    assert place_words(pattern, points.upper_bolt + near) == "at the upper bolt"
    assert place_words(pattern, points.lower_bolt - near) == "at the lower bolt"
    assert place_words(pattern, points.waist_slots[1]) == "at a waist slot"
    assert place_words(pattern, points.shoulder_slots[0] + near) == "at a shoulder slot"
    assert place_words(pattern, points.crotch_slot) == "at the crotch slot"
    bend = pattern.bends[0]
    top = outer[:, 0].max()
    assert place_words(pattern, np.array([top - 0.001, bend.at])) == "at the edge, in a bend"


def test_a_sandwich_counts_as_what_bends_alike(found):
    """(E t^3 of the skins about the middle) over t^3: 1 - (core / t)^3 of the skins' modulus and strength."""
    plate = found.plates[0].of
    made_of = run.material("carbon sandwich")
    thick = plate.plate.thickness
    share = 1.0 - ((thick - 2 * 0.75e-3) / thick) ** 3  # two skins of 0.75 mm
    one = SheetPlate("one", plate.plate, made_of, plate.carried)
    assert one.sheet.modulus == pytest.approx(48e9 * share)
    assert one.strength == pytest.approx(250e6 * share)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--stress", "a.png"], "give --hold"),
        (["--deceleration", "5"], "give --hold"),
        (["--hold", "--deceleration", "nan"], "1 to 50"),
        (["--hold", "--deceleration", "0.5 g"], "1 to 50"),
        (["--hold", "--set", "plate.material=other", "--set", "plate.density=2 kg/l"], "stiffness and strength"),
        (["--hold", "--beside", "no such plate"], "no such plate"),
    ],
)
def test_what_cannot_be_held_is_said(words, said, capsys):
    assert main(["plate", "small steel", *words]) == 2
    error = capsys.readouterr().err
    assert said in error
    assert len(error.strip().split("\n")) <= 3


def test_without_cylinders_there_is_nothing_to_hold(tmp_path, capsys):
    file = tmp_path / "bare.toml"
    text = demo_path("small-woman-steel").read_text(encoding="utf-8")
    file.write_text(text, encoding="utf-8")
    words = ["plate", str(file), "--hold", "--set", "cylinders=none", "--set", "wing=none"]
    assert main(words) == 2
    assert "no cylinders" in capsys.readouterr().err
