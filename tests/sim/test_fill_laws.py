"""Fill laws: slope and energy against finite differences, limits, and what is refused."""

import numpy as np
import pytest

from sim.fill_laws import garment_law, logistic_law

LOGISTIC = logistic_law([0.0, 1e-4], [3e-4, 5e-4], 300.0)
GARMENT = garment_law([3e-4, 6e-4], [1e-4, 0.5e-4], 700.0)
TAUT = garment_law([3e-4, 6e-4], [1e-4, 0.5e-4], 700.0, [900.0, -400.0])
LAWS = [LOGISTIC, GARMENT, TAUT]
GRID = np.linspace(-6000.0, 6000.0, 241)[:, None] + 0.37  # off the joint at zero


@pytest.mark.parametrize("law", LAWS)
def test_slope_is_the_derivative_of_volume(law):
    step = 0.05  # Pa: the second-order error (step/scale)^2/6 is below 1e-8 of the largest slope
    numeric = (law.volume(GRID + step) - law.volume(GRID - step)) / (2.0 * step)
    assert np.abs(numeric - law.slope(GRID)).max() < 1e-7 * law.slope(GRID).max()


@pytest.mark.parametrize("law", LAWS)
def test_energy_is_the_work_of_the_pressure_difference(law):
    """dE = Delta dV: integrated by Gauss-Legendre between far apart states, on each side of the joints."""
    nodes, weights = np.polynomial.legendre.leggauss(80)
    for low, high in ((-5000.0, -900.0), (-900.0, 0.0), (0.0, 400.0), (400.0, 1900.0)):
        at = (0.5 * (high - low) * nodes + 0.5 * (high + low))[:, None]
        work = 0.5 * (high - low) * weights @ (at * law.slope(at))
        gained = law.energy(np.array([[high]])) - law.energy(np.array([[low]]))
        np.testing.assert_allclose(gained[0], work, rtol=1e-9)  # 80 nodes leave less than 1e-10


def test_garment_follows_van_wyk_when_squeezed():
    """p = K (1/h^3 - 1/h0^3) with h/h0 = V/V0 and K/h0^3 = stiffness."""
    squeeze = np.array([[100.0], [1000.0], [5000.0]])
    ratio = GARMENT.volume(-squeeze) / GARMENT.loft
    np.testing.assert_allclose(
        GARMENT.stiffness * (ratio**-3 - 1.0), np.broadcast_to(squeeze, ratio.shape), rtol=1e-12
    )


def test_a_taut_shell_holds_the_same_garment_until_the_water_squeezes_harder():
    """Under a shell that keeps 900 Pa on it, the garment of 3e-4 m^3 is (1 + 900/700)^(-1/3) as thick until the water
    adds more; from there on it is as thick as without a shell, van Wyk's law knowing of no shell."""
    free = garment_law([3e-4], [1e-4], 700.0)
    taut = garment_law(free.volume(np.array([[-900.0]]))[0], [1e-9], 700.0, [900.0])
    beyond = np.array([[-900.0], [-1500.0], [-6000.0]])
    np.testing.assert_allclose(taut.volume(beyond), free.volume(beyond), rtol=1e-12)
    within = np.array([[-800.0], [0.0], [3000.0]])
    np.testing.assert_allclose(taut.volume(within), np.full((3, 1), taut.loft[0]), rtol=1e-5)  # 1e-9 m^3 of slack


def test_what_presses_from_outside_adds_to_the_squeeze():
    pressed, free = garment_law([3e-4], [1e-4], 700.0, [-400.0]), garment_law([3e-4], [1e-4], 700.0)
    np.testing.assert_allclose(pressed.volume(GRID), free.volume(GRID - 400.0), rtol=1e-12)


def test_garment_is_smooth_where_squeezed_meets_blown():
    either_side = np.array([[-1e-6], [1e-6]])
    for of in (GARMENT.volume, GARMENT.slope):
        below, above = of(either_side)
        np.testing.assert_allclose(below, above, rtol=1e-8)  # 1e-6 Pa over 700 Pa


@pytest.mark.parametrize("law", LAWS)
def test_stiffer_fabric_has_the_same_volumes_at_more_pressure(law):
    np.testing.assert_allclose(law.stiffened(3.0).volume(3.0 * GRID), law.volume(GRID), rtol=1e-12)


def test_bags_end_taut_and_empty():
    for law in (LOGISTIC, GARMENT):
        np.testing.assert_allclose(law.volume(np.full((1, 2), 1e6))[0], law.most, rtol=1e-12)
    np.testing.assert_allclose(LOGISTIC.volume(np.full((1, 2), -1e6))[0], LOGISTIC.least, atol=1e-18)


@pytest.mark.parametrize(
    ("make", "arguments"),
    [
        (logistic_law, ([1e-3], [0.5e-3], 300.0)),
        (logistic_law, ([-1e-3], [0.5e-3], 300.0)),
        (logistic_law, ([0.0], [np.nan], 300.0)),
        (logistic_law, ([0.0], [1e-3], np.nan)),
        (garment_law, ([0.0], [1e-3], 300.0)),
        (garment_law, ([1e-3], [1e-3], 0.0)),
    ],
)
def test_impossible_bags_are_refused(make, arguments):
    with pytest.raises(ValueError, match=r"needs|must"):
        make(*arguments)
