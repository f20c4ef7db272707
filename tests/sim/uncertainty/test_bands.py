"""Bands and shares against closed forms."""

import numpy as np
import pytest

from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.outcomes import outcomes
from sim.uncertainty.rig_numbers import VOLUME, numbers_of
from sim.uncertainty.sampling import spread_points
from sim.uncertainty.shares import share_of, width
from sim.uncertainty.uncertain_settle import answered
from sim.uncertainty.variates import UncertainRig, Variate

NINETY = 1.6448536269514722  # SDs from the middle to the 95th percentile of a Gaussian, tables

# of the SD: a scrambled Sobol' sequence of 1024 points in few dimensions places a 5 % quantile within about 1/1024 of
# its probability times a few; the density there is 0.103, so 3/1024/0.103 = 0.03 SD
QUANTILE = 0.03


def pushed(rig, sds):
    """The rig with one Gaussian unknown for each SD of moment [N m], by way of the CB's place."""
    base = numbers_of(rig)
    variates = []
    for i, sd in enumerate(sds):
        change = np.zeros_like(base)
        change[VOLUME.start + 1] = sd / (rig.water.density * rig.water.gravity)
        variates.append(Variate(f"push {i}", "", "normal", change))
    return UncertainRig(rig, base, tuple(variates))


def test_a_linear_case_has_the_gaussian_band_and_shares(make_rig):
    sds = np.array([3.0, 2.0, 1.0])
    rig = pushed(make_rig(1), sds)
    z = spread_points(["normal"] * 3, 1024)
    answer = answered(rig, z, outcomes(rig, z))
    told = flat_answer(soft_rig(rig.like)).pitch_moment
    sd = np.sqrt((sds**2).sum())
    assert answer.moment.told == pytest.approx(told, abs=1e-9)
    assert answer.moment.middle == pytest.approx(told, abs=QUANTILE * sd)
    assert answer.moment.low == pytest.approx(told - NINETY * sd, abs=QUANTILE * sd)
    assert answer.moment.high == pytest.approx(told + NINETY * sd, abs=QUANTILE * sd)
    assert [u.name for u in answer.unknowns] == ["push 0", "push 1", "push 2"]
    for unknown, own in zip(answer.unknowns, sds, strict=True):
        share = own**2 / sd**2
        # the cubic fit takes along 3 of 1024 degrees of freedom by chance
        assert unknown.share == pytest.approx(share, abs=0.01)
        # known, what is left is Gaussian with the rest of the variance; two quantiles, each as above
        assert unknown.band_saved == pytest.approx(1.0 - np.sqrt(1.0 - share), abs=QUANTILE)


def test_a_bent_dependence_counts_as_a_whole():
    z = spread_points(["normal", "normal"], 1024)
    y = z[:, 0] ** 3 + z[:, 0] ** 2  # variance 15 + 2, all of it first order
    assert share_of("x", "", z[:, 0], y).share == pytest.approx(1.0, abs=1e-9)
    assert share_of("other", "", z[:, 1], y).share < 0.02


def test_without_spread_the_bands_are_the_answer(make_rig):
    rig = pushed(make_rig(2), [0.0, 0.0])
    z = spread_points(["normal"] * 2, 16)
    answer = answered(rig, z, outcomes(rig, z))
    for band in (answer.moment, answer.stiffness, answer.wing_gas, answer.pitch):
        assert band.low == band.middle == band.high == band.told
    assert all(u.share == 0.0 and u.band_saved == 0.0 for u in answer.unknowns)


def test_suit_unknowns_act_as_the_sensitivity_does(make_rig):
    rig = make_rig(7, law="garment")
    base = numbers_of(rig)
    nothing = np.zeros_like(base)
    unknown = UncertainRig(
        rig,
        base,
        (
            Variate("stiffness", "", "normal", nothing, log_stiffness=np.log(2.0)),
            Variate("gas", "", "normal", nothing, gas_share=0.25),
        ),
    )
    drawn = unknown.drawn(np.array([1.0, -1.0])).suit
    assert drawn.law.stiffness == pytest.approx(2.0 * rig.suit.law.stiffness)
    assert drawn.gas == pytest.approx(0.75 * rig.suit.gas)


def test_points_are_the_same_each_time_and_balanced():
    first, again = (spread_points(["normal", "uniform"], 256) for _ in range(2))
    assert np.array_equal(first, again)
    assert not np.array_equal(first, spread_points(["normal", "uniform"], 256, seed=1))
    assert np.abs(first[:, 1]).max() <= 1.0
    # one point in each of 256 equal slices
    assert len(set(np.floor(128.0 * (first[:, 1] + 1.0)))) == 256
    assert width(first[:, 1]) == pytest.approx(1.8, abs=2.0 / 256)


@pytest.mark.parametrize("samples", [0, 1, 1000])
def test_a_number_that_is_no_power_of_two_is_refused(samples):
    with pytest.raises(ValueError, match="power of two"):
        spread_points(["normal"], samples)
