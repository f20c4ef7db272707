"""The front door gives what the commands print, and keeps its promises on imports, version and errors."""

import inspect
import json
import math
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import hangflat
from scenarios.demos import demo_path
from sim.commands.main import main

ROOT = Path(__file__).parents[2]
DEMO = demo_path("single-wetsuit")
BARE = ("cylinders=none", "wing=none", "fins=none")  # little to try, little to draw
BENCH = 'format = "bench/1"\nscenario = "diver.toml"\n[[float]]\nlead = "2 kg"\npressure = "50 bar"\n'
STUDY = """\
format = "study/1"
outputs = ["trimming moment"]
[base]
format = "parts/1"
water = { density = "1000 kg/m^3", gravity = "10 m/s^2" }
depth = { pressure = "2 bar" }
part = [{ name = "float", mass = "100 kg", cm = [0.0, 0.0, 0.0], volume = "100 l", cb = [0.05, 0.0, 0.0] }]
[design]
kind = "grid"
[[factor]]
key = "water.density"
values = ["1000 kg/m^3", "1025 kg/m^3"]
"""
ANSWERS = {
    "settle": (lambda case: hangflat.settle(case, roll="free"), ("--roll", "free")),
    "why": (hangflat.why, ()),
    "fit": (lambda case: hangflat.fit(case, ["small carbon", "small steel"]),
            ("--plate", "small carbon", "--plate", "small steel")),
    "fit, sweep": (lambda case: hangflat.fit(case, sweep="drop; from=0 cm; to=2 cm; steps=2"),
                   ("--sweep", "drop; from=0 cm; to=2 cm; steps=2")),
}  # fmt: skip


@pytest.fixture(scope="module")
def case():
    return hangflat.load(DEMO, BARE)


def printed(capsys, *words):
    assert main([str(w) for w in (*words, "--json")]) == 0
    return json.loads(capsys.readouterr().out)


def as_json(answer):
    return json.loads(json.dumps(hangflat.as_json(answer), allow_nan=False))


@pytest.mark.parametrize("name", ANSWERS)
def test_each_answer_is_what_the_command_prints(name, case, capsys):
    answer, words = ANSWERS[name]
    settings = [w for s in BARE for w in ("--set", s)]
    got = as_json(answer(case))
    assert got == printed(capsys, name.split(",")[0], DEMO, *words, *settings)
    assert list(got)[:2] == ["format", "made_by"]
    assert f"``{got['format']}``" in inspect.getdoc(getattr(hangflat, name.split(",")[0]))


def test_changes_are_what_the_command_prints(capsys):
    """Of a diver with nothing on but lead, who has little to change."""
    bare = (*BARE, "plate=none", "harness=none", "suit=none", "gear=none")
    got = as_json(hangflat.change(hangflat.load(DEMO, bare)))
    assert got == printed(capsys, "change", DEMO, *(w for s in bare for w in ("--set", s)))
    assert got["changes"]


def test_emptying_is_what_the_command_prints(capsys):
    case = hangflat.load(DEMO)
    got = as_json(hangflat.empty(case, "190 bar"))
    assert got == printed(capsys, "empty", DEMO, "--to", "190 bar")
    assert got["points"][-1]["pressure_bar"] == pytest.approx(190.0)


def test_measurements_are_what_the_command_prints(tmp_path, capsys):
    (tmp_path / "diver.toml").write_text(DEMO.read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "pool.toml").write_text(BENCH, encoding="utf-8")
    got = as_json(hangflat.check_bench(tmp_path / "pool.toml"))
    assert got == printed(capsys, "check-bench", tmp_path / "pool.toml")


def test_a_study_says_what_moves_the_answers(tmp_path, capsys):
    """By hand: 1000 or 1025 kg/m^3 x 10 m/s^2 x 0.1 m^3 x 0.05 m."""
    pytest.importorskip("polars")
    (tmp_path / "study.toml").write_text(STUDY, encoding="utf-8")
    got = as_json(hangflat.study(tmp_path / "study.toml", tmp_path / "rows"))
    assert [level["mean"] for level in got["levels"]] == pytest.approx([50.0, 51.25])
    assert got == printed(capsys, "study", "report", tmp_path / "rows")


def test_numbers_are_read_by_name_in_si_units(case):
    """As the object has them in its own units: degrees, litres, N m."""
    answer, budget = hangflat.settle(case), hangflat.why(case)
    told = hangflat.as_json(answer)
    assert answer.flat.pitch_moment == budget.flat.pitch_moment == told["flat"]["pitch_moment_nm"]
    assert answer.held[0].pitch == pytest.approx(math.radians(told["held"][0]["pitch_deg"]), rel=1e-12)
    assert answer.whole.volume == pytest.approx(1e-3 * told["whole"]["volume_l"], rel=1e-12)
    assert sum(i.moment for i in budget.items) == pytest.approx(budget.flat.pitch_moment, abs=1e-9)
    assert answer.surface is answer.uncertain is None
    assert answer.made_by.scenarios[0].file == DEMO.name


def test_surface_and_spread_are_added_where_asked_for(case, monkeypatch):
    """What works them out has its own tests."""
    monkeypatch.setattr("sim.answers.settle.afloat.surface.surface_report", lambda case: case)
    monkeypatch.setattr("sim.answers.settle.afloat.surface.surface_told", lambda report: report.path.name)
    monkeypatch.setattr("sim.uncertainty.uncertain_settle.uncertain_settle", lambda case, workers: workers)
    monkeypatch.setattr("sim.answers.settle.uncertain.uncertain_told", lambda answer: answer)
    got = hangflat.settle(case, surface=True, uncertain=True, workers=2)
    assert (got.surface, got.uncertain) == (DEMO.name, 2)


def test_what_cannot_be_is_told_by_key(case):
    with pytest.raises(hangflat.ScenarioError, match=r"--set plate=nonesuch"):
        case.vary({"plate": "nonesuch"})
    with pytest.raises(ValueError, match="unit"):
        hangflat.empty(case, "190")


def test_importing_is_instant_and_tells_the_version_of_the_project():
    """No engine is loaded, and the one place for the version is pyproject.toml."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert hangflat.__version__ == project["version"]
    code = (
        "import sys, hangflat; print(sorted({'numpy', 'pydantic', 'scipy', 'sim', 'scenarios'} & set(sys.modules)))"
    )
    paths = [str(ROOT), str(ROOT / "sim" / "front")]
    told = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path[:0] = {paths!r}\n{code}"], capture_output=True, text=True,
        check=True,
    )  # fmt: skip
    assert told.stdout.strip() == "[]"


def test_all_that_it_names_is_there_and_documented():
    for name in hangflat.__all__:
        assert getattr(hangflat, name) is not None
        if name != "__version__":
            assert inspect.getdoc(getattr(hangflat, name)), name
    with pytest.raises(AttributeError, match="nonesuch"):
        _ = hangflat.nonesuch
