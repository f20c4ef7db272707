"""From files to files: what a demo diver's invented pool measurements teach, and what other commands make of it."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from scenarios.known import read_known
from scenarios.reading import read_scenario
from sim.answers.calibrate.answer import calibration_told
from sim.answers.calibrate.calibrate import calibrated
from sim.answers.calibrate.known_file import known_text
from sim.answers.calibrate.text import calibration_text
from sim.answers.check_bench.bench_file import read_bench
from sim.answers.check_bench.readings import Pool, readings_of
from sim.assembly.posed_diver import posed_diver
from sim.case import Case
from sim.commands.main import main
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.record import as_json
from sim.uncertainty.uncertain_rig import uncertain_scenario
from sim.uncertainty.uncertain_settle import uncertain_settle

DEMO = "small-woman-carbon"
POOL = """\
format = "bench/1"
scenario = "diver.toml"
measured_on = "2025-05-31"
[water]
kind = "sea"
[[float]]
lead = "1.5 kg"
pressure = "60 bar"
[[balance]]
lead = "1.5 kg"
place = "ankles"
pressure = "150 bar"
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The demo diver, who floats by half a kilogram more than the model says and needs 2 N m less to lie flat."""
    place = tmp_path_factory.mktemp("pool")
    shutil.copy(demo_path(DEMO), place / "diver.toml")
    (place / "pool.toml").write_text(POOL, encoding="utf-8")
    pool = Pool(read_scenario(place / "diver.toml"))
    afloat, balance = readings_of(read_bench(place / "pool.toml"), pool)
    lead = afloat.by(pool.rig(afloat.situation)) + 0.5
    assert lead > 0.0, "the demo diver is heavy without lead: give it a lighter rig"
    true = replace(balance, added=None).by(pool.rig(balance.situation)) + 2.0
    spot = "ankles" if true < 0.0 else "upper band"
    kilogram = POOL.replace("1.5 kg", f"{lead:.2f} kg", 1).replace("1.5 kg", "1 kg").replace("ankles", spot)
    (place / "pool.toml").write_text(kilogram, encoding="utf-8")
    one = readings_of(read_bench(place / "pool.toml"), pool)[1]
    per_kg = one.by(pool.rig(one.situation)) - (true - 2.0)
    text = kilogram.replace("1 kg", f"{-true / per_kg:.2f} kg")
    (place / "pool.toml").write_text(text, encoding="utf-8")
    return place


@pytest.fixture(scope="module")
def answer(folder):
    found = calibrated(Case.read(folder / "diver.toml"), read_bench(folder / "pool.toml"))
    (folder / "known.toml").write_text(known_text(found), encoding="utf-8")
    told = (folder / "diver.toml").read_text(encoding="utf-8")
    (folder / "anna.toml").write_text(f'known = "known.toml"\n{told}', encoding="utf-8")
    return found


def test_readings_are_met_and_the_band_is_narrower(answer):
    before, after = answer.band()
    assert after is not None
    assert after[2] - after[0] < 0.7 * (before[2] - before[0])
    assert before[0] - 2.0 < after[1] < before[2] + 2.0
    for i, reading in enumerate(answer.model.readings):
        now = answer.found.weight @ answer.found.predicted[:, i]
        assert abs(now - reading.value) < 2.0 * reading.sd


def test_words_and_numbers_say_the_same(answer):
    told = as_json(calibration_told(answer))
    text = calibration_text(calibration_told(answer))
    assert told["format"] == "hangflat.calibrate/1"
    assert max(map(len, text.splitlines())) <= 100
    json.dumps(told, allow_nan=False)
    for heading in ("Learnt", "Not from this", "What would help most next", "Caution"):
        assert heading in text
    for care in ("confined water", "buddy", "instructor", "never hold the breath"):
        assert care in " ".join(text.split())
    assert not told["contradicted"]
    assert {n["measurement"] for n in told["next"]} == {"balancing lead, legs straight", "freeze test"}


def test_every_unknown_can_be_put_into_a_rig(answer):
    """By a key of the scenario or by an effect: otherwise what was learnt of it would be lost on settle."""
    for variate in answer.unknown.variates:
        if not (variate.numbers.any() or variate.log_stiffness or variate.gas_share):
            continue  # it moves nothing that is measured
        assert variate.effect is not None or any(s.per_spread for s in variate.said.values()), variate.name


def test_settle_goes_by_what_was_learnt(answer, folder):
    """The rig put together anew at the middle of the belief has the moment that the fit found, and its band."""
    _, after = answer.band()
    told = flat_answer(soft_rig(Case.read(folder / "anna.toml").assembled.rig)).pitch_moment
    # straight lines err by 5 to 8 % of the former SD of 4 N m, a draw at the middle is not the mean of draws
    assert told == pytest.approx(after[1], abs=0.6)
    bands = uncertain_settle(Case.read(folder / "anna.toml"), samples=512)
    assert bands.moment.low == pytest.approx(after[0], abs=0.9)
    assert bands.moment.high == pytest.approx(after[2], abs=0.9)


def test_another_rig_keeps_the_diver_and_the_suit_but_not_the_rig(answer, folder):
    other = ["plate=standard steel"]
    scenario = read_scenario(folder / "anna.toml", other)
    names = {answer.unknown.variates[i].name for i in scenario.learnt.kept_on(scenario)}
    by_owner = {v.name: v.owner for v in answer.unknown.variates}
    assert names == {n for n, o in by_owner.items() if o in ("diver", "suit")}
    assert "height of the plate" not in names
    unknown = uncertain_scenario(scenario, Case.read(folder / "anna.toml", other).assembled.rig)
    at = [v.name for v in unknown.variates].index("height of the plate")
    assert unknown.belief.mean[at] == 0.0
    row = unknown.belief.factor @ unknown.belief.factor.T
    np.testing.assert_allclose(row[at], np.eye(len(row))[at], atol=1e-6)


def test_another_suit_keeps_the_diver_alone(answer, folder):
    scenario = read_scenario(folder / "anna.toml", ["suit.undergarment=heavy"])
    owners = {answer.unknown.variates[i].owner for i in scenario.learnt.kept_on(scenario)}
    assert owners == {"diver", "rig"}


def test_what_is_told_otherwise_now_is_believed(answer, folder):
    """A value that the user changes after the measurements is the user's."""
    scenario = read_scenario(folder / "anna.toml", ['harness.drop="3 cm"'])
    kept = {answer.unknown.variates[i].name for i in scenario.learnt.kept_on(scenario)}
    assert "height of the plate" not in kept  # another harness is another rig, too
    stated = read_scenario(folder / "anna.toml", ['diver.lung_gas="3.4 l"'])
    kept = {answer.unknown.variates[i].name for i in stated.learnt.kept_on(stated)}
    assert "gas in the lungs" not in kept
    assert "diver.lung_gas" not in stated.learnt.values_on(stated)


def test_a_fuller_chest_is_fuller_by_as_much_as_without_measurements(answer, folder):
    """What was learnt of the lungs is how far off their estimate is, at whatever level of breathing."""
    gas = {
        name: [
            posed_diver(read_scenario(folder / name, [f"diver.breathing_level={level}"])).body.person.lung_gas
            for level in ("mid-breath", "breathed in")
        ]
        for name in ("diver.toml", "anna.toml")
    }
    assert np.diff(gas["anna.toml"]) == pytest.approx(np.diff(gas["diver.toml"]))
    assert np.diff(gas["diver.toml"]) > 1e-4


def test_body_fat_told_after_the_measurements_is_believed(answer, folder):
    scenario = read_scenario(folder / "anna.toml", ['diver.body_fat="25 %"'])
    assert "diver.body_density" not in scenario.learnt.values_on(scenario)
    assert scenario.learnt.diver.body_fat is None


@pytest.mark.parametrize(
    ("setting", "words"),
    [
        ('diver.height="1.72 m"', "learnt of another diver (female, 166 cm, 58 kg; here female, 172 cm, 58 kg)"),
        ("diver.sex=male", "learnt of another diver"),
        ("suit=wetsuit 5 mm", "learnt in a drysuit, and here the diver wears a wetsuit"),
        ("suit=none", "here the diver wears no suit"),
        ("known=nobody.toml", "there is no such file"),
    ],
)
def test_a_known_file_that_does_not_belong(answer, folder, setting, words):
    with pytest.raises(ScenarioError) as wrong:
        read_scenario(folder / "anna.toml", [setting])
    assert words in str(wrong.value)


def test_a_spoilt_known_file_names_its_line(answer, folder):
    text = (folder / "known.toml").read_text(encoding="utf-8")
    (folder / "spoilt.toml").write_text(text.replace("sd = 0.", "sd = -0.", 1), encoding="utf-8")
    with pytest.raises(ScenarioError, match=r"spoilt\.toml:\d+: unknown\.0\.sd"):
        read_known(folder / "spoilt.toml")


def test_what_the_file_says_is_what_was_found(answer, folder):
    known = read_known(folder / "known.toml")
    np.testing.assert_allclose([u.mean for u in known.unknown], answer.found.mean, atol=1e-4)
    sd = np.array([u.sd for u in known.unknown])
    np.testing.assert_allclose(sd[:, None] * np.array(known.correlation) * sd, answer.found.covariance, atol=1e-3)


def test_a_contradiction_writes_no_file_and_leaves_an_old_one(folder, capsys, answer):
    """Ten kilograms more lead than the model can need."""
    (folder / "odd.toml").write_text(POOL.replace("1.5 kg", "14 kg", 1), encoding="utf-8")
    out = folder / "odd-known.toml"
    out.write_text("old", encoding="utf-8")
    words = ["calibrate", str(folder / "diver.toml"), str(folder / "odd.toml"), "-o", str(out), "--json"]
    assert main(words) == 0
    told = json.loads(capsys.readouterr().out)
    assert [s["file"] for s in told["made_by"]["scenarios"]] == ["diver.toml"]
    assert told["made_by"]["measurements"]["file"] == "odd.toml"
    assert told["contradicted"]
    assert told["known"] is None
    assert told["pitch_moment_nm"]["after"] is None
    assert told["suspects"][0]["weight"] > 0.0
    assert "No" not in told["suspects"][0]["name"]
    assert out.read_text(encoding="utf-8") == "old"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (('pressure = "60 bar"\n', ""), "pool.toml:7: float.0.lead: the pressure is missing"),
        (('place = "ankles"\n', ""), "say where that lead was worn"),
        (('lead = "1.5 kg"\nplace', 'lead = ""\nplace'), "pool.toml:10: balance.0.lead: still blank"),
        (('[[balance]]\n', '[[balance]]\nworn = "lower legs strapped"\nbetween = ["1 kg", "2 kg"]\n'), "give either"),
    ],
)  # fmt: skip
def test_measurements_that_cannot_be_used(folder, tmp_path, change, words):
    shutil.copy(folder / "diver.toml", tmp_path / "diver.toml")
    (tmp_path / "pool.toml").write_text(POOL.replace(*change), encoding="utf-8")
    with pytest.raises(ScenarioError) as wrong:
        calibrated(Case.read(tmp_path / "diver.toml"), read_bench(tmp_path / "pool.toml"))
    assert words in str(wrong.value)


def test_two_leads_that_bracket_balance_are_an_even_spread(folder, tmp_path):
    """Between 1 and 2 kg at arm r the moment is spread evenly over g r: its SD is that over sqrt(12)."""
    shutil.copy(folder / "diver.toml", tmp_path / "diver.toml")
    text = POOL.replace('lead = "1.5 kg"\nplace', 'between = ["1 kg", "2 kg"]\nplace')
    (tmp_path / "pool.toml").write_text(text, encoding="utf-8")
    pool = Pool(read_scenario(tmp_path / "diver.toml"))
    balance = readings_of(read_bench(tmp_path / "pool.toml"), pool)[1]
    rig = pool.rig(balance.situation)
    arm = abs(balance.added[1] / balance.added[0] - rig.whole.cm[0])
    assert balance.added[0] == pytest.approx(1.5)
    assert balance.sd == pytest.approx(np.hypot(2.0, rig.water.gravity * arm / np.sqrt(12.0)))


def test_from_python_it_is_told_as_by_the_command_and_written(folder, tmp_path, answer, monkeypatch):
    import hangflat

    monkeypatch.setattr("sim.answers.calibrate.calibrate.calibrated", lambda case, bench, workers: answer)
    case = hangflat.load(folder / "diver.toml")
    got = hangflat.calibrate(case, folder / "pool.toml", known=tmp_path / "known.toml")
    told = as_json(calibration_told(answer)) | {"known": got.known}
    assert {k: v for k, v in as_json(got).items() if k != "made_by"} == told
    assert got.made_by.measurements.file == "pool.toml"
    assert got.known == str(tmp_path / "known.toml")
    assert (tmp_path / "known.toml").read_text(encoding="utf-8") == known_text(answer)
