"""Where the rig sits, against what the landmarks and the plate's dimensions say by hand."""

from __future__ import annotations

import json
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.demands.every import FINDINGS
from sim.answers.fit.demands.valve_reach import VALVE_REACH
from sim.answers.fit.on_back import on_back
from sim.assembly.placement import point_at
from sim.commands.main import main

WOMAN, MAN = "small-woman-steel", "tall-man-steel"


@pytest.fixture(scope="module", params=[WOMAN, MAN])
def hung(request, dressed):
    """The function from a drop [m] to the rig that hangs so low."""
    return lambda drop: dressed(request.param, f"harness.drop={100.0 * drop:.3f} cm").worn


@pytest.fixture(scope="module")
def worn(hung):
    return hung(0.0)


def verdict(on, subject):
    """What is told of where a rig sits; hands and eyes are asked for nothing."""
    found, findings = SimpleNamespace(on_back=on, sits=on), FINDINGS[: FINDINGS.index(VALVE_REACH)]
    told = [v for finding in findings for v in finding.verdicts(found)]
    return next((v for v in told if v.subject == subject), None)


def test_the_strap_starts_midway_and_goes_down_with_the_drop(hung, worn):
    heights = worn.body.person.skeleton.heights
    for drop in (0.0, 0.02, 0.05):
        on = on_back(hung(drop))
        middle = 0.5 * (heights["tenth rib"] + heights["iliac crest"])
        # slots are hung by the flat plate's dimensions; its tilt of up to 5 degrees moves them by a millimetre
        assert on.waist_strap == pytest.approx(middle - drop, abs=2e-3)
        clear = min(on.waist_strap - on.crest, on.tenth_rib - on.waist_strap) - 0.025
        assert verdict(on, "waist strap").margin == pytest.approx(
            clear + 0.005,
            abs=1e-12,  # ribs and hip bones are farther apart than webbing is wide
        )


@pytest.mark.parametrize(
    ("drop", "place"), [(-0.06, "above the waist"), (0.0, "on the waist"), (0.06, "on the hips")]
)
def test_the_place_of_the_strap(hung, drop, place):
    on = on_back(hung(drop))
    assert on.place == place
    assert verdict(on, "waist strap").passes is (place == "on the waist")
    assert place in verdict(on, "waist strap").sentence


def test_the_plate_ends_where_its_length_says(worn):
    on = on_back(worn)
    tilt = np.arccos(worn.seat.rotation[0, 0])
    assert on.top - on.bottom == pytest.approx(0.40 * np.cos(tilt), rel=1e-9)
    assert verdict(on, "plate top").margin == pytest.approx(on.c7 - on.top - 0.02, abs=1e-12)


def test_a_plate_hung_up_to_the_neck_is_told(hung):
    """20 cm above the waist: nobody wears it so, but it is answered."""
    on = on_back(hung(-0.20))
    assert verdict(on, "plate top").passes is False
    assert "longer than this back" in verdict(on, "plate top").sentence
    assert verdict(on, "shoulder straps").passes is False
    assert "above the shoulders" in verdict(on, "shoulder straps").sentence
    assert verdict(on, "waist strap").passes is False


def test_a_rig_that_hangs_between_the_legs_is_told(hung):
    on = on_back(hung(0.30))
    assert verdict(on, "waist strap").passes is False
    assert "below the crotch" in verdict(on, "waist strap").sentence
    assert verdict(on, "plate bottom").passes is False


def test_a_plate_longer_than_the_back_is_told(dressed):
    """60 cm of plate on a woman of 150 cm: it ends at the neck above, or on the buttocks once lowered off it."""
    case = (WOMAN, "plate.length=60 cm", "diver.height=150 cm", "diver.mass=45 kg", "wing=none")
    on = on_back(dressed(*case).worn)
    assert verdict(on, "plate top").passes is False
    drop = 0.01 - verdict(on, "plate top").margin
    lowered = on_back(dressed(*case, f"harness.drop={100.0 * drop:.2f} cm").worn)
    assert verdict(lowered, "plate top").passes is True
    assert verdict(lowered, "plate bottom").passes is False
    assert "buttocks" in verdict(lowered, "plate bottom").sentence


def test_width_by_hand(worn):
    """At the height of the waist slots the plate is at its widest, and the trunk's outline is known there."""
    on = on_back(worn)
    slots = float(point_at(worn.seat, worn.plate.waist_slots)[0, 0])
    there = float(worn.body.person.shape.trunk.at(np.array(slots), np.array(0.5 * np.pi))[1]) - 0.14
    assert on.flank <= there + 1e-9
    wider = replace(worn, plate=replace(worn.plate, outline=worn.plate.outline * [1.0, 1.1]))
    assert on_back(wider).flank < on.flank - 0.009
    assert on_back(wider).armpit < on.armpit - 0.005


def test_cylinders_hung_lower_end_lower(dressed):
    usual, low = (on_back(dressed(WOMAN, f"cylinders.shift={shift} cm").worn) for shift in (0, -4))
    assert low.cylinder_end == pytest.approx(usual.cylinder_end - 0.04, abs=1e-3)  # by the cosine of the lean


def test_cylinders_off_the_back_by_so_much_are_so_much_clearer(worn):
    """The whole rig moved away from the body by 5 cm: the gap grows by that."""
    seat = worn.seat
    away = replace(seat, origin=seat.origin + [0.0, 0.0, 0.05])
    parts = tuple(
        replace(p, solid=replace(p.solid, mesh=replace(p.solid.mesh, vertices=p.solid.mesh.vertices + [0, 0, 0.05])))
        if p.solid.mesh is not None
        else p
        for p in worn.cylinders.parts
    )
    shift = replace(worn, seat=away, cylinders=replace(worn.cylinders, parts=parts))
    near, far = on_back(worn), on_back(shift)
    assert far.buttocks - near.buttocks == pytest.approx(0.05, abs=1e-9)
    assert verdict(near, "cylinder bottoms").margin == pytest.approx(near.buttocks + 0.03, abs=1e-12)


def test_without_cylinders_nothing_is_said_of_them(dressed):
    on = on_back(dressed(WOMAN, "cylinders=none").worn)
    assert on.cylinder_end is None
    assert verdict(on, "cylinder bottoms") is None


def test_a_mirrored_plate_is_worn_alike(worn):
    flip = np.array([1.0, -1.0, 1.0])
    plate = worn.plate
    other = replace(
        plate,
        outline=plate.outline[::-1] * [1.0, -1.0],
        shoulder_slots=(plate.shoulder_slots * flip)[::-1],
        waist_slots=(plate.waist_slots * flip)[::-1],
        solid=plate.solid,
    )
    one, two = on_back(worn), on_back(replace(worn, plate=other))
    assert (one.flank, one.armpit, one.waist_strap) == pytest.approx(
        (two.flank, two.armpit, two.waist_strap), abs=1e-9
    )
    assert one.straps.one_piece == pytest.approx(two.straps.one_piece, abs=1e-9)


@pytest.mark.parametrize(
    ("plate", "words"),
    [
        ('sheet.dxf; unit=mm; shoulder_slots=["50 mm", "160 mm"]', "lie off the plate"),
        ('sheet.dxf; unit=mm; crotch_slot="45 cm"', "lies off the plate"),
        ('sheet.dxf; unit=mm; waist_slots=["300 mm"]', "plate.waist_slots"),
        ("sheet.dxf; unit", '--plate sheet.dxf: "unit" is not understood; write KEY=VALUE'),
        ("sheet.dxf; unit=cm", "the file says that its unit is mm, and cm was used"),
        ("sheet.dxf; length=38 cm", "--plate sheet.dxf: plate.length: length does nothing"),
        ('standard steel; crotch_slot="60 cm"', "lie off the plate"),
    ],
)
def test_slots_that_cannot_be_are_told(tmp_path, monkeypatch, capsys, plate, words):
    _sheet(tmp_path / "sheet.dxf")
    monkeypatch.chdir(tmp_path)
    assert main(["fit", str(demo_path(WOMAN)), "--plate", plate]) == 2
    assert words in capsys.readouterr().err


def test_stated_slots_are_where_they_were_stated(tmp_path, monkeypatch, capsys):
    """Waist slots 300 mm below the top edge: it lies that far above them, by the cosine of the plate's lean."""
    _sheet(tmp_path / "sheet.dxf")
    monkeypatch.chdir(tmp_path)
    stated = 'unit=mm; waist_slots=["300 mm", "110 mm"]; shoulder_slots=["60 mm", "70 mm"]; crotch_slot="380 mm"'
    assert main(["fit", str(demo_path(MAN)), "--json", "--plate", f"sheet.dxf; {stated}"]) == 0
    told = json.loads(capsys.readouterr().out)["plates"][0]
    on = told["on_back"]
    assert told["plate"] == "sheet.dxf"
    assert on["plate_top_m"] - on["waist_strap_m"] == pytest.approx(0.300, abs=2e-3)
    drawn = told["drawn_plate"]
    assert drawn["waist_slots"]["source"] == "stated"
    assert drawn["waist_slots"]["from_top_edge_m"] == pytest.approx([0.3, 0.3])
    assert drawn["waist_slots"]["from_middle_line_m"] == pytest.approx([0.11, -0.11])
    assert drawn["shoulder_slots"]["from_top_edge_m"] == pytest.approx([0.06, 0.06])
    assert drawn["crotch_slot"]["from_top_edge_m"] == pytest.approx([0.38])
    assert drawn["bolts"]["source"] == "found"
    assert drawn["bolts"]["from_top_edge_m"] == pytest.approx([0.0605, 0.3395])


def _sheet(path):
    """A flat sheet of 400 x 250 mm with two bolt holes and no slots."""
    import ezdxf

    drawing = ezdxf.new(units=4)
    space = drawing.modelspace()
    space.add_lwpolyline([(-125, 0), (125, 0), (125, 400), (-125, 400)], close=True)
    for y in (60.5, 339.5):
        space.add_circle((0, y), 4.75)
    drawing.saveas(path)
