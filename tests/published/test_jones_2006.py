"""Jones & Nzekwu 2006, Chest 130:827, 373 people: the heavier, the less gas is left after breathing out (abstract).

"At a BMI of 30 kg/m^2, FRC and ERV were only 75 % and 47 %, respectively, of the values for a lean person with a BMI
of 20"; full lungs stay within normal.
"""

import numpy as np
import pytest

from scenarios.diver import Diver
from sim.answers.evidence.lungs import checks
from sim.assembly.diver import chest_gas
from sim.person.lungs import dry_frc, frc_by_build


def diver(sex, bmi, **more):
    height = 1.78 if sex == "male" else 1.65
    return Diver(sex=sex, height=f"{height} m", mass=f"{bmi * height**2:.6f} kg", age="30 years", **more)


@pytest.mark.parametrize("sex", ["male", "female"])
def test_three_quarters_at_a_bmi_of_thirty(sex):
    assert frc_by_build(sex, 30.0) / frc_by_build(sex, 20.0) == pytest.approx(
        0.75, abs=0.0075
    )  # half the last digit and as much again for "only"
    heavy, lean = (dry_frc(sex, 1.70, bmi * 1.70**2, 40.0) for bmi in (30.0, 20.0))
    assert heavy / lean == pytest.approx(0.75, abs=0.0075)


def test_it_falls_fastest_in_the_overweight_and_never_rises():
    """Their finding: the greatest rates of change are below BMI 30."""
    for sex in ("male", "female"):
        share = np.array([frc_by_build(sex, b) for b in np.linspace(14.0, 60.0, 200)])
        assert (np.diff(share) <= 0.0).all()
        inside = np.array([frc_by_build(sex, b) for b in np.linspace(18.0, 50.0, 65)])
        assert (np.diff(inside, 2) > 0.0).all()
        assert share[0] == share[15]  # BMI 14 to 17.5: held


@pytest.mark.parametrize("method", ["ecsc 1993", "gli 2021"])
@pytest.mark.parametrize("sex", ["male", "female"])
def test_a_divers_chest_follows_its_build_but_for_full_and_empty(sex, method):
    levels = ("relaxed", "mid-breath", "breathed in", "full", "empty")
    heavy, lean = (
        {level: chest_gas(diver(sex, bmi, breathing_level=level, lung_method=method)) for level in levels}
        for bmi in (30.0, 20.0)
    )
    assert heavy["relaxed"] / lean["relaxed"] == pytest.approx(0.75, abs=0.0075)
    lost = lean["relaxed"] - heavy["relaxed"]
    for level in ("mid-breath", "breathed in"):
        assert lean[level] - heavy[level] == pytest.approx(lost, rel=1e-12)
    for level in ("full", "empty"):
        assert heavy[level] == lean[level]
    assert heavy["empty"] < heavy["relaxed"] < heavy["full"]


def test_the_row_told_of_it_passes():
    (check,) = (c for c in checks() if "Jones" in c.source)
    assert all(case.passes for case in check.compute())
