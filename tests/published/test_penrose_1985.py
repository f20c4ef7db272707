"""Penrose, Nelson & Fisher 1985, Med Sci Sports Exerc 17:189: densities of men weighed under water.

248 of the 252 men of the public data set (four gross errors left out): mean 1.055, SD 0.019 g/cm^3, 5th to 95th
percentile 1.026 to 1.085. The model's regressions were fitted to these men.
"""

import numpy as np
import pytest

from sim.answers.evidence.lungs import checks
from sim.person.density import tissue_density


def test_sample_of_men_has_the_density_of_men():
    """Men of the Penrose sample (n = 248, 22 to 81 years, mean BMI 25.4): mean 1.055, 5th to 95th 1.026 to 1.085."""
    rng = np.random.default_rng(8)
    n = 4000
    bmi, age = 25.4 * np.exp(0.13 * rng.standard_normal(n)), np.clip(rng.normal(45.0, 12.6, n), 22.0, 81.0)
    made = [tissue_density("male", 1.78, b * 1.78**2, a) for b, a in zip(bmi, age, strict=True)]
    density = np.array([e.density + e.sd * rng.standard_normal() for e in made])
    assert density.mean() == pytest.approx(1055.0, abs=4.0)
    assert np.percentile(density, 5) == pytest.approx(1026.0, abs=6.0)
    assert np.percentile(density, 95) == pytest.approx(1085.0, abs=6.0)


def test_the_row_told_of_them_passes():
    (check,) = [c for c in checks() if c.source.startswith("Penrose")]
    assert all(case.passes for case in check.compute())
