"""Parts files: only what was stated with a spread, against the band by hand."""

from pathlib import Path

import numpy as np
import pytest

from sim.case import Case
from sim.uncertainty.uncertain_settle import uncertain_settle

NINETY = 1.6448536269514722  # SDs from the middle to the 95th percentile of a Gaussian, tables

RIG = """\
format = "parts/1"
[water]
density = "1025 kg/m^3"
gravity = "9.81 m/s^2"
[depth]
pressure = "2.5 bar"
held = [0.02, 0.0, 0.01]
[[part]]
name = "body"
kind = "body"
mass = "84 kg"
cm = [0.0, 0.0, 0.0]
volume = "83 l"
cb = [0.012, 0.0, 0.03]
[[part]]
name = "lead"
kind = "lead"
mass = "MASS"
cm = [-0.38, 0.0, -0.1]
volume = "0.18 l"
cb = [-0.38, 0.0, -0.1]
"""
QUANTILE = 0.03  # of the SD, as for every band of 1024 Sobol' points


def file_of(folder: Path, mass: str) -> Path:
    path = folder / "rig.toml"
    path.write_text(RIG.replace("MASS", mass), encoding="utf-8")
    return path


def test_lead_weighed_with_a_spread_gives_the_band_by_hand(tmp_path):
    answer = uncertain_settle(Case.read(file_of(tmp_path, "2 +- 0.1 kg")))
    arm = -0.38 - 0.02  # headward of the held point
    sd = 9.81 * 0.1 * abs(arm)
    body = -9.81 * (84.0 * (0.0 - 0.02) - 1025.0 * 0.083 * (0.012 - 0.02))
    told = body - 9.81 * (2.0 - 1025.0 * 0.18e-3) * arm
    assert answer.moment.told == pytest.approx(told, abs=1e-9)
    assert answer.moment.low == pytest.approx(told - NINETY * sd, abs=QUANTILE * sd)
    assert answer.moment.high == pytest.approx(told + NINETY * sd, abs=QUANTILE * sd)
    (lead,) = answer.unknowns
    assert lead.name == "part.1.mass"
    assert lead.share == pytest.approx(1.0)
    assert lead.band_saved == pytest.approx(1.0)


def test_a_file_without_spreads_is_sure_and_says_why(tmp_path):
    answer = uncertain_settle(Case.read(file_of(tmp_path, "2 kg")), samples=8)
    assert answer.moment.low == answer.moment.high == answer.moment.told
    assert answer.unknowns == ()
    assert "stated with a spread" in answer.notes[0]


def test_the_number_of_workers_changes_nothing(tmp_path):
    path = file_of(tmp_path, "2 +- 0.1 kg")
    one, two = (uncertain_settle(Case.read(path), samples=64, workers=n) for n in (1, 2))
    for name in ("moment", "stiffness", "wing_gas", "pitch"):
        assert np.array_equal(getattr(one.draws, name), getattr(two.draws, name))
    assert one.unknowns == two.unknowns


def test_the_work_is_told_as_it_goes_to_its_end(tmp_path):
    path, heard = file_of(tmp_path, "2 +- 0.1 kg"), []
    uncertain_settle(Case.read(path), samples=8, done=heard.append)
    assert heard == sorted(heard)
    assert heard[-1] == pytest.approx(1.0)
