"""Answers of rows: arrays against single files, and single files against what one rig's own code says."""

import json

import numpy as np
import pytest

from scenarios.reading import read_file
from scenarios.study import OF_A_DIVER
from scenarios.understood import digest
from sim.answers.study.from_file import job_from_file
from sim.answers.study.outputs import OUTPUTS as OUTPUTS_THERE_ARE
from sim.answers.study.parts_model import PartsModel
from sim.answers.study.plan import Rows
from sim.answers.study.rig_model import RigModel
from sim.case import Case
from sim.statics.equilibria import equilibria
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.made_by import Origin
from sim.uncertainty.turning import rest_pitch

OUTPUTS = json.dumps([name for name in OUTPUTS_THERE_ARE if name not in OF_A_DIVER])  # a parts file has no diver
RIG = """
format = "parts/1"
[water]
density = "1025 kg/m^3"
[depth]
pressure = "2 bar"
[[part]]
name = "body"
mass = "60 kg"
cm = [0.0, 0.01, 0.0]
volume = "58 l"
cb = [0.01, 0.0, 0.0]
[[part]]
name = "twins"
mass = "25 kg"
cm = [0.1, 0.0, 0.17]
volume = "17 l"
cb = [0.1, 0.0, 0.17]
[suit]
gas = "6 l"
softness = "800 Pa"
gas_density = "2.5 kg/m^3"
cells = [
    { at = [0.3, 0.1, 0.05], least = "0.5 l", most = "2.5 l" },
    { at = [0.3, -0.1, 0.05], least = "0.5 l", most = "2.5 l" },
    { at = [-0.5, 0.1, 0.0], least = "0.5 l", most = "2.5 l" },
    { at = [-0.5, -0.1, 0.0], least = "0.5 l", most = "2.5 l" },
]
[wing]
softness = "300 Pa"
cells = [{ at = [0.3, 0.15, 0.15], most = "6 l" }, { at = [-0.1, -0.15, 0.15], most = "6 l" }]
"""
FACTORS = """
[design]
kind = "latin hypercube"
number = 60
[[factor]]
key = "part.0.mass"
normal = "132.3 +- 2 lb"
[[factor]]
key = "part.1.cm.2"
uniform = [0.1, 0.2]
[[factor]]
key = "part.0.volume"
uniform = ["57 l", "59 l"]
[[factor]]
key = "part.1.cb.0"
values = [0.09, 0.1, 0.11]
[[factor]]
key = "water.density"
uniform = ["1000 kg/m^3", "1030 kg/m^3"]
[[factor]]
key = "water.gravity"
uniform = ["9.78 m/s^2", "9.83 m/s^2"]
[[factor]]
key = "depth.pressure"
uniform = ["1.5 bar", "5 bar"]
[[factor]]
key = "suit.gas"
uniform = ["3 l", "12 l"]
[[factor]]
key = "suit.softness"
lognormal = { median = "800 Pa", factor = 1.4 }
[[factor]]
key = "wing.softness"
uniform = ["100 Pa", "600 Pa"]
[[factor]]
key = "suit.gas_density"
uniform = ["0 kg/m^3", "4 kg/m^3"]
[[factor]]
key = "wing.gas"
choices = ["neutral", "3 l", "9 l"]
[[factor]]
name = "held at"
choices = [{ name = "cm", set = {} }, { name = "hips", set = { "depth.held" = [0.0, 0.0, 0.0] } }]
"""


@pytest.fixture
def parts_job(tmp_path):
    (tmp_path / "rig.toml").write_text(RIG, encoding="utf-8")
    (tmp_path / "study.toml").write_text(
        f'format = "study/1"\nbase = "rig.toml"\noutputs = {OUTPUTS}\n{FACTORS}', encoding="utf-8"
    )
    return job_from_file(tmp_path / "study.toml")


def test_a_block_as_arrays_is_what_single_files_give(parts_job):
    """Suits from nearly empty to overfull (vented), wings neutral, fixed and at a stop."""
    assert isinstance(parts_job.model, PartsModel)
    rows = parts_job.plan.between(0, 60)
    arrays, single = parts_job.model(rows), parts_job.model.single(rows)
    assert list(arrays.problems) == list(single.problems)
    assert not any(arrays.problems)
    for column, values in single.values.items():
        # parts are added up in another order; angles of a rest are found to 1e-10 rad
        assert arrays.values[column] == pytest.approx(values, rel=1e-9, abs=1e-7, nan_ok=True), column


def test_vented_suits_and_impossible_wings_are_left_to_single_files(parts_job):
    rows = parts_job.plan.between(0, 60)
    every = np.arange(60)
    odd = {**rows.values, "suit.gas": np.where(every % 7 == 0, 0.0, rows.values["suit.gas"])}
    odd["part.0.mass"] = np.where(every % 5 == 0, -1000.0, rows.values["part.0.mass"])
    arrays, single = parts_job.model(Rows(0, odd)), parts_job.model.single(Rows(0, odd))
    assert list(arrays.problems) == list(single.problems)
    for i, problem in enumerate(arrays.problems):
        assert ("part.0.mass" in problem) == (i % 5 == 0)
        assert np.isnan(arrays.values["mass_kg"][i]) == (i % 5 == 0)
    for column, values in single.values.items():
        assert arrays.values[column] == pytest.approx(values, rel=1e-9, abs=1e-7, nan_ok=True), column


def test_rows_do_not_depend_on_their_neighbours(parts_job):
    whole = parts_job.model(parts_job.plan.between(0, 60))
    for start, stop in ((0, 1), (17, 18), (30, 45)):
        part = parts_job.model(parts_job.plan.between(start, stop))
        for column, values in part.values.items():
            assert np.array_equal(values, whole.values[column][start:stop], equal_nan=True)


def test_a_row_is_what_settle_says_with_the_same_settings(parts_job, tmp_path):
    rows = parts_job.plan.between(0, 60)
    answers = parts_job.model(rows)
    told = [i for i, p in enumerate(answers.problems) if not p][:12]
    for i in told:
        settings = [s.text for s in parts_job.model.single.row_settings(rows, i)]
        soft = soft_rig(Case.read(tmp_path / "rig.toml", settings).assembled.rig)
        flat = flat_answer(soft)
        found = {column: values[i] for column, values in answers.values.items()}
        for column, value in {
            "trimming_moment_nm": flat.pitch_moment,
            "roll_moment_nm": flat.roll_moment,
            "pitch_stiffness_nm_per_rad": flat.pitch_stiffness,
            "roll_stiffness_nm_per_rad": flat.roll_stiffness,
            "wing_gas_l": 1e3 * flat.wing_gas,
            "suit_gas_l": 1e3 * flat.suit_gas,
            "mass_kg": flat.mass,
            "volume_l": 1e3 * flat.volume,
            "net_buoyancy_kg": flat.net_buoyancy,
        }.items():
            assert found[column] == pytest.approx(value, rel=1e-9, abs=1e-9), column
        held = np.clip(np.degrees(rest_pitch(soft, flat.pitch_moment)), -90.0, 90.0)
        assert found["held_pitch_deg"] == pytest.approx(held, abs=1e-4)  # degrees; that search stops at 1e-7 rad
        pitch, roll = np.radians([found["rest_pitch_deg"], found["rest_roll_deg"]])
        up = np.array([np.sin(pitch), np.cos(pitch) * np.sin(roll), np.cos(pitch) * np.cos(roll)])
        assert np.degrees(np.arccos(np.clip(up[2], -1, 1))) == pytest.approx(found["rest_turn_deg"], abs=1e-6)
        rests = [e for e in equilibria(soft).found if e.kind == "stable"]
        assert min(np.linalg.norm(e.up - up) for e in rests) < 1e-6


SCENARIO = """
[diver]
sex = "female"
height = "166 cm"
mass = "58 kg"
[plate]
catalogue = "small carbon"
[harness]
catalogue = "one-piece webbing"
[suit]
catalogue = "trilaminate"
[cylinders]
catalogue = "twin steel 7 l 232 bar"
[wing]
catalogue = "twin"
"""


def test_rows_of_a_scenario_are_what_settle_says(tmp_path):
    (tmp_path / "diver.toml").write_text(SCENARIO, encoding="utf-8")
    (tmp_path / "study.toml").write_text(
        f'format = "study/1"\nbase = "diver.toml"\noutputs = {OUTPUTS}\n[design]\nkind = "grid"\n'
        '[[factor]]\nkey = "plate"\nchoices = ["none", "standard steel"]\n'
        '[[factor]]\nkey = "pose.joints.knee flexion"\nvalues = ["0 deg", "90 deg"]\n',
        encoding="utf-8",
    )
    job = job_from_file(tmp_path / "study.toml")
    assert isinstance(job.model, RigModel)
    rows = job.plan.between(0, 4)
    answers = job.model(rows)
    assert list(answers.problems) == [""] * 4
    for i in (0, 3):
        settings = [s.text for s in job.model.row_settings(rows, i)]
        flat = flat_answer(soft_rig(Case.read(tmp_path / "diver.toml", settings).assembled.rig))
        assert answers.values["trimming_moment_nm"][i] == pytest.approx(flat.pitch_moment, rel=1e-9)
        assert answers.values["mass_kg"][i] == pytest.approx(flat.mass, rel=1e-12)


def test_a_row_that_cannot_be_says_why(tmp_path):
    (tmp_path / "diver.toml").write_text(SCENARIO, encoding="utf-8")
    (tmp_path / "study.toml").write_text(
        'format = "study/1"\nbase = "diver.toml"\noutputs = ["mass"]\n[design]\nkind = "grid"\n'
        '[[factor]]\nkey = "suit"\nchoices = ["trilaminate", "wetsuit 7 mm"]\n'
        '[[factor]]\nkey = "suit.gaiters"\nchoices = [true, false]\n',
        encoding="utf-8",
    )
    job = job_from_file(tmp_path / "study.toml")
    answers = job.model(job.plan.between(0, 4))
    assert answers.problems[0] == answers.problems[1] == ""
    assert "suit.gaiters: unknown key here" in answers.problems[2]
    assert np.array_equal(np.isnan(answers.values["mass_kg"]), [False, False, True, True])


def test_what_a_study_says_of_its_scenario_changes_with_it(tmp_path):
    (tmp_path / "rig.toml").write_text(RIG, encoding="utf-8")
    text = f'format = "study/1"\nbase = "rig.toml"\noutputs = {OUTPUTS}\n{FACTORS}'
    file = tmp_path / "study.toml"
    file.write_text(text, encoding="utf-8")
    begun = job_from_file(file)
    (base,) = begun.made_by.scenarios
    assert base == Origin(file="rig.toml", sha256=digest(read_file(tmp_path / "rig.toml").content))
    assert begun.made_by.study.file == "study.toml"
    whole = job_from_file(file, whole=True).made_by.scenarios[0].scenario
    (tmp_path / "again.toml").write_text(whole, encoding="utf-8")
    assert digest(read_file(tmp_path / "again.toml").content) == base.sha256
    for old, new, what in (
        ('"57 l", "59 l"', '"57 l", "60 l"', "the factors"),
        ("number = 60", "number = 61", "the design"),
        ('"mass", ', "", "the outputs"),
    ):
        file.write_text(text.replace(old, new), encoding="utf-8")
        other = job_from_file(file)
        assert other.identity.others(begun.identity) == [what]
        assert other.made_by.scenarios == (base,)
        assert other.made_by.study.sha256 != begun.made_by.study.sha256
    file.write_text(text, encoding="utf-8")
    (tmp_path / "rig.toml").write_text(RIG.replace("25 kg", "26 kg"), encoding="utf-8")
    assert job_from_file(file).identity.others(begun.identity) == ["the scenario"]
