"""Pressure and input guards; the densities are checked against published tables in tests/published."""

import math

import pytest

from sim.water import density, gravity, pressure


def test_pressure_is_the_hydrostatic_law():
    assert pressure(15.0, 1025.0, 9.81, 101325.0) == pytest.approx(101325.0 + 1025.0 * 9.81 * 15.0, rel=1e-15)


def test_gravity_of_grs80():
    # Moritz 2000 (GRS 80): 9.7803267715 at the equator, 9.8321863685 at the poles; gsw's formula keeps 1e-6
    assert gravity(0.0) == pytest.approx(9.7803267715, abs=2e-6)
    assert gravity(90.0) == pytest.approx(9.8321863685, abs=2e-6)
    assert gravity(-37.0) == gravity(37.0)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: density(-1.0, 283.15), "salinity"),
        (lambda: density(math.nan, 283.15), "salinity"),
        (lambda: density(35.0, 10.0), "temperature"),
        (lambda: density(35.0, math.nan), "temperature"),
        (lambda: density(35.0, 283.15, -1.0), "pressure"),
        (lambda: gravity(91.0), "latitude"),
        (lambda: gravity(math.nan), "latitude"),
        (lambda: pressure(-1.0, 1025.0, 9.81), "depth"),
        (lambda: pressure(math.nan, 1025.0, 9.81), "depth"),
        (lambda: pressure(1.0, math.nan, 9.81), "density"),
    ],
)
def test_nonsense_is_refused(call, words):
    with pytest.raises(ValueError, match=words):
        call()
