"""Divers side by side: what is added up is whole, what does not differ does nothing."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from scenarios.demos import demo_path
from sim.answers.compare.compared import compared
from sim.answers.compare.differences import Difference, Differences, differences
from sim.answers.compare.text import compare_text
from sim.answers.posture.posture import posture_of
from sim.answers.weigh.report import weigh_answer
from sim.answers.weigh.weighing import surplus_lead
from sim.case import Case
from sim.commands.main import main
from sim.drawing.style import DARK, LIGHT
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.language import spoken
from sim.telling.record import as_json, fields_of

STEEL = demo_path("small-woman-steel")
SIMPLE = ("gear=none", "lead=none")
PARTS = """\
format = "parts/1"
water = { density = "1000 kg/m^3", gravity = "10 m/s^2" }
depth = { pressure = "2 bar" }
part = [{ name = "float", mass = "100 kg", cm = [0.0, 0.0, 0.0], volume = "100 l", cb = [ARM, 0.0, 0.0] }]
"""


@pytest.fixture(scope="module")
def steel() -> Case:
    return Case.read(STEEL, SIMPLE)


@pytest.fixture(scope="module")
def told(steel):
    other = steel.vary({"plate.catalogue": "small carbon", "fins": {"catalogue": "plastic"}, "water.depth": "3 m"})
    return steel, other, compared((steel, other))


def moment(case: Case) -> float:
    return flat_answer(soft_rig(case.rig)).pitch_moment


def test_effects_and_what_is_beyond_their_sum_make_up_the_whole_change(told):
    first, other, answer = told
    (against,) = answer.against
    assert {e.table for e in against.effects} == {"plate", "fins", "water"}
    assert sum(e.moment for e in against.effects) + against.together == pytest.approx(against.whole, abs=1e-12)
    assert against.whole == pytest.approx(moment(other) - moment(first), abs=1e-12)


def test_one_table_at_a_time_is_that_table_alone(told):
    first, _, answer = told
    effect = next(e for e in answer.against[0].effects if e.table == "water")
    assert effect.moment == pytest.approx(moment(first.vary({"water.depth": "3 m"})) - moment(first), abs=1e-12)


def test_groups_make_up_the_moment_and_nothing_is_left_out(told):
    for diver in told[2].divers:
        assert sum(g.moment for g in diver.groups.values()) == pytest.approx(diver.pitch_moment, abs=1e-9)


def test_the_lead_is_that_of_weigh_and_moments_are_told_in_the_words_of_posture(told):
    first, other, answer = told
    for case, diver in ((first, answer.divers[0]), (other, answer.divers[1])):
        weighed = next(w for w in weigh_answer(case).waters if w.is_told)
        assert diver.weighting.right == pytest.approx(weighed.lead, abs=1e-9)
        assert diver.weighting.worn - diver.weighting.right == pytest.approx(surplus_lead(case), abs=1e-9)
        assert diver.held == posture_of(case).held
    assert "Weighed for the last stop" in compare_text(answer)


def test_all_tables_of_the_other_give_the_other(told):
    first, other, answer = told
    assert answer.differences is not None
    taken = first.taking(other, answer.differences.tables)
    assert moment(taken) == moment(other)


def test_what_the_files_say_is_told_as_it_was_written(told):
    said = {d.key: d.said for d in told[2].differences.written}
    assert said["plate.catalogue"] == ("standard steel", "small carbon")
    assert said["water.depth"][1] == "3 m"
    assert told[2].differences.following > 0  # what the catalogue says of the plates


def test_a_diver_differs_in_nothing_from_themselves(steel):
    answer = compared((steel, steel))
    assert answer.differences.tables == ()
    assert answer.against[0].whole == 0.0
    assert "The files say the same." in compare_text(answer)


def test_spelling_is_no_difference(steel, tmp_path):
    text = STEEL.read_text(encoding="utf-8")
    assert '"166 cm"' in text
    again = tmp_path / "again.toml"
    again.write_text(text.replace('"166 cm"', '"1.66 m"'), encoding="utf-8")
    assert differences((steel, Case.read(again, SIMPLE))).tables == ()


def test_what_cannot_be_worn_by_itself_is_told(steel):
    """A suit 60 cm round at the waist, on somebody of 58 cm there, and then on one of 72 cm."""
    slim = steel.vary({"diver.measures.waist_girth": "58 cm", "suit.widths.waist": "30 cm"})
    answer = compared((steel, slim))
    alone = {e.table: e for e in answer.against[0].effects}
    assert alone["suit"].moment is None
    assert "a suit 30.0 cm wide there is 60 cm round" in alone["suit"].why_not
    assert "suit: not by itself" in compare_text(answer)


def test_numbers_of_parts_files_in_closed_form(tmp_path, capsys):
    """100 l of fresh water push up 5 and 7 cm headward of the mass: 1000 N times that, head-up."""
    files = []
    for name, arm in (("one", 0.05), ("two", 0.07)):
        files.append(tmp_path / f"{name}.toml")
        files[-1].write_text(PARTS.replace("ARM", str(arm)), encoding="utf-8")
    assert main(["compare", *map(str, files), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [d["pitch_moment_nm"] for d in told["divers"]] == pytest.approx([50.0, 70.0], rel=1e-12)
    assert told["differences"] is None
    assert told["against"] == [
        {"file": "two.toml", "effects": [], "together_nm": pytest.approx(20.0), "whole_nm": pytest.approx(20.0)}
    ]


def test_every_field_is_described(told):
    described = {f.path for f in fields_of(type(told[2]))}
    assert paths(as_json(told[2])) <= described


def paths(value, at=""):
    if isinstance(value, dict):
        names = {"groups": "<group>", "demands": "<demand>"}
        holder = names.get(at.rsplit(".", 1)[-1])
        return {p for k, v in value.items() for p in paths(v, f"{at}.{holder or k}" if at else k)}
    if isinstance(value, list) and any(isinstance(v, dict) for v in value):
        return {p for v in value for p in paths(v, f"{at}[]")}
    return {at}


@pytest.mark.parametrize("count", [1, 6])
def test_too_few_or_too_many_files_are_refused(count, capsys):
    assert main(["compare", *[str(STEEL)] * count]) == 2
    assert f"compare takes 2 to 5 files; got {count}" in capsys.readouterr().err


def test_no_line_is_wider_than_the_page(told):
    five = replace(told[2], divers=(*told[2].divers,) * 2, against=told[2].against * 3, differences=None)
    assert max(map(len, compare_text(told[2]).split("\n"))) <= 100
    assert max(map(len, compare_text(five).split("\n"))) <= 100


def test_the_picture_holds_both_and_says_what_changed(told, tmp_path):
    from sim.answers.compare.picture import draw_comparison

    first, other, answer = told
    target = tmp_path / "both.svg"
    draw_comparison(answer, [first.assembled, other.assembled], target)
    drawn = target.read_text(encoding="utf-8")
    assert drawn.count("<path") > 20
    assert draw_comparison(answer, [first.assembled, other.assembled], tmp_path / "both.png").stat().st_size > 20_000


@pytest.mark.parametrize(("language", "swapped"), [("de", False), ("pl", True), ("fr", False)])
def test_no_words_of_the_picture_stand_on_the_line_on_one_another_or_beyond_the_margin(
    told, monkeypatch, tmp_path, language, swapped
):
    """Boxes as drawn; with the divers swapped every change goes the other way."""
    from sim.answers.compare import picture

    first, other, answer = told
    divers, cases = (answer.divers[0], replace(answer.divers[1], title="Small: woman (steel)")), [first, other]
    if swapped:
        divers, cases = divers[::-1], cases[::-1]
    divers = tuple(replace(d, file=f"{n}.toml") for d, n in zip(divers, ("one", "small-woman-steel"), strict=True))
    drawn = []
    monkeypatch.setattr(picture, "save", lambda canvas, _: drawn.append(canvas))
    with spoken(language):
        picture.draw_comparison(replace(answer, divers=divers), [c.assembled for c in cases], tmp_path / "a.png")
    axes = drawn[0].axes
    boxes = [(t.get_text(), t.get_window_extent()) for t in axes.texts]
    sheet = axes.get_window_extent()
    upright = [line for line in axes.lines if len(set(line.get_xdata())) == 1 < len(line.get_xdata())]
    (zero,) = (axes.transData.transform(line.get_xydata()) for line in upright)
    numbers = 0
    for place, (words, box) in enumerate(boxes):
        numbers += words[0] in "+-\N{MINUS SIGN}"
        assert not (box.x0 <= zero[0, 0] <= box.x1 and box.y0 < zero[:, 1].max() and zero[:, 1].min() < box.y1)
        assert box.x1 <= sheet.x1 - 0.7 * picture.MARGIN, words
        assert not [w for w, b in boxes[place + 1 :] if b.overlaps(box)], words
    assert numbers > 2
    titles = [w for w, _ in boxes if w == "Small: woman (steel)"]
    assert len(titles) == (1 if swapped else 0), "a title that says what stands over it is not said again"


def test_a_dark_picture_has_nothing_in_the_colours_of_a_light_one(told, tmp_path):
    from sim.answers.compare.picture import draw_comparison

    first, other, answer = told
    drawn = draw_comparison(answer, [first.assembled, other.assembled], tmp_path / "dark.svg", DARK)
    words = drawn.read_text(encoding="utf-8").lower()
    assert DARK.ink in words
    light = (LIGHT.ink, LIGHT.soft_ink, LIGHT.paper, LIGHT.area, LIGHT.head_up, LIGHT.head_down)
    assert not [c for c in light if f": {c}" in words]


def test_what_files_say_is_told_in_the_readers_units(told):
    """33 feet of 0.3048 m; what has no other unit stays as it was written."""
    said = (Difference("water.depth", ("10.0584 m", "6 m")), Difference("diver.height", ("166 cm", "5 ft 5 in")))
    answer = replace(told[2], differences=Differences(("water",), said, 0))
    assert "10.0584 m" in compare_text(answer)
    with spoken(units="imperial"):
        words = compare_text(answer)
    assert "33.0000 ft" in words
    assert "65.4 in" in words
    assert "5 ft 5 in" in words
