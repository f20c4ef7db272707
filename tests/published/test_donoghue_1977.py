"""Donoghue & Minnigerode 1977, J Forensic Sci 22:573: which of 98 men float, at which lung volume (abstract).

At FRC 69 % float in the sea, 7 % in fresh water; with full lungs all. The accepted bands take in men built like
Penrose's sample (BMI 25.4, 22 to 81 years), who are fatter: 87 and 28 % with the lungs of their build.
"""

import numpy as np
import pytest

from sim.answers.evidence.lungs import checks
from sim.person.density import tissue_density
from sim.person.lungs import frc_by_build, gli_2021

SEA, FRESH = 1025.0, 998.0
OF_98 = 0.05 ** (1.0 / 98.0)  # 97 %: all of 98 floating, at 95 % confidence (Clopper & Pearson 1934)


@pytest.fixture(scope="module")
def men():
    """Stature, mass, age and density of 2000 men, densities with their scatter."""
    rng = np.random.default_rng(4)
    n = 2000
    stature = np.clip(rng.normal(1.78, 0.067, n), 1.60, 1.95)
    mass = 25.4 * np.exp(0.13 * rng.standard_normal(n)) * stature**2
    age = np.clip(rng.normal(45.0, 12.6, n), 22.0, 70.0)
    tissue = [tissue_density("male", *man) for man in zip(stature, mass, age, strict=True)]
    density = np.array([t.density for t in tissue]) + tissue[0].sd * np.clip(rng.standard_normal(n), -2.5, 2.5)
    return stature, mass, age, density, np.clip(rng.standard_normal(n), -2.0, 2.0)


def floating(men, volume, water, *, scattered):
    stature, mass, age, density, z = men
    rows = zip(stature, age, z * scattered, strict=True)
    gas = np.array([gli_2021(volume, "male", s, a, w) for s, a, w in rows])
    if volume == "FRC":
        gas *= np.array([frc_by_build("male", b) for b in mass / stature**2])
    return float(np.mean(mass / (mass / density + gas) < water))


def test_who_floats(men):
    """Lungs by the build, and scattered as people's are: lungs alike in all would make the many in between float."""
    assert 0.65 <= floating(men, "FRC", SEA, scattered=1.0) <= 0.90
    assert 0.05 <= floating(men, "FRC", FRESH, scattered=1.0) <= 0.35
    for scattered in (0.0, 1.0):
        assert floating(men, "TLC", FRESH, scattered=scattered) >= OF_98
        assert floating(men, "TLC", SEA, scattered=scattered) == 1.0


def test_with_median_lungs_all_float_when_full(men):
    assert floating(men, "TLC", FRESH, scattered=0.0) > 0.9985  # densities scatter to 2.5 SD: up to 3 men of 2000


def test_the_rows_told_of_it_pass():
    rows = [c for c in checks() if "float" in c.name]
    assert len(rows) == 3
    for check in rows:
        assert all(case.passes for case in check.compute()), check.name
