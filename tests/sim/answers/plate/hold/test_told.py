import json
from dataclasses import replace

import numpy as np
import pytest
import trimesh

from scenarios.demos import demo_path
from sim.answers.plate.bench import bench_plate
from sim.answers.plate.hold import held, picture, run
from sim.answers.plate.hold.picture import draw_stress
from sim.answers.plate.hold.place import place_words
from sim.answers.plate.hold.run import SheetPlate, case_held
from sim.answers.plate.hold.text import hold_text
from sim.answers.plate.hold.told import hold_told
from sim.case import Case
from sim.commands.main import main
from sim.shells.sheet_mesh import Fineness
from sim.telling.language import spoken
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


def test_a_way_that_is_left_out_and_a_plate_that_folds_are_told_without_figures(found, tmp_path):
    """A hundred times the load: what yields through (3/2 of a section's first yield) and bends by 15 thicknesses."""
    own, other = found.plates
    whole = hold_told(found)
    assert not any(way.folds for plate in whole.plates for way in plate.ways)
    ways = tuple(
        replace(way, stress=replace(way.stress, at_corners=100.0 * way.stress.at_corners), bent=100.0 * way.bent)
        for way in own.held.ways[:3]
    )
    less = replace(own, held=replace(own.held, ways=ways, peaks=own.held.peaks[:, :3]))
    told = hold_told(replace(found, plates=(less, other)))
    first, second = told.plates
    assert first.way("vehicle") is None
    assert "tip over" in first.floor
    assert second.floor is None
    bent = [way for way in first.ways if way.folds]
    assert [way.way for way in bent] == [
        w.way for w in whole.plates[0].ways[:3]
        if 100.0 * w.of_strength > 1.5 and 100.0 * w.deflection > 15 * 0.003
    ]  # fmt: skip
    assert bent
    text = hold_text(told)
    assert "the plate folds up" in text
    assert "left out, since it tips over" in text
    assert not any(f"{100.0 * way.of_strength:.0f} %" in text for way in bent)
    assert max(map(len, text.split("\n"))) <= 100
    for order in (slice(None), slice(None, None, -1)):
        file = tmp_path / f"{order.step}.png"
        draw_stress(replace(found, plates=(less, other)[order]), replace(told, plates=told.plates[order]), file)
        assert file.read_bytes().startswith(b"\x89PNG")
    assert as_json(told)["plates"][0]["ways"][0]["folds"] is first.ways[0].folds


@pytest.mark.parametrize("language", ["de", "pl"])
def test_the_picture_has_one_scale_of_bars_and_no_words_on_others_or_on_a_plate(
    found, tmp_path, monkeypatch, language
):
    """Boxes as drawn; bars of all ways and plates are as long as their shares, a line at 100 % in each column."""
    told, drawn = hold_told(found), []
    monkeypatch.setattr(picture, "save", lambda canvas, _: drawn.append(canvas.figure))
    with spoken(language):
        draw_stress(found, told, tmp_path / "a.png")
    (figure,) = drawn
    figure.draw_without_rendering()
    words = [*figure.texts, *(t for a in figure.axes for t in (*a.texts, a.title, a.xaxis.label))]
    boxes = [(t.get_text(), t.get_window_extent()) for t in words if t.get_text()]
    for number, (text, box) in enumerate(boxes):
        assert not [other for other, b in boxes[number + 1 :] if box.overlaps(b)], text
    plates = [a for a in figure.axes if not a.axison]
    assert len(plates) == 8
    labels = [a.xaxis.label.get_window_extent() for a in figure.axes if a.xaxis.label.get_text()]
    for axes in plates:
        there = axes.transData.transform_bbox(axes.dataLim)
        assert not any(there.overlaps(box) for box in (*labels, axes.title.get_window_extent()))
    columns = [a for a in figure.axes if len(a.containers) == 1]
    for axes, way in zip(columns, told.plates[0].ways, strict=True):
        zero, full = axes.transData.transform([[0.0, 0.0], [100.0, 0.0]])[:, 0]
        assert full - zero == pytest.approx(np.diff(columns[0].transData.transform([[0, 0], [100, 0]])[:, 0])[0])
        for bar, plate in zip(axes.patches, told.plates, strict=True):
            assert bar.get_window_extent().width / (full - zero) == pytest.approx(plate.way(way.way).of_strength)
        (line,) = axes.lines
        across = axes.transData.transform((line.get_xdata()[0], 0.0))[0]
        assert across == pytest.approx(full)
        values = [t for t in axes.texts if t.get_text() != "100 %"]
        assert not [t for t in values if t.get_window_extent().x0 < across < t.get_window_extent().x1]


def test_a_solid_that_cannot_be_unfolded_is_told_what_would_be_taken(found, tmp_path, capsys):
    mesh = found.plates[0].of.plate.solid.mesh
    thicker = mesh.vertices * np.where(mesh.vertices[:, :1] > 0.0, [1.0, 1.0, 1.5], 1.0)  # toward the head
    file = tmp_path / "wedge.stl"
    turned = thicker @ np.array([[0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])  # the head along y
    trimesh.Trimesh(1e3 * turned, mesh.faces).export(file)
    words = ["plate", str(file), "--hold", "--material", "aluminium", "--unit", "mm"]
    assert main(words) == 2
    error = capsys.readouterr().err
    assert "bent sheets" in error
    assert "flat drawing" in error


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
