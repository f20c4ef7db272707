"""Added mass: limits, invariance, assembly about a point."""

import numpy as np
import pytest
from scipy.integrate import quad

from sim.settling.added_mass import added_mass, cross_matrix, ellipsoid_coefficients
from sim.settling.extent import Extent

SHAPES = [
    Extent(np.array([0.3, 0.1, -0.2]), np.eye(3), np.array([0.4, 0.15, 0.1])),
    Extent(np.array([-0.5, 0.0, 0.1]), np.eye(3)[[1, 2, 0]], np.array([0.5, 0.1, 0.1])),
]


def test_against_quadrature_of_lambs_integral():
    semi = np.array([0.5, 0.3, 0.1])

    def integrand(x, i):
        return 1.0 / ((semi[i] ** 2 + x) * np.sqrt(np.prod(semi**2 + x)))

    alpha = np.array([semi.prod() * quad(integrand, 0.0, np.inf, args=(i,), epsabs=0.0)[0] for i in range(3)])
    assert alpha.sum() == pytest.approx(2.0, rel=1e-8)
    along, _ = ellipsoid_coefficients(semi)
    assert along == pytest.approx(alpha / (2.0 - alpha), rel=1e-7)  # quad's own goal is 1.5e-8


def test_a_thin_disk_carries_eight_thirds_rho_a_cubed():
    a, c = 0.3, 1e-5
    along, _ = ellipsoid_coefficients(np.array([a, a, c]))
    carried = along[2] * 4.0 / 3.0 * np.pi * a * a * c
    assert carried == pytest.approx(8.0 / 3.0 * a**3, rel=1e-4)  # first order in c/a


def test_nearly_round_joins_round():
    # about the axis of near symmetry the coefficient goes as the square of the difference
    _, about = ellipsoid_coefficients(np.array([3.0, 1.0, 1.0 - 1e-3]))
    assert 0.0 < about[0] < 1e-5
    assert ellipsoid_coefficients(np.array([3.0, 1.0, 1.0 - 1e-7]))[1][0] == 0.0


def test_kinetic_energy_of_the_water_does_not_depend_on_the_reference_point():
    omega, v = np.array([0.3, -0.7, 0.2]), np.array([0.1, 0.4, -0.6])

    def energy(point):
        water = added_mass(SHAPES, point, 1025.0)
        velocity = v + np.cross(omega, point)
        return 0.5 * (
            omega @ water.rotation @ omega
            + 2.0 * omega @ water.coupling @ velocity
            + velocity @ water.translation @ velocity
        )

    assert energy(np.array([0.2, -0.1, 0.5])) == pytest.approx(energy(np.zeros(3)), rel=1e-12)


def test_a_small_ball_far_out_adds_half_its_water_at_its_lever():
    ball = Extent(np.array([2.0, 0.0, 0.0]), np.eye(3), np.full(3, 0.1))
    water = added_mass([ball], np.zeros(3), 1000.0)
    half = 0.5 * 1000.0 * ball.volume
    assert water.rotation == pytest.approx(half * 4.0 * np.diag([0.0, 1.0, 1.0]), rel=1e-12, abs=1e-12)
    assert water.translation == pytest.approx(half * np.eye(3), rel=1e-12)


def test_cross_matrix():
    a, b = np.array([1.0, 2.0, 3.0]), np.array([-0.5, 0.25, 4.0])
    assert cross_matrix(a) @ b == pytest.approx(np.cross(a, b), rel=1e-15)


@pytest.mark.parametrize("semi", [[1.0, 1.0, 0.0], [1.0, -1.0, 1.0], [1.0, np.nan, 1.0], [1.0, 1.0]])
def test_nonsense_is_refused(semi):
    with pytest.raises(ValueError, match="semi-axes"):
        ellipsoid_coefficients(np.array(semi))
