"""The JSON contract: its fields, their names and units, and their agreement with the mechanics."""

import json
import math
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from sim.answers.settle.report import report_of
from sim.answers.settle.told import settle_answer
from sim.case import Case
from sim.telling.caution import CAUTION
from sim.telling.record import as_json

PARTS = """
format = "parts/1"
[water]
density = "1025 kg/m^3"
gravity = "9.81 m/s^2"
[depth]
pressure = "252153.75 Pa"
held = [0.02, 0.0, 0.01]
[[part]]
name = "body"
kind = "body"
mass = "84 kg"
cm = [0.0, 0.0, 0.0]
volume = "78 l"
cb = [0.012, 0.0, 0.03]
[[part]]
name = "lead"
kind = "lead"
mass = "2 kg"
cm = [-0.1, 0.0, -0.1]
volume = "0.18 l"
cb = [-0.1, 0.0, -0.1]
[wing]
gas = "neutral"
softness = "300 Pa"
cells = [
  { at = [-0.1, 0.1, 0.1], most = "3 l" }, { at = [-0.1, -0.1, 0.1], most = "3 l" },
  { at = [0.2, 0.1, 0.1], most = "3 l" }, { at = [0.2, -0.1, 0.1], most = "3 l" },
]
"""
# names exactly as other programs read them
CONTRACT = {
    "water": {"density_kg_m3", "gravity_m_s2", "pressure_pa"},
    "whole": {"mass_kg", "volume_l", "net_buoyancy_kg", "wing_gas_l", "suit_gas_l", "cm_m", "cb_m"},
    "flat": {"pitch_moment_nm", "roll_moment_nm", "pitch_stiffness_nm_per_rad", "roll_stiffness_nm_per_rad"},
    "held": {"pitch_deg", "stable"},
    "rest": {"pitch_deg", "roll_deg", "up", "kind", "energy_j", "wing_gas_l", "net_buoyancy_kg"},
    "settled": {"pitch_deg", "roll_deg", "time_s", "reached", "roll"},
    "items": {"name", "kind", "mass_kg", "volume_l", "apparent_weight_kg", "arm_m", "moment_nm"},
}


@pytest.fixture(scope="module")
def parts_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("parts") / "rig.toml"
    path.write_text(PARTS, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def told(parts_file: Path):
    return json.loads(json.dumps(as_json(settle_answer(report_of(Case.read(parts_file).assembled))), allow_nan=False))


def test_every_field_of_the_contract_is_there(told):
    assert told["format"] == "hangflat.settle/1"
    assert told["caution"] == CAUTION
    assert isinstance(told["estimated"], list)
    assert isinstance(told["notes"], list)
    assert told["indifferent"] is False
    for table, names in CONTRACT.items():
        entries = told[table] if isinstance(told[table], list) else [told[table]]
        assert entries
        for entry in entries:
            assert names <= set(entry), table


def test_numbers_by_hand(told):
    """Wing gas, mass, volume, centres and the flat moment of the parts file above, worked out here anew."""
    rho, g, held = 1025.0, 9.81, np.array([0.02, 0.0, 0.01])
    wing = (86.0 - rho * 78.18e-3) / rho
    assert told["whole"]["wing_gas_l"] == pytest.approx(1e3 * wing, rel=1e-9)
    assert told["whole"]["mass_kg"] == pytest.approx(86.0, rel=1e-12)
    assert told["whole"]["volume_l"] == pytest.approx(1e3 * 86.0 / rho, rel=1e-9)
    assert told["whole"]["cm_m"] == pytest.approx([-0.2 / 86.0, 0.0, -0.2 / 86.0], abs=1e-12)
    # four cells at one height are filled alike when flat: the gas sits at x = 0.05, z = 0.1
    first = (
        78e-3 * np.array([0.012, 0.0, 0.03]) + 0.18e-3 * np.array([-0.1, 0.0, -0.1]) + wing * np.array([0.05, 0, 0.1])
    )
    cb = first * rho / 86.0
    assert told["whole"]["cb_m"] == pytest.approx(list(cb), abs=1e-9)
    weight = 84.0 * (0.0 - held[0]) + 2.0 * (-0.1 - held[0])
    lift = rho * (78e-3 * (0.012 - held[0]) + 0.18e-3 * (-0.1 - held[0]) + wing * (0.05 - held[0]))
    assert told["flat"]["pitch_moment_nm"] == pytest.approx(g * (lift - weight), abs=1e-7)
    assert told["flat"]["roll_moment_nm"] == pytest.approx(0.0, abs=1e-9)


def test_items_add_up(told):
    items = told["items"]
    assert {i["kind"] for i in items} == {"body", "lead", "wing gas"}
    assert sum(i["mass_kg"] for i in items) == pytest.approx(told["whole"]["mass_kg"], rel=1e-12)
    assert sum(i["volume_l"] for i in items) == pytest.approx(told["whole"]["volume_l"], rel=1e-12)
    assert sum(i["moment_nm"] for i in items) == pytest.approx(told["flat"]["pitch_moment_nm"], abs=1e-9)


def test_rests_are_in_order_and_say_one_attitude_in_two_ways(told):
    rests = told["rest"]
    assert [r["energy_j"] for r in rests] == sorted(r["energy_j"] for r in rests)
    assert {r["kind"] for r in rests} <= {"stable", "saddle", "unstable"}
    for r in rests:
        p, q = math.radians(r["pitch_deg"]), math.radians(r["roll_deg"])
        up = [math.sin(p), math.cos(p) * math.sin(q), math.cos(p) * math.cos(q)]
        assert r["up"] == pytest.approx(up, abs=1e-12)
        assert abs(r["net_buoyancy_kg"]) < 1e-9


def test_settled_ends_at_a_stable_rest(told, parts_file):
    held = [h["pitch_deg"] for h in told["held"] if h["stable"]]
    assert told["settled"]["roll"] == "held"
    assert min(abs(told["settled"]["pitch_deg"] - p) for p in held) < 0.05  # the bound settling is held to
    free = settle_answer(report_of(Case.read(parts_file).assembled, roll="free")).settled
    assert free is not None
    assert free.roll_rule == "free"
    assert free.reached


@pytest.mark.parametrize("name", ["small-woman-steel", "single-wetsuit"])
def test_a_scenario_keeps_the_contract_too(name):
    path = Path(str(files("scenarios").joinpath("demos", f"{name}.toml")))
    told = json.loads(json.dumps(as_json(settle_answer(report_of(Case.read(path).assembled))), allow_nan=False))
    assert sum(i["mass_kg"] for i in told["items"]) == pytest.approx(told["whole"]["mass_kg"], rel=1e-12)
    assert sum(i["moment_nm"] for i in told["items"]) == pytest.approx(told["flat"]["pitch_moment_nm"], abs=1e-8)
    assert told["estimated"]
    assert -90.0 <= told["settled"]["pitch_deg"] <= 90.0
    assert any(i["kind"] == "breathing gas" for i in told["items"])
