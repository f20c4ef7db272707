"""Siri 1961, Techniques for Measuring Body Composition: fat percent = 495/(g/cm^3) - 450, to four decimals."""

import pytest

from sim.person.density import siri_density, siri_fat


@pytest.mark.parametrize(("fat", "density"), [(0.10, 1.0761), (0.20, 1.0532), (0.30, 1.0313), (0.40, 1.0102)])
def test_siri_to_the_rounding_of_a_printed_table(fat, density):
    # half the last digit, and a little: 30 % is printed 1.0313 for 1.03125
    assert siri_density(fat) / 1000.0 == pytest.approx(density, abs=0.6e-4)
    assert siri_fat(1000.0 * density) == pytest.approx(fat, abs=3e-4)  # 0.6e-4 of density is 0.03 % of fat
