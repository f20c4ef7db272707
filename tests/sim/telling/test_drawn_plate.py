"""Plates from drawings: what is told first, and that a drawing means the same however it is given."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import ezdxf
import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.settings import setting_of
from sim.answers.fit.plates import AskedPlate, asked_plates
from sim.answers.fit.sweep import fit_sweep
from sim.answers.fit.sweep_kinds import asked as asked_sweep
from sim.case import Case
from sim.commands.main import main

WOMAN = demo_path("small-woman-steel")
KEYS = (
    'material = "aluminium"',
    'thickness = "4 mm"',
    'density = "2660 kg/m^3"',
    'unit = "cm"',
    'bends = [{ offset = "40 mm", angle = "50 deg", radius = "5 mm" }, { offset = "85 mm", angle = "-50 deg" }]',
    'bolts = ["62 mm", "341 mm"]',
    'shoulder_slots = ["52 mm", "70 mm"]',
    'waist_slots = ["310 mm", "110 mm"]',
    'crotch_slot = "385 mm"',
)


def sheet(folder: Path, name: str = "sheet.dxf", *, unit: int = 4, scale: float = 1.0, slots: bool = True) -> Path:
    """A flat sheet of 400 x 250 mm far from the file's origin; bolts 60.5 and 339.5 mm from its top edge."""
    drawing = ezdxf.new(units=unit)
    space = drawing.modelspace()
    at = np.array([640.0, -90.0])
    space.add_lwpolyline(scale * (np.array([(-125, 0), (125, 0), (125, 400), (-125, 400)]) + at), close=True)
    for y in (60.5, 339.5):
        space.add_circle(scale * (np.array([0, y]) + at), scale * 4.75)
    for x, y in ((-60, 360), (60, 360), (-90, 60), (90, 60), (0, 20)) if slots else ():
        corners = [(x - 27, y - 5), (x + 27, y - 5), (x + 27, y + 5), (x - 27, y + 5)]
        space.add_lwpolyline(scale * (np.array(corners) + at), close=True)
    drawing.saveas(folder / name)
    return folder / name


def scenario(folder: Path, *plate: str) -> Path:
    """The demo woman, without a suit for speed, in a plate told by lines of TOML."""
    text = WOMAN.read_text(encoding="utf-8")
    start, suit = text.index("[plate]"), text.index("[suit]")
    file = folder / "mine.toml"
    table = "\n".join(["[plate]", *plate, "", ""])
    file.write_text(text[:suit] + table + text[text.index("[harness]", start) :], encoding="utf-8")
    return file


@pytest.fixture
def told(capsys: pytest.CaptureFixture[str]) -> Callable[..., str]:
    """What a command says on its output; it must end well."""

    def run(*args: object) -> str:
        assert main([str(a) for a in args]) == 0
        return capsys.readouterr().out

    return run


def test_a_drawing_means_the_same_in_the_file_and_behind_plate(tmp_path: Path, told: Callable[..., str]) -> None:
    """Every answer of ``fit``, to the bit, but for the plate's name and what is taken from the file's own plate."""
    drawing = sheet(tmp_path, unit=0, scale=0.1)
    in_file = json.loads(told("fit", scenario(tmp_path, f'file = "{drawing.name}"', *KEYS), "--json"))
    other = scenario(tmp_path, 'catalogue = "standard steel"', 'mass = "2.9 kg"')
    behind = json.loads(told("fit", other, "--json", "--plate", "; ".join([str(drawing), *KEYS])))
    for told_plate, name in ((in_file, "the plate of the file"), (behind, drawing.name)):
        assert told_plate["plates"][0].pop("plate") == name
        told_plate["made_by"]["scenarios"][0].pop("plate", None)
    assert in_file == behind
    drawn = in_file["plates"][0]["drawn_plate"]
    assert drawn["mass_kg"] == pytest.approx(2660 * 1e-3 * drawn["volume_l"], rel=1e-12)
    assert [b["angle_deg"] for b in drawn["bends"]] == pytest.approx([50.0, -50.0])
    assert {drawn[name]["source"] for name in ("bolts", "shoulder_slots", "waist_slots", "crotch_slot")} == {"stated"}
    assert drawn["bolts"]["from_top_edge_m"] == pytest.approx([0.062, 0.341], abs=1e-12)
    assert drawn["assumed"] == ["bend radius 6 mm at the middle of the sheet"]
    assert not drawn["flat_without_bends"]


FLAT = (
    "Plate, as drawn in sheet.dxf, FLAT: without bends",
    "no bends are stated: it is taken as a flat sheet without a channel",
    "2.33 kg; in this water 2.03 kg",
    "3.0 mm thick, of stainless steel, 8000 kg/m^3",
    "400.0 mm long, 250.0 mm wide, no channel",
    "mm, as the file states",
    "found: 60.5 and 339.5 mm from the top edge, on the middle line",
    "found: 40.0 mm from the top edge, 60.0 mm to either side of the middle line",
    "found: 340.0 mm from the top edge, 90.0 mm to either side of the middle line",
    "found: 380.0 mm from the top edge, on the middle line",
)


@pytest.mark.parametrize("command", ["settle", "why", "fit"])
def test_what_was_read_off_a_drawing_is_told_first(tmp_path: Path, told: Callable[..., str], command: str) -> None:
    """8000 kg/m^3 x 3 mm x (0.1 m^2 - two bolt holes - five slots of 54 x 10 mm) = 2.332 kg; water lifts 0.299 kg."""
    sheet(tmp_path)
    file = scenario(tmp_path, 'file = "sheet.dxf"', 'material = "stainless steel"', 'thickness = "3 mm"')
    report = json.loads(told(command, file, "--json", "--set", "harness=none"))
    text = told(command, file, "--set", "harness=none")
    head = " ".join(text[: text.index("Diver:")].split())
    for words in FLAT:
        assert words in head, words
    place = report["plates"][0] if command == "fit" else report
    assert place["drawn_plate"]["flat_without_bends"] is True
    for item in report.get("items", ()):  # told first as it is told among the items
        if item["kind"] == "plate":
            assert place["drawn_plate"]["weight_in_water_kg"] == pytest.approx(item["apparent_weight_kg"], rel=1e-12)
    assert any("no bends are stated: it is taken as a flat sheet" in note for note in place["notes"])
    assert text.count("taken as a flat sheet") == 1


def test_of_the_file_s_own_plate_a_drawing_takes_what_it_is_made_of_and_says_so(tmp_path: Path) -> None:
    first, second = sheet(tmp_path, "first.dxf"), sheet(tmp_path, "second.dxf")
    own = (
        'file = "first.dxf"', 'material = "titanium"', 'thickness = "2 mm"', 'mass = "1.5 kg"', 'unit = "mm"',
        'bends = [{ offset = "40 mm", angle = "50 deg" }]',
    )  # fmt: skip
    file = scenario(tmp_path, *own)
    (asked,) = asked_plates(Case.read(file), [str(second)])
    assert asked.taken == ("material titanium", "thickness 2 mm")
    other = Case.read(file).vary(asked.settings).assembled.drawn
    assert other is not None
    assert (other.reading.file, other.is_flat, other.weighed) == ("second.dxf", True, False)
    (asked,) = asked_plates(Case.read(file), [f"{second}; material=aluminium; thickness=3 mm"])
    assert asked.taken == ()
    # the file's own drawing is the file's own plate, with all that is said of it there
    assert asked_plates(Case.read(file), [f"{first}; thickness=3 mm"]) == (
        AskedPlate("first.dxf", (setting_of("plate.thickness=3 mm"),)),
    )


def test_a_catalogue_plate_lends_what_it_is_made_of(tmp_path: Path, told: Callable[..., str]) -> None:
    drawing = sheet(tmp_path)
    bare = ("--set", "suit=none", "--set", "cylinders=none", "--set", "harness=none")
    text = told("fit", WOMAN, *bare, "--plate", drawing, "--plate", "small steel")
    head = " ".join(text[: text.index("Diver:")].split())
    assert head.startswith("sheet.dxf, as drawn, FLAT: without bends")
    assert "material stainless steel, thickness 3 mm, density 8000 kg/m^3, as of the plate of the file" in head


def test_a_unit_against_the_file_s_own_is_told_loudly(tmp_path: Path, told: Callable[..., str]) -> None:
    """Drawn in mm under a header that says inches, as happens: mm as stated, and told."""
    sheet(tmp_path, unit=1)
    own = ('file = "sheet.dxf"', 'material = "stainless steel"', 'thickness = "3 mm"', 'unit = "mm"')
    text = told("why", scenario(tmp_path, *own))
    head = " ".join(text[: text.index("Diver:")].split())
    assert "CHECK the file says that its unit is in, and mm was used, as stated: is that right?" in head
    assert "unit mm, as stated" in head


@pytest.mark.parametrize("kind", ["plate length", "plate width", "channel depth"])
@pytest.mark.parametrize("behind", [False, True])
def test_what_a_drawing_fixes_is_not_swept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str, behind: bool
) -> None:
    drawing = sheet(tmp_path)
    own = 'catalogue = "small steel"' if behind else 'file = "sheet.dxf"\ncatalogue = "small steel"'
    more = ["--plate", "small steel", "--plate", str(drawing)] if behind else []
    file = scenario(tmp_path, own)
    with pytest.raises(ValueError, match=f"so that {kind} cannot be swept; draw it otherwise") as caught:
        fit_sweep(Case.read(file), asked_sweep(kind), more[1::2])
    assert "\n" not in str(caught.value)
