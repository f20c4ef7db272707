"""What ``hangflat.fit/1`` is said to hold, against what it holds."""

from __future__ import annotations

import contextlib
import io
import json
import tempfile
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from scenarios.demos import demo_path
from sim.answers.fit.report import FitReport
from sim.commands.main import main
from sim.telling.record import fields_of

FIELDS = {field.path: field.meaning for field in fields_of(FitReport)}

DRAWN = "a drawing"  # stands for one of the test's own
CASES: dict[str, tuple[str, ...]] = {
    "twin set, standard": ("small-woman-steel",),
    "no set-up will do": ("small-woman-steel", "--set", "diver.measures={}", "--set", "diver.height=154 cm"),
    "single": ("single-wetsuit",),
    "none on the back, some that hang": ("side-hung",),
    "no harness": ("tall-man-steel", "--set", "harness=none", "--set", "diver.mass=140 kg"),
    "a drawn plate": ("tall-man-steel", "--set", "harness=none", "--set", "wing=none", "--plate", DRAWN),
    "nothing else worn": ("tall-man-steel", "--set", "suit=none", "--set", "wing=none", "--set", "fins=none"),
}


def drawing(folder: Path) -> str:
    """A plate drawn with bends and bend lines, its crotch slot left out, as ``--plate`` takes it."""
    import ezdxf

    document = ezdxf.new(units=4)
    space = document.modelspace()
    for x, y, wide, tall in ((0, 0, 280, 400), (-95, 300, 50, 10), (95, 300, 50, 10)):
        ends = [(x - wide / 2, y), (x + wide / 2, y), (x + wide / 2, y + tall), (x - wide / 2, y + tall)]
        space.add_lwpolyline(ends, close=True)
    for y in (60.5, 339.5):
        space.add_circle((0, y), 4.75)
    for x in (-40, 40):
        space.add_line((x, 0), (x, 400), dxfattribs={"layer": "BEND"})
    space.add_text("plate")
    document.saveas(folder / "drawn.dxf")
    return f'{folder / "drawn.dxf"}; unit=mm; bends=[{{ offset = "40 mm", angle = "50 deg" }}]'


@cache
def printed(args: tuple[str, ...]) -> Any:
    if DRAWN in args:
        with tempfile.TemporaryDirectory() as folder:
            return printed(tuple(drawing(Path(folder)) if a == DRAWN else a for a in args))
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert main(["fit", str(demo_path(args[0])), "--json", *args[1:]]) == 0
    return json.loads(out.getvalue())


def paths(value: Any, at: str = "") -> Iterator[str]:
    """Every field with the path by which the contract names it."""
    if isinstance(value, dict):
        for key, inner in value.items():
            name = "<demand>" if at.endswith("margins") else "<reason>" if at.endswith("fail") else key
            yield from paths(inner, f"{at}.{name}" if at else name)
    elif isinstance(value, list) and any(isinstance(v, dict) for v in value):
        for inner in value:
            yield from paths(inner, f"{at}[]")
    elif value != [] or not any(field.startswith(f"{at}[]") for field in FIELDS):  # no objects in their list
        yield at


@pytest.mark.parametrize("case", CASES)
def test_whatever_is_worn_every_field_is_described(case: str) -> None:
    assert set(paths(printed(CASES[case]))) <= set(FIELDS)


def test_every_field_that_is_described_turns_up(tmp_path: Path) -> None:
    picture = ("--picture", str(tmp_path / "p.svg"))
    sweep = ("--sweep", "drop; from=-3 cm; to=30 cm; steps=2", "--chart", str(tmp_path / "c.svg"))
    people = ("--people", "2", "--map", str(tmp_path / "m.svg"), "--table", str(tmp_path / "t.csv"))
    table = ("--table", str(tmp_path / "s.csv"))
    wide = ("--sweep", "plate width; from=2 cm; to=30 cm; steps=2")  # 2 cm is no plate: left out
    reports = [
        *(printed(args) for args in CASES.values()),
        printed(("small-woman-steel", *picture, *sweep, *table, "--with-scenario", "--with-sources")),
        printed(("small-woman-steel", *people)),
        printed(("small-woman-steel", "--plate", "small steel", "--sweep", "drop; from=0 cm; to=1 cm; steps=2")),
        printed(("small-woman-steel", *wide)),
        printed(("small-woman-steel", "--plate", "small steel; width=30 cm", "--sweep", "drop; to=1 cm; steps=2")),
    ]
    assert {p for report in reports for p in paths(report)} == set(FIELDS)


@pytest.mark.parametrize("case", CASES)
def test_what_is_described_as_null_alone_is_null(case: str) -> None:
    """A field may be null only where its description says so."""
    for path, value in values(printed(CASES[case])):
        if value is None:
            assert "null" in FIELDS[path] or path.endswith("<demand>"), path


def values(value: Any, at: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            name = "<demand>" if at.endswith("margins") else key
            yield from values(inner, f"{at}.{name}" if at else name)
    elif isinstance(value, list):
        for inner in value:
            if isinstance(inner, dict):
                yield from values(inner, f"{at}[]")
    else:
        yield at, value


@pytest.mark.parametrize("case", ["twin set, standard", "single"])
def test_fields_agree_with_each_other_as_described(case: str) -> None:
    plate = printed(CASES[case])["plates"][0]
    on, straps, ashore, look = (plate[k] for k in ("on_back", "straps", "ashore", "look_ahead"))
    near = pytest.approx
    assert on["natural_waist_m"] == near(0.5 * (on["iliac_crest_m"] + on["tenth_rib_m"]))
    assert on["waist_strap_m"] == near(on["natural_waist_m"] - straps["drop_m"], abs=2e-3)  # the plate tilts
    assert on["iliac_crest_m"] < on["tenth_rib_m"] < on["acromion_m"] < on["c7_m"]
    assert on["buttocks_m"] < on["iliac_crest_m"]
    assert ashore["carried_kg"] == near(ashore["rig_kg"] + ashore["belt_lead_kg"])
    assert ashore["carried_share_of_body_mass"] == near(ashore["carried_kg"] / ashore["body_mass_kg"])
    assert look["head_lift_deg"] == near(min(look["neck_deg"], look["meets_gear_at_deg"]))
    assert look["seen_pitch_deg"] == near(max(-look["looks_deg"], 0.0))
    assert plate["set_up"]["as_worn"]["flat_moment_nm"] == look["flat_moment_nm"]
    margins = {v["subject"]: v["margin_m"] for v in plate["verdicts"]}
    assert margins["plate top"] == near(on["c7_m"] - on["plate_top_m"] - 0.02)
    assert margins["hand on plate"] == on["hand_on_plate_margin_m"]
    for hand in plate["reach"]:
        assert margins[hand["valve"]] == near(hand["margin_m"] - 0.02)  # to turn it (assumed)
        assert hand["margin_stiff_m"] <= hand["margin_m"] <= hand["margin_supple_m"]
        if hand["margin_m"] > 0.0:
            assert hand["grip_m"] == near(hand["knob_m"], abs=2e-3)


def test_a_point_of_a_sweep_is_the_answer_there() -> None:
    swept = printed(("small-woman-steel", "--sweep", "drop; from=0 cm; to=4 cm; steps=2"))
    plate, point = swept["plates"][0], swept["sweep"]["plates"][0]["points"][0]
    assert point["moment_nm"] == pytest.approx(plate["look_ahead"]["flat_moment_nm"], abs=1e-6)
    assert point["ahead_deg"] == pytest.approx(plate["look_ahead"]["looks_deg"], abs=1e-6)
    assert point["reach_m"] == pytest.approx(min(h["margin_m"] for h in plate["reach"]), abs=1e-6)
