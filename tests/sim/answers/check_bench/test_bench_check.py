"""Measurements made up from the model agree with it; spoilt ones are contradicted by the name of the assumption."""

from __future__ import annotations

import json
import shutil
from types import SimpleNamespace

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.check_bench.answer import bench_told
from sim.answers.check_bench.bench_file import Freeze, read_bench
from sim.answers.check_bench.compare import bench_answer
from sim.answers.check_bench.predicted import lump, modelled, seen
from sim.answers.check_bench.text import bench_text
from sim.case import Case
from sim.commands.main import main

WATER = 998.0  # kg/m^3
SET = ("left cylinder", "air in left cylinder")


@pytest.fixture(scope="module")
def model():
    return modelled(Case.read(demo_path("small-woman-steel")).assembled.rig)


@pytest.fixture(scope="module")
def answered():
    """The same motion for every test that is not about it."""
    return SimpleNamespace(drift="head-down", time_to_30=1.5)


@pytest.fixture
def check(tmp_path, monkeypatch, answered):
    """Answers a text of measurements about the demo diver, by quantity."""
    shutil.copy(demo_path("small-woman-steel"), tmp_path / "diver.toml")
    monkeypatch.setattr("sim.answers.check_bench.compare.turning", lambda rig: answered)

    def run(text, head='[water]\ndensity = "998 kg/m^3"\n'):
        file = tmp_path / "bench.toml"
        file.write_text(f'format = "bench/1"\nscenario = "diver.toml"\n{head}{text}', encoding="utf-8")
        return bench_answer(bench := read_bench(file), Case.read(bench.scenario))

    return run


def item(model, *names, dry=0.0, wet=0.0, along=0.0, end="foot end", spread="+- 0.02"):
    """A bench item as the model predicts it, each number off by so much [kg, kg, m]."""
    it = lump(model, names)
    lines = [
        "[[item]]",
        'name = "thing"',
        f"parts = {json.dumps(list(names))}",
        f'dry_mass = "{it.mass + dry!r} {spread} kg"',
        f'wet_mass = "{it.mass - WATER * it.volume + wet!r} {spread} kg"',
    ]
    if it.balance(end) is not None:
        lines += [f'balance_point = "{100.0 * (it.balance(end) + along)!r} +- 0.5 cm"', f'balance_from = "{end}"']
    return "\n".join(lines) + "\n"


def blamed(answer):
    return {x.quantity: x.assumptions for x in answer.lines if x.verdict == "contradicts"}


@pytest.mark.parametrize("end", ["foot end", "head end", "hips"])
@pytest.mark.parametrize(
    "names", [("plate",), ("left cylinder",), SET, ("left thigh", "left lower leg with foot"), ("left fin",)]
)
def test_what_the_model_itself_predicts_agrees(model, check, names, end):
    answer = check(item(model, *names, end=end) + '[freeze]\ndrift = "head-down"\ntime_to_30 = "1.5 s"\n')
    assert blamed(answer) == {}
    assert len(answer.lines) == 6
    for line in answer.lines:
        if line.measured is not None:
            # the text holds every digit; volume = (dry - wet) / density loses a few
            assert line.measured == pytest.approx(line.model, rel=1e-9, abs=1e-9)


def test_ends_and_balance_point_of_a_plate(model):
    plate = lump(model, ("plate",))
    assert plate.balance("foot end") + plate.balance("head end") == pytest.approx(plate.head_end - plate.foot_end)
    assert 0.3 < plate.head_end - plate.foot_end < 0.42  # a 40 cm plate, lying somewhat aslant
    whole = next(p.solid for p in model.rig.parts if p.name == "plate")
    assert plate.balance("hips") == pytest.approx(whole.cm[0])


def test_together_is_the_weighted_mean(model):
    a, b, both = lump(model, SET[:1]), lump(model, SET[1:]), lump(model, SET)
    assert both.mass == pytest.approx(a.mass + b.mass)
    assert both.volume == pytest.approx(a.volume + b.volume)
    assert both.cm == pytest.approx((a.mass * a.cm + b.mass * b.cm) / both.mass)


def test_a_heavier_item_is_the_mass_not_the_volume(model, check):
    assert blamed(check(item(model, "plate", dry=0.3, wet=0.3))) == {
        "dry mass": ("item mass",),
        "weight in water": ("item mass",),
    }


def test_trapped_air_is_the_volume_not_the_mass(model, check):
    assert blamed(check(item(model, "plate", wet=-0.5))) == {
        "weight in water": ("displaced volume",),
        "displaced volume": ("displaced volume",),
    }


def test_heavier_in_water_than_in_air_is_a_slip_of_the_scale(model, check):
    plate = lump(model, ("plate",))
    answer = check(item(model, "plate", wet=WATER * plate.volume + 0.5))
    (line,) = (x for x in answer.lines if x.quantity == "displaced volume")
    assert line.measured < 0.0
    assert "one of the two readings is wrong" in line.remark


def test_a_lopsided_item_is_the_position(model, check):
    assert blamed(check(item(model, "plate", along=0.03))) == {"balance point from foot end": ("position",)}


@pytest.mark.parametrize(
    ("names", "assumptions"),
    [
        (("trunk with lungs",), ("lung gas", "body density")),
        (("drysuit", "undergarment", "gas in suit"), ("suit gas or garment",)),
    ],
)
def test_a_body_or_a_suit_that_floats_more(model, check, names, assumptions):
    assert blamed(check(item(model, *names, wet=-0.5, end="hips")))["displaced volume"] == assumptions


def test_weighed_in_water_only(model, check):
    plate = lump(model, ("plate",))
    wet = plate.mass - WATER * plate.volume
    answer = check(f'[[item]]\nname = "plate"\nwet_mass = "{wet + 0.5} +- 0.1 kg"\n')
    assert blamed(answer) == {"weight in water": ("item mass", "displaced volume")}
    assert "weigh it dry" in answer.lines[0].remark
    assert blamed(check(f'[[item]]\nname = "plate"\nwet_mass = "{wet + 0.19} +- 0.1 kg"\n')) == {}


@pytest.mark.parametrize(("off", "agrees"), [(0.19, True), (-0.19, True), (0.21, False), (-0.21, False)])
def test_two_spreads_are_the_limit_either_way(model, check, off, agrees):
    mass = lump(model, ("plate",)).mass
    answer = check(f'[[item]]\nname = "plate"\ndry_mass = "{mass + off!r} +- 0.1 kg"\n')
    assert (blamed(answer) == {}) == agrees


def test_a_spread_not_stated_is_assumed_and_said(model, check):
    answer = check(f'[[item]]\nname = "plate"\ndry_mass = "{lump(model, ("plate",)).mass!r} kg"\n')
    assert (answer.lines[0].spread, answer.lines[0].assumed_spread) == (0.05, True)
    assert "Spreads not stated were taken as 0.05 kg" in bench_text(bench_told(answer))


def test_drifting_the_other_way_names_what_no_weighing_has_confirmed(model, check):
    other = '[freeze]\ndrift = "head-up"\n'
    heaviest = max(
        (i for i in model.items if i.kind not in ("body", "suit gas", "wing gas")), key=lambda i: abs(i.moment)
    )
    (line,) = check(other).lines
    assert (line.verdict, line.words) == ("contradicts", ("head-up", "head-down"))
    assert line.assumptions[:3] == ("suit gas or garment", "lung gas", "body density")
    assert heaviest.name in line.remark
    confirmed = check(item(model, heaviest.name) + other).lines[-1]
    assert heaviest.name not in confirmed.remark
    spoilt = check(item(model, heaviest.name, dry=1.0, wet=1.0) + other).lines[-1]
    assert spoilt.assumptions[0] == "item mass"


def test_a_time_that_is_far_off(check):
    answer = check('[freeze]\ndrift = "head-down"\ntime_to_30 = "9 +- 0.5 s"\n')
    assert blamed(answer)["time to 30 degrees"][-1] == "motion"
    assert answer.lines[1].spread == pytest.approx(np.hypot(0.5, 0.3))


def test_a_turn_that_the_model_does_not_make(check, monkeypatch):
    monkeypatch.setattr(
        "sim.answers.check_bench.compare.turning", lambda rig: SimpleNamespace(drift="head-down", time_to_30=None)
    )
    answer = check('[freeze]\ndrift = "head-down"\ntime_to_30 = "9 +- 0.5 s"\n')
    assert list(blamed(answer)) == ["time to 30 degrees"]
    assert "does not turn that far" in bench_text(bench_told(answer))


BALANCED = """
format = "parts/1"
[water]
density = "1000 kg/m^3"
[depth]
pressure = "2 bar"
[[part]]
name = "body"
kind = "body"
mass = "100 kg"
cm = [0.0, 0.0, 0.0]
volume = "100 l"
cb = [{x}, 0.0, 0.01]
inertia = [[2.0, 0.0, 0.0], [0.0, 20.0, 0.0], [0.0, 0.0, 20.0]]
"""


@pytest.mark.parametrize(("x", "verdict"), [(0.008, "cannot tell"), (0.012, "contradicts"), (-0.008, "agrees")])
def test_near_balance_a_drift_cannot_contradict(tmp_path, x, verdict):
    """A body's CB - CM is known to 0.5 cm: 8 mm are less than two such SDs, 12 mm are more."""
    (tmp_path / "body.toml").write_text(BALANCED.format(x=x), encoding="utf-8")
    file = tmp_path / "bench.toml"
    file.write_text('format = "bench/1"\nscenario = "body.toml"\n[freeze]\ndrift = "head-down"\n', encoding="utf-8")
    answer = bench_answer(bench := read_bench(file), Case.read(bench.scenario))
    assert answer.lines[0].verdict == verdict
    assert answer.lines[0].words == ("head-down", "head-up" if x > 0 else "head-down")


def test_what_an_onlooker_sees():
    t = np.linspace(0.0, 20.0, 81)
    steady = seen(SimpleNamespace(path=SimpleNamespace(time=t, pitch=-0.1 * t)))
    assert steady.drift == "head-down"
    assert steady.time_to_30 == pytest.approx(np.radians(30.0) / 0.1)
    rocks = seen(SimpleNamespace(path=SimpleNamespace(time=t, pitch=np.radians(4.0) * np.sin(t))))
    assert (rocks.drift, rocks.time_to_30) == ("none", None)
    leans = seen(SimpleNamespace(path=SimpleNamespace(time=t, pitch=np.radians(20.0) * (1.0 - np.exp(-t)))))
    assert (leans.drift, leans.time_to_30) == ("head-up", None)


@pytest.mark.parametrize(
    ("text", "head", "message"),
    [
        ("", "", "nothing was measured"),
        ('[[item]]\nname = "plate"\n', "", "nothing was measured: give dry_mass"),
        ('[[item]]\nname = "plate"\nwet_mass = "2 kg"\n', "", "water of the wet weighing is missing"),
        (
            '[[item]]\nname = "plat"\ndry_mass = "2 kg"\n',
            "",
            'bench.toml:4: item.0.name: the model has no part "plat"; did',
        ),
        ('[[item]]\nname = "x"\nparts = ["plate", "pltae"]\ndry_mass = "2 kg"\n', "", "bench.toml:5: item.0.parts.1"),
        ('[[item]]\nname = "x"\nparts = ["plate", "plate"]\ndry_mass = "2 kg"\n', "", "named twice"),
        ('[[item]]\nname = "plate"\ndry_mass = 2\n', "", "has no unit"),
        ('[[item]]\nname = "plate"\ndry_mass = "2 cm"\n', "", "is a unit of length"),
        ('[[item]]\nname = "plate"\ndry_mas = "2 kg"\n', "", "dry_mass"),
        ('[[item]]\nname = "plate"\nbalance_point = "2 cm"\nbalance_from = "top"\n', "", "head end"),
        ('[[item]]\nname = "gas in suit"\nbalance_point = "2 cm"\n', "", "knows no shape"),
        ('[freeze]\ndrift = "down"\n', "", "head-down"),
    ],
)
def test_input_that_cannot_be_used(check, text, head, message):
    with pytest.raises(ScenarioError) as wrong:
        check(text, head)
    assert message in str(wrong.value)
    assert "bench.toml" in str(wrong.value)


def test_a_scenario_that_is_not_there(tmp_path, capsys):
    file = tmp_path / "bench.toml"
    file.write_text('format = "bench/1"\nscenario = "nobody.toml"\n[freeze]\ndrift = "none"\n', encoding="utf-8")
    assert main(["check-bench", str(file)]) == 2
    assert "nobody.toml: there is no such file" in capsys.readouterr().err


FILLED = {
    'scenario = ""': 'scenario = "student.toml"', 'kind = ""': 'kind = "fresh"',
    'temperature = ""': 'temperature = "20 °C"', 'measured_on = ""': 'measured_on = "2025-05-31"',
    'drift = ""': 'drift = "head-down"',
    'times_to_30 = ["", "", "", "", ""]': 'times_to_30 = ["1.5 s", "1.8 s", "1.2 s", "1.6 s", "1.4 s"]',
}  # fmt: skip


def filled(template):
    """The template with the freeze test filled in and everything else deleted that is still blank."""
    for blank, value in FILLED.items():
        template = template.replace(blank, value)
    kept = template[: template.index("# 1. Neutral float")] + template[template.index("[freeze]") :]
    return "\n".join(line for line in kept[: kept.index("# 4. At home")].splitlines() if '= ""' not in line) + "\n"


def test_an_untouched_template_is_refused_line_by_line(tmp_path, capsys):
    file = tmp_path / "bench.toml"
    assert main(["check-bench", "--template", str(file)]) == 0
    blanks = [n for n, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1) if '""' in line[:40]]
    capsys.readouterr()
    assert main(["check-bench", str(file)]) == 2
    err = capsys.readouterr().err
    for number in blanks[1:10]:
        assert f"bench.toml:{number}: " in err
    assert err.count("still blank") == 10


def test_template_can_be_filled_in_and_told(tmp_path, capsys):
    """Written, filled in, read, all the way through the command; a blank put back is refused again."""
    shutil.copy(demo_path("small-woman-steel"), tmp_path / "student.toml")
    file = tmp_path / "bench.toml"
    assert main(["check-bench", "--template", str(file)]) == 0
    assert main(["check-bench", "--template", str(file)]) == 2
    assert "is there already" in capsys.readouterr().err
    file.write_text(filled(file.read_text(encoding="utf-8")), encoding="utf-8")
    assert main(["check-bench", str(file), "--json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    told = json.loads(out)
    assert told["format"] == "hangflat.check-bench/1"
    assert [(line["quantity"], line["measured"]) for line in told["lines"]] == [
        ("drift", "head-down"), ("time to 30 degrees", pytest.approx(1.5)),
    ]  # fmt: skip
    bench = read_bench(file)
    assert max(map(len, bench_text(bench_told(bench_answer(bench, Case.read(bench.scenario)))).splitlines())) <= 100
    file.write_text(file.read_text(encoding="utf-8").replace('"1.2 s"', '""'), encoding="utf-8")
    assert main(["check-bench", str(file)]) == 2
    assert "freeze.times_to_30.2: still blank" in capsys.readouterr().err


def test_the_mean_of_several_tries_has_the_spread_of_a_mean():
    """Five numbers with SD 1 by hand: their mean has 1/sqrt(5); one try alone has the reading's."""
    tries = [f"{t} s" for t in (2.0, 3.0, 4.0, 3.0 - 2.0**0.5 / 2.0, 3.0 + 2.0**0.5 / 2.0)]
    freeze = Freeze.model_validate({"drift": "head-up", "times_to_30": tries})
    assert freeze.time == pytest.approx(3.0)
    assert freeze.time_spread(0.5) == (pytest.approx(np.sqrt(3.0 / 4.0 / 5.0)), False)
    assert Freeze.model_validate({"drift": "head-up", "time_to_30": "2 s"}).time_spread(0.5) == (0.5, True)
    assert Freeze.model_validate({"drift": "head-up", "time_to_30": "2 +- 0.1 s"}).time_spread(0.5) == (0.1, False)


@pytest.mark.parametrize("words", [[], ["a.toml", "--template", "b.toml"]])
def test_one_thing_at_a_time(words, capsys):
    assert main(["check-bench", *words]) == 2
    assert "--template OUT.toml" in capsys.readouterr().err


def test_a_freeze_test_whose_depth_is_told_was_done_in_the_pool(tmp_path):
    """Lead that floats 2.5 % more in fresh water changes the wing's gas, and with it what turns the diver."""
    from scenarios.reading import read_scenario
    from sim.answers.check_bench.bench_file import read_bench
    from sim.answers.check_bench.readings import Pool, readings_of

    text = (
        'format = "bench/1"\nscenario = "diver.toml"\n[water]\nkind = "fresh"\ntemperature = "27 °C"\n'
        '[freeze]\ndrift = "head-down"\n'
    )
    (tmp_path / "diver.toml").write_text(demo_path("small-woman-steel").read_text(encoding="utf-8"), encoding="utf-8")
    densities = []
    for more in ("", 'depth = "3 m"\n'):
        (tmp_path / "pool.toml").write_text(text + more, encoding="utf-8")
        file = read_bench(tmp_path / "pool.toml")
        pool = Pool(read_scenario(file.scenario))
        (reading,) = readings_of(file, pool)
        densities.append(pool.rig(reading.situation).water.density)
    assert densities[0] > 1020.0
    assert densities[1] < 1000.0
