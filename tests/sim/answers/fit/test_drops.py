"""Bands of drop that meet every demand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.answers.fit.drops import DropBand, feasible_drops

DROPS = np.linspace(-0.02, 0.10, 7)


def test_two_straight_demands_leave_the_band_between_their_zeros() -> None:
    """Look-ahead from 3 cm on, reach up to 5 cm."""
    (band,) = feasible_drops(DROPS, {"look-ahead": DROPS - 0.03, "reach": 0.05 - DROPS})
    assert (band.least, band.greatest) == pytest.approx((0.03, 0.05), abs=1e-12)


def test_demands_that_shut_each_other_out_leave_nothing() -> None:
    assert feasible_drops(DROPS, {"look-ahead": DROPS - 0.05, "reach": 0.03 - DROPS}) == ()


def test_without_demands_every_drop_will_do() -> None:
    assert feasible_drops(DROPS, {}) == (DropBand(-0.02, 0.10),)


def test_a_demand_met_twice_gives_two_bands() -> None:
    bands = feasible_drops([0.0, 1.0, 2.0, 3.0, 4.0], {"odd": [1.0, -1.0, -1.0, 1.0, 1.0]})
    assert bands == (DropBand(0.0, 0.5), DropBand(2.5, 4.0))


def test_a_demand_met_just_once_is_met() -> None:
    assert feasible_drops([0.0, 1.0], {"up": [-1.0, 0.0]}) == (DropBand(1.0, 1.0),)


def test_what_is_not_a_number_is_not_met() -> None:
    assert feasible_drops([0.0, 1.0, 2.0], {"reach": [np.nan, 1.0, np.nan]}) == (DropBand(1.0, 1.0),)


@given(st.lists(st.lists(st.floats(-1.0, 1.0), min_size=6, max_size=6), min_size=1, max_size=3))
def test_every_drop_is_inside_a_band_exactly_when_its_margins_are_met(rows: list[list[float]]) -> None:
    x = np.arange(6.0)
    margins = {str(i): row for i, row in enumerate(rows)}
    bands = feasible_drops(x, margins)
    for at in np.linspace(0.013, 4.987, 61):
        least = min(float(np.interp(at, x, row)) for row in rows)
        inside = any(b.least <= at <= b.greatest for b in bands)
        if abs(least) > 1e-9:
            assert inside == (least > 0.0)


@pytest.mark.parametrize(
    ("drops", "margins"), [([0.0, 0.0], {}), ([0.0, 1.0], {"reach": [1.0]}), ([np.nan, 1.0], {})]
)
def test_what_does_not_fit_together_is_refused(drops: list[float], margins: dict[str, list[float]]) -> None:
    with pytest.raises(ValueError, match="drops"):
        feasible_drops(drops, margins)
