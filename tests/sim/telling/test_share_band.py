"""What a share of all people may be: Wilson's band, by his formula."""

from math import sqrt

import pytest

from sim.telling.share_band import share_band


@pytest.mark.parametrize(("passing", "number"), [(0, 10), (3, 10), (10, 10), (57, 128)])
def test_share_band_is_wilsons(passing: int, number: int) -> None:
    z, share = 1.6448536269514722, passing / number  # 95th percentile of a Gaussian
    middle = (share + z * z / (2 * number)) / (1 + z * z / number)
    half = z / (1 + z * z / number) * sqrt(share * (1 - share) / number + z * z / (4 * number**2))
    low, high = share_band(passing, number)
    assert (low, high) == pytest.approx((max(middle - half, 0.0), min(middle + half, 1.0)), abs=1e-9)


def test_nobody_says_nothing_of_the_share() -> None:
    assert share_band(0, 0) == (0.0, 1.0)
