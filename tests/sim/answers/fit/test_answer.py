"""The command and its object, as far as they do not belong to one answer."""

import json
import math
from itertools import pairwise

import pytest

from scenarios.demos import demo_path
from sim.commands.main import main


def test_several_plates_are_a_list_in_the_order_asked_for(capsys):
    args = ["fit", str(demo_path("small-woman-steel")), "--json", "--plate", "small steel", "--plate", "small carbon"]
    assert main(args) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["format"] == "hangflat.fit/1"
    assert [p["plate"] for p in told["plates"]] == ["small steel", "small carbon"]
    assert "model, not a measurement" in told["caution"]
    # the same shape in a sheet 1 mm thinner lies in the same place to within that
    steel, carbon = (p["on_back"]["waist_strap_m"] for p in told["plates"])
    assert steel == pytest.approx(carbon, abs=1e-3)


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--plate", "smal steel"], 'did you mean "small steel"'),
        (["--plate", "no-such.dxf"], "no-such.dxf"),
        (["--set", "plate=none"], "fit needs a plate"),
        (["--set", "fit.shoulder_bulk=90 deg"], "fit.shoulder_bulk"),
    ],
)
def test_bad_input_is_told(capsys, more, told):
    assert main(["fit", str(demo_path("small-woman-steel")), *more]) == 2
    assert told in capsys.readouterr().err


CONTRACT = {
    "plate", "on_back", "straps", "ashore", "reach", "look_ahead", "verdicts", "notes",
}  # fmt: skip
ON_BACK = {
    "waist_strap", "waist_strap_m", "iliac_crest_m", "tenth_rib_m", "plate_top_m", "plate_bottom_m", "c7_m",
    "acromion_m", "buttocks_m", "hand_on_plate_margin_m", "flank_beyond_plate_m", "armpit_beyond_plate_m",
    "cylinders_end_m", "cylinders_off_buttocks_m",
}  # fmt: skip
STRAPS = {
    "drop_m", "shoulder_strap_m", "waist_strap_m", "crotch_strap_m", "cut_one_piece_m", "cut_crotch_m",
    "crosses_shoulder_at_share", "inner_edge_off_neck_m", "outer_edge_off_shoulder_bone_m",
    "outer_edge_off_shoulder_ball_m", "shoulder_slopes_deg", "left_shoulder_path_m", "waist_path_m", "crotch_path_m",
}  # fmt: skip


@pytest.mark.parametrize("more", [(), ("--set", "cylinders=none"), ("--set", "suit=none")])
def test_the_contract_keeps_its_names(capsys, more):
    """Names may come, none may go under this format number; whatever is worn, all is plain JSON."""
    assert main(["fit", str(demo_path("tall-man-steel")), "--json", *more]) == 0
    told = json.loads(capsys.readouterr().out)
    assert {"format", "title", "plates", "estimated", "caution"} <= set(told)
    plate = told["plates"][0]
    assert set(plate) >= CONTRACT
    assert set(plate["on_back"]) >= ON_BACK
    assert set(plate["straps"]) >= STRAPS
    for verdict in plate["verdicts"]:
        assert set(verdict) >= {"subject", "passes", "sentence", "margin_m", "limit"}
        assert verdict["sentence"]
        assert verdict["limit"]


def test_a_path_in_the_json_is_as_long_as_it_is_said_to_be(capsys):
    assert main(["fit", str(demo_path("tall-man-steel")), "--json"]) == 0
    straps = json.loads(capsys.readouterr().out)["plates"][0]["straps"]
    for path, length in (("left_shoulder_path_m", "shoulder_strap_m"), ("waist_path_m", "waist_strap_m")):
        points = straps[path]
        run = sum(math.dist(a, b) for a, b in pairwise(points))
        assert run == pytest.approx(straps[length], rel=1e-12)


def test_the_text_tells_one_plate_whole_and_several_as_a_table(capsys):
    file = str(demo_path("small-woman-steel"))
    assert main(["fit", file]) == 0
    one = capsys.readouterr().out
    assert main(["fit", file, *(w for p in ("standard steel", "small steel") for w in ("--plate", p))]) == 0
    two = capsys.readouterr().out
    for text in (one, two):
        assert max(map(len, text.splitlines())) <= 100
        assert text.rstrip().endswith("decompression.")
        assert "nan" not in text.lower()
    assert "Webbing" in one
    assert "Carried ashore" in one
    row = next(line for line in two.splitlines() if line.startswith("look-ahead"))
    assert row.split() == ["look-ahead", "FAILS", "passes"]
    assert "With small steel nothing fails." in two
