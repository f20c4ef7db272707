"""Neoprene under pressure: limits in closed form."""

import math

import pytest
from scipy.constants import atm

from sim.foam import gas_share, thickness_ratio


@pytest.mark.parametrize("pressure", [0.8e5, 2e5, 6e5])
def test_without_walls_the_gas_obeys_boyle(pressure):
    assert thickness_ratio(pressure, 0.86, 0.0) == pytest.approx(1.0 - 0.86 * (1.0 - atm / pressure), rel=1e-12)


@pytest.mark.parametrize("stiffness", [0.0, 1e3, 1e5, 3e6])
@pytest.mark.parametrize("pressure", [0.8e5, 1.5e5, 4e5, 1e6])
def test_walls_and_gas_together_carry_the_pressure(pressure, stiffness):
    share = 0.7
    strain = 1.0 - thickness_ratio(pressure, share, stiffness)
    carried = atm / (1.0 - strain / share) + stiffness * strain
    assert carried == pytest.approx(pressure, rel=1e-10)


def test_unsqueezed_at_the_reference_and_never_thinner_than_its_rubber():
    assert thickness_ratio(atm, 0.86) == pytest.approx(1.0, rel=1e-14)
    assert thickness_ratio(1e12, 0.86) == pytest.approx(0.14, abs=1e-6)
    assert thickness_ratio(4e5, 0.0) == 1.0


def test_gas_share_of_common_foam():
    assert gas_share(180.0, 1300.0) == pytest.approx(1.0 - 180.0 / 1300.0, rel=1e-15)


@pytest.mark.parametrize(
    "call",
    [
        lambda: gas_share(0.0),
        lambda: gas_share(1400.0),
        lambda: gas_share(math.nan),
        lambda: thickness_ratio(1e5, 1.0),
        lambda: thickness_ratio(1e5, math.nan),
        lambda: thickness_ratio(0.0, 0.5),
        lambda: thickness_ratio(math.nan, 0.5),
        lambda: thickness_ratio(1e5, 0.5, -1.0),
    ],
)
def test_nonsense_is_refused(call):
    with pytest.raises(ValueError, match=r"must"):
        call()
