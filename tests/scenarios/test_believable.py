"""Numbers, spreads, places and loads that are refused, doubted or taken, the same in every kind of file."""

import math
import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import scenarios
from scenarios.believable import number, spread_doubt, worn_refusal
from scenarios.errors import ScenarioError
from scenarios.notes import scenario_notes
from scenarios.reading import read_file, scenario_of
from scenarios.study_reading import read_study
from sim.answers.check_bench.bench_file import read_bench

HUGE = "1" + "0" * 400
HEX = "0x" + "f" * 6000  # Python refuses to write such a number out


def _worn(**tables):
    return scenario_of({"diver": {"sex": "female", "height": "166 cm", "mass": "58 kg"}, **tables})


@given(st.one_of(st.integers(), st.floats(), st.booleans(), st.text(), st.none()))
def test_a_number_is_the_float_or_nothing(value):
    found = number(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        assert found is None
    elif found is None:
        assert abs(value) >= 2**1023 or value != value
    else:
        assert found == value or isinstance(value, int)
        assert math.isfinite(found)


@pytest.mark.parametrize("digits", [HUGE, HEX])
@pytest.mark.parametrize(
    "line", ["mass = {}", "gear = [{{ name = 'x', mass = '1 kg', volume = '1 l', at = [{}, 0, 0] }}]"]
)
def test_a_whole_number_beyond_a_double_is_refused(complaint, person, digits, line):
    text = complaint(
        line.format(digits) + "\n" + person if "gear" in line else person.replace("mass = ", f"mass = {digits} #")
    )
    assert "a whole number of about" in text
    assert len(text) < 700


@pytest.mark.parametrize("digits", [HUGE, HEX, "nan", "inf"])
def test_numbers_of_a_parts_file_are_finite(complaint, digits):
    part = 'format = "parts/1"\n[water]\ndensity = "1025 kg/m^3"\n[depth]\npressure = "2 bar"\n[[part]]\nname = "a"\n'
    part += 'mass = "1 kg"\nvolume = "1 l"\ncb = [0, 0, 0]\n'
    assert "the point (the part's centre of mass) holds" in complaint(f"{part}cm = [{digits}, 0, 0]\n")
    inertia = f"inertia = [[{digits}, 0, 0], [0, 1, 0], [0, 0, 1]]"
    assert "an element is no finite number" in complaint(f"{part}cm = [0, 0, 0]\n{inertia}\n")


@pytest.mark.parametrize("digits", [HUGE, HEX, "nan", "inf"])
@pytest.mark.parametrize("way", ["values = [{}]", "choices = [{}]", "range = [0, {}]", "normal = '{} +- 1'"])
def test_numbers_of_a_study_are_finite(tmp_path, person, digits, way):
    (tmp_path / "base.toml").write_text(person + '[[lead]]\nmass = "1 kg"\nat = [0, 0, 0.1]\n', encoding="utf-8")
    head = 'format = "study/1"\nbase = "base.toml"\noutputs = ["mass"]\n[design]\nkind = "grid"\n'
    study = tmp_path / "study.toml"
    study.write_text(f'{head}[[factor]]\nkey = "lead.0.at.0"\n{way.format(digits)}\n', encoding="utf-8")
    with pytest.raises(ScenarioError) as refused:
        read_study(study)
    assert len(str(refused.value)) < 700


def test_numbers_of_a_bench_file_are_finite(tmp_path):
    file = tmp_path / "bench.toml"
    file.write_text(
        f'format = "bench/1"\nscenario = "x"\n[[balance]]\nlead = "1 kg"\nat = [{HUGE}, 0, 0]\n', encoding="utf-8"
    )
    with pytest.raises(ScenarioError, match=r"balance\.0\.at: the point .* holds a whole number of about 400 digits"):
        read_bench(file)


def test_a_spread_of_half_the_value_is_refused(complaint, person):
    text = complaint(person.replace("58 kg", "58 +- 30 kg"))
    assert text.startswith(
        'diver.toml:4: diver.mass: the spread of "58 +- 30 kg" is not believable: it is more than half'
    )


@pytest.mark.parametrize("spread", ["0 kg", "0.5 kg", "28 kg"])
def test_a_believable_spread_is_taken(load, person, spread):
    assert load(person.replace("58 kg", f"58 +- {spread}")).content.diver.spreads.keys() == {"mass"}


@given(st.floats(0.0, 10.0), st.floats(0.0, 10.0), st.floats(1.0, 1e3))
def test_spreads_are_judged_alike_in_every_unit(value, sd, factor):
    plain = spread_doubt(value, sd, 0.0, 10.0, ratio=True)
    assert bool(plain) == (sd > 5.0 or sd > max(0.5 * value, 0.2))
    power = 2.0 ** round(math.log2(factor))  # exact in binary, so that no rounding decides
    assert spread_doubt(value * power, sd * power, 0.0, 10.0 * power, ratio=True) == plain


FAR = {
    "lead": {"lead": [{"mass": "40 kg", "at": [10.0, 10.0, 10.0]}]},
    "gear": {"gear": [{"name": "x", "mass": "1 kg", "volume": "1 l", "at": [9.0, 0.0, 0.0]}]},
    "stage": {"gear": [{"kind": "stage", "catalogue": "stage aluminium 11.1 l", "at": [0.0, -3.0, 0.0]}]},
}


@pytest.mark.parametrize("worn", FAR.values(), ids=FAR)
def test_nobody_wears_anything_metres_away(worn):
    with pytest.raises(ScenarioError, match=r"\.0\.at: this is .* m from the hips of a diver 1\.66 m tall"):
        _worn(**worn)


def test_a_place_off_the_body_is_doubted_and_one_on_it_is_not():
    def notes(*at):
        worn = _worn(gear=[{"name": "camera", "mass": "1 kg", "volume": "1 l", "at": list(at)}])
        return [n for n in scenario_notes(worn) if "camera" in n]

    assert notes(0.3, 0.0, -0.2) == []
    assert "before the chest" in notes(0.3, 0.0, -0.9)[0]
    assert "to the side" in notes(0.3, 0.8, 0.0)[0]


@given(st.tuples(*[st.floats(-2.0, 2.0)] * 3), st.floats(1.4, 2.1))
def test_places_are_judged_by_distance_alone(at, height):
    turned = np.array(at)[[2, 0, 1]]
    assert bool(worn_refusal(at, height)) == bool(worn_refusal(tuple(-turned), height)) or math.isclose(
        math.dist(at, (0, 0, 0)), height, rel_tol=1e-12
    )


def test_more_lead_than_the_diver_weighs_is_refused_and_a_quarter_doubted():
    def lead(*masses):
        return _worn(lead=[{"mass": f"{m} kg", "place": "belt"} for m in masses])

    assert not any("lead" in n for n in scenario_notes(lead(10)))
    assert "The lead adds up to 20 kg, 34% of the diver's mass" in " ".join(scenario_notes(lead(10, 10)))
    with pytest.raises(ScenarioError, match="lead: the lead adds up to 70 kg, more than the diver's own 58 kg"):
        lead(40, 30)


def test_a_parts_file_has_no_catalogue(complaint):
    text = complaint('format = "parts/1"\n[[part]]\nname = "a"\ncatalogue = "rubber"\n')
    assert "part.0.catalogue: a parts file holds numbers only and uses no catalogue" in text
    text = complaint('format = "parts/1"\nplate = "small steel"\n')
    assert "plate: a parts file holds numbers only and 'plate' belongs to a scenario file" in text


LEARNT = {
    "lungs of nobody": (
        r'^"diver\.lung_gas" = . now = [^,]*',
        '"diver.lung_gas" = { now = 1e30',
        "no value that it may",
    ),
    "a measure of nobody": (r"^.diver\.measures\.acromialheight", '"diver.measures.wingspan', "no value that it may"),
    "a mean far off": (r"^mean = 0\.1396", "mean = 1e9", "mean"),
    "an effect of miles": (r"amount = -0\.00205758", "amount = -1e4", "amount"),
    "one-sided": (r"^    \[1\.0000, 0\.0174", "    [1.0000, 0.9174", "that of no quantities"),
}


@pytest.mark.parametrize(("found", "instead", "says"), LEARNT.values(), ids=LEARNT)
def test_what_was_learnt_is_held_to_what_may_be(tmp_path, found, instead, says):
    demos = Path(scenarios.__file__).parent / "demos"
    known = (demos / "calibrated-diver-known.toml").read_text(encoding="utf-8")
    changed, count = re.subn(found, instead, known, count=1, flags=re.M)
    assert count == 1
    (tmp_path / "calibrated-diver-known.toml").write_text(changed, encoding="utf-8")
    (tmp_path / "diver.toml").write_bytes((demos / "calibrated-diver.toml").read_bytes())
    with pytest.raises(ScenarioError, match=says):
        read_file(tmp_path / "diver.toml")
