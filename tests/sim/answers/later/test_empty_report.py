"""``hangflat empty`` told: the object, the table, the words, and what is refused."""

from __future__ import annotations

import csv
import io
import json
from functools import cache
from typing import Any

import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.later.empty_answer import EmptyAnswer, empty_answer, empty_csv
from sim.answers.later.empty_report import empty_report, falling
from sim.answers.later.empty_text import empty_text
from sim.case import Case
from sim.telling.caution import CAUTION
from sim.telling.record import as_json

BAR = 1e5  # Pa
MOST_ROWS = 8  # of the table in the text


@cache
def told(*settings: str, end: float = 10.0 * BAR, demo: str = "tall-man-steel") -> dict[str, Any]:
    return as_json(answer(*settings, end=end, demo=demo))


@cache
def answer(*settings: str, end: float = 10.0 * BAR, demo: str = "tall-man-steel") -> EmptyAnswer:
    return empty_answer(empty_report(Case.read(demo_path(demo), settings), end))


@pytest.mark.parametrize(
    ("full", "end", "count", "second"),
    [(200.0, 10.0, 20, 190.0), (203.0, 50.0, 17, 200.0), (12.0, 10.0, 2, 10.0), (232.0, 0.0, 25, 230.0)],
)
def test_pressures_fall_in_whole_steps_above_the_end(full: float, end: float, count: int, second: float) -> None:
    found = falling(full * BAR, end * BAR)
    assert len(found) == count
    assert [found[0], found[1], found[-1]] == pytest.approx([full * BAR, second * BAR, end * BAR], rel=1e-12)


def test_the_object_is_plain_json_and_agrees_with_settle() -> None:
    found = told()
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert found["format"] == "hangflat.empty/1"
    from sim.answers.why.answer import why_answer

    for point in (found["points"][0], found["points"][-1]):
        at = f"cylinders.pressure={point['pressure_bar']} bar"
        settled = why_answer(Case.read(demo_path("tall-man-steel"), [at]))
        assert point["pitch_moment_nm"] == pytest.approx(settled.flat.pitch_moment, abs=1e-9)
        assert point["wing_gas_l"] == pytest.approx(1e3 * settled.whole.wing_gas, abs=1e-9)
    assert found["caution"] == CAUTION


def test_the_table_holds_every_pressure() -> None:
    found = told()
    header, *rows = list(csv.reader(io.StringIO(empty_csv(answer()))))
    assert header == [
        "pressure [bar]", "gas breathed [kg]", "trimming moment, plus turns head-up [N m]",
        "pitch stiffness [N m/rad]",
        "roll stiffness [N m/rad]", "wing gas [l]", "suit gas [l]", "net buoyancy, plus floats [kg]",
        "sinks with an empty wing, minus floats up [kg]",
    ]  # fmt: skip
    assert len(rows) == len(found["points"])
    assert not any("e-" in cell for row in rows for cell in row)  # nil is written as 0
    assert [float(r[0]) for r in rows] == pytest.approx([p["pressure_bar"] for p in found["points"]])


def test_words_begin_with_what_it_comes_to_and_end_with_the_caution() -> None:
    text = empty_text(answer())
    first, last = (told()["points"][i]["pitch_moment_nm"] for i in (0, -1))
    assert text.startswith("From 200 to 10 bar, what turns you when you hold flat goes from ")
    words = " ".join(text.split())
    first_lead, last_lead = (-moment / (0.5 * 9.80665) for moment in (first, last))
    assert (
        f"from {-first:.1f} N m head-down (like {first_lead:.1f} kg moved half a metre) to "
        f"{-last:.1f} N m head-down (like {last_lead:.1f} kg moved half a metre)."
    ) in words
    assert sum(line.endswith("N m/rad") for line in text.split("\n")) == MOST_ROWS
    assert words.endswith("hangflat plans no dive and no decompression.")
    assert all(len(line) <= 100 for line in text.split("\n"))


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        (
            ("suit.gas=9.5 l", "lead.0.mass=0.1 kg", "lead.1.mass=0.1 kg"),
            "empty at {empty_at:.0f} bar: below that the diver floats up",
        ),
        (
            ("lead.0.mass=8 kg",),
            "never runs empty: at 10 bar it holds {holds:.1f} l; with an empty one the diver would sink with "
            "{heavy:.1f} kg",
        ),
        (
            ("wing.capacity=3 l", "lead.0.mass=6 kg"),
            "full throughout, 3.0 l: with an empty one the diver would sink with {heavy:.1f} kg",
        ),
        (
            ("suit.gas=9.5 l", "lead.0.mass=0.1 kg", "lead.1.mass=0.1 kg", "cylinders.pressure=20 bar"),
            "empty from the start",
        ),
        (("wing.capacity=2 l",), "the wing does not hold the diver up from 200 to"),
        (
            ("wing.capacity=2 l", "lead.0.mass=8 kg"),
            "full throughout, 2.0 l: with an empty one the diver would sink with",
        ),
        (("wing.gas=3 l",), "it does not make up for the gas that is breathed"),
        (
            ("wing=none", "lead.0.mass=0.1 kg", "lead.1.mass=0.1 kg"),
            "buoyancy at first {first:.1f} kg too heavy, at last {last:.1f} kg too light",
        ),
        (("suit=wetsuit 5 mm",), "Foam is squeezed thin at depth"),
    ],
)
def test_each_kind_of_wing_is_told(settings: tuple[str, ...], words: str) -> None:
    """The numbers are those of the object, which other tests hold against what settle says."""
    found = told(*settings)
    end = found["points"][-1]
    numbers = {
        "empty_at": found["wing_empty_at_bar"],
        "holds": end["wing_gas_l"],
        "heavy": end["heavy_with_empty_wing_kg"],
        "first": -found["points"][0]["net_buoyancy_kg"],
        "last": end["net_buoyancy_kg"],
    }
    assert words.format(**numbers) in " ".join(empty_text(answer(*settings)).split())


@pytest.mark.parametrize(
    ("settings", "end", "words"),
    [
        (("cylinders=none",), 10.0, "there are no cylinders on the back to empty"),
        (("cylinders.pressure=30 bar",), 50.0, "the cylinders are at 30 bar, and are to be emptied to 50 bar"),
        ((), 199.9999, "the cylinders are at 200 bar, and are to be emptied to 200 bar"),
        ((), float("nan"), "are to be emptied to nan bar"),
    ],
)
def test_what_cannot_be_emptied_is_told(settings: tuple[str, ...], end: float, words: str) -> None:
    with pytest.raises(ScenarioError, match=words):
        empty_report(Case.read(demo_path("tall-man-steel"), settings), end * BAR)


def test_a_parts_file_has_no_cylinders(tmp_path) -> None:
    path = tmp_path / "rig.toml"
    path.write_text(
        'format = "parts/1"\n[water]\ndensity = "1000 kg/m^3"\n[depth]\npressure = "2 bar"\n[[part]]\nname = "a"\n'
        'mass = "1 kg"\ncm = [0, 0, 0]\nvolume = "1 l"\ncb = [0, 0, 0]\n',
        encoding="utf-8",
    )
    with pytest.raises(ScenarioError, match="a parts file has no cylinders to empty"):
        empty_report(Case.read(path))


def test_with_an_empty_wing_the_diver_sinks_or_floats_by_what_settle_says() -> None:
    """Independent of the rule: the wing's gas set to nothing, and the buoyancy looked at."""
    from sim.answers.why.answer import why_answer

    for point in (told()["points"][0], told()["points"][-1]):
        at = (f"cylinders.pressure={point['pressure_bar']} bar", "wing.gas=0 l")
        whole = why_answer(Case.read(demo_path("tall-man-steel"), at)).whole
        assert point["heavy_with_empty_wing_kg"] == pytest.approx(-whole.net_buoyancy, abs=1e-6)
