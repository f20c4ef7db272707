"""Tissue density from fat, weighing or regressions."""

import numpy as np
import pytest

from sim.person.density import siri_density, siri_fat, tissue_density
from sim.person.measures import estimated_measures


def test_siri_by_hand_and_back():
    # 495/1.05 - 450 = 21.43 % fat
    assert siri_fat(1050.0) == pytest.approx(0.2142857142857, rel=1e-12)
    for fat in (0.05, 0.2, 0.45):
        assert siri_fat(siri_density(fat)) == pytest.approx(fat, rel=1e-12)


def test_regressions_by_hand():
    man = tissue_density("male", 1.80, 80.0, 40.0)
    assert man.density == pytest.approx(965.61 + 2571.5 / (80.0 / 3.24) - 0.298 * 40.0, rel=1e-12)
    waist = tissue_density("male", 1.80, 80.0, 40.0, waist=0.90)
    assert waist.density == pytest.approx(1200.30 - 219.92 * 0.90 + 0.722 * 80.0, rel=1e-12)
    assert waist.sd < man.sd
    woman = tissue_density("female", 1.65, 60.0, 21.5)
    assert woman.density == pytest.approx(1128.75 - 3.670 * 60.0 / 1.65**2, rel=1e-12)
    assert not woman.notes


def test_what_is_known_wins_over_estimates():
    fat = tissue_density("female", 1.65, 60.0, 30.0, body_fat=0.25)
    assert fat.density == pytest.approx(siri_density(0.25))
    assert not fat.estimated
    both = tissue_density("female", 1.65, 60.0, 30.0, body_fat=0.25, body_density=1031.0)
    assert both.density == 1031.0
    assert tissue_density("female", 1.65, 60.0, 30.0).estimated


def test_women_beyond_the_measured_range_follow_deurenberg_and_say_so():
    """Deurenberg 1991: 0.23 % fat a year, 1.20 % a unit of BMI (Br J Nutr 65:105)."""
    young, older = (tissue_density("female", 1.65, 60.0, a) for a in (21.5, 51.5))
    assert siri_fat(older.density) - siri_fat(young.density) == pytest.approx(0.0023 * 30.0, rel=1e-9)
    assert older.notes
    assert older.sd > young.sd
    heavy, heavier = (tissue_density("female", 1.60, bmi * 2.56, 21.5) for bmi in (32.0, 36.0))
    assert siri_fat(heavier.density) - siri_fat(heavy.density) == pytest.approx(0.0480, rel=1e-9)


def test_density_falls_with_weight_and_age():
    for sex in ("male", "female"):
        by_mass = [tissue_density(sex, 1.75, m, 35.0).density for m in np.linspace(50.0, 140.0, 40)]
        assert (np.diff(by_mass) <= 0.0).all()
        by_age = [tissue_density(sex, 1.75, 75.0, a).density for a in (20.0, 40.0, 60.0)]
        assert (np.diff(by_age) < 0.0).all()


def test_extrapolation_stops_short_of_bone_and_fat():
    thin = tissue_density("male", 1.80, 15.0 * 3.24, 20.0)
    assert thin.density == pytest.approx(siri_density(0.04))
    assert "state body fat" in thin.notes[0]
    fat = tissue_density("female", 1.60, 58.0 * 2.56, 60.0)
    assert fat.density == pytest.approx(siri_density(0.55))


def test_waist_and_bmi_agree_on_an_average_man():
    waist = estimated_measures("male", 1.76, 78.0, {"age": 40.0}).values()["waistcircumference"]
    by_waist = tissue_density("male", 1.76, 78.0, 40.0, waist=waist)
    by_bmi = tissue_density("male", 1.76, 78.0, 40.0)
    assert by_waist.density == pytest.approx(by_bmi.density, abs=by_bmi.sd)


@pytest.mark.parametrize("bad", [0.0, 0.7, 25.0, float("nan")])
def test_impossible_fat(bad):
    with pytest.raises(ValueError, match="body fat must be 3 to 65 %"):
        tissue_density("male", 1.80, 80.0, 40.0, body_fat=bad)


@pytest.mark.parametrize("bad", [1.05, 900.0, 1200.0, float("nan")])
def test_impossible_density(bad):
    with pytest.raises(ValueError, match="body density must be 950 to 1105"):
        tissue_density("male", 1.80, 80.0, 40.0, body_density=bad)
