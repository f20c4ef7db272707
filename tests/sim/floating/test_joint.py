import numpy as np
import pytest

from sim.floating.joint import Spring

SPRINGS = [
    Spring(1.4, 1.1, np.zeros(0), np.zeros(0)),
    Spring(-4.8, 0.0, np.array([5.0, -0.02, 9.0]), np.array([-2.0, 2.8, -8.6])),
]


@pytest.mark.parametrize("spring", SPRINGS, ids=["straight", "curved"])
@pytest.mark.parametrize("angle", [-0.3, 0.4, 1.7])
def test_moment_is_what_the_energy_falls_by(spring, angle):
    """Central differences over 1e-5 rad: their own error is 1e-10 of the third derivative."""
    step = 1e-5
    (before, low, _), (after, high, _) = spring.at(angle - step), spring.at(angle + step)
    _, moment, rate = spring.at(angle)
    assert moment == pytest.approx(-(after - before) / (2.0 * step), abs=1e-6)
    assert rate == pytest.approx((high - low) / (2.0 * step), rel=1e-6)
    assert rate < 0.0


def test_a_straight_spring_is_hookes():
    energy, moment, rate = SPRINGS[0].at(0.5)
    assert (moment, rate) == (pytest.approx(1.4 - 1.1 * 0.5), -1.1)
    assert energy - SPRINGS[0].at(0.0)[0] == pytest.approx(0.5 * 1.1 * 0.25 - 1.4 * 0.5)
