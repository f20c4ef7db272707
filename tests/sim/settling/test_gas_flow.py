"""Gas moving between cells: conserved, at rest where the statics says, energy the slope of its forces."""

from dataclasses import replace

import numpy as np
import pytest

from sim.settling.gas_flow import EMPTY, bag_energy, bag_in_motion, flow, moment_gradient, within
from sim.statics.field import field, soft_rig

UP = np.array([0.3, -0.2, np.sqrt(1.0 - 0.13)])
SEEDS = [0, 1, 2, 3]  # both fill laws among them


@pytest.mark.parametrize("seed", SEEDS)
def test_gas_at_rest_in_the_statics_does_not_flow(make_random_rig, seed):
    rig = make_random_rig(seed)
    soft = soft_rig(rig)
    values = field(soft, UP[None])
    suit = flow(bag_in_motion(rig.suit, rig), values.suit.difference[0], UP, 0.0)
    wing = flow(bag_in_motion(rig.wing, rig), values.wing.difference[0], UP, 0.0, float(values.wing_gas[0]))
    # the statics solves volumes to 1e-13 of the capacity; times p_amb (5e5 Pa at most) that is below 1e-6 Pa
    assert np.abs(suit.imbalance).max() < 1e-5
    assert np.abs(wing.imbalance).max() < 1e-5
    assert suit.total == pytest.approx(values.suit_gas[0], rel=1e-12)
    assert wing.total == pytest.approx(values.wing_gas[0], rel=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_stiffness_taken_by_gas_is_that_of_the_statics(make_random_rig, seed):
    rig = make_random_rig(seed)
    values = field(soft_rig(rig), UP[None])
    bend = np.zeros((3, 3))
    for pocket, state, volume in ((rig.suit, values.suit, None), (rig.wing, values.wing, values.wing_gas[0])):
        bag = bag_in_motion(pocket, rig)
        bend += moment_gradient(bag, flow(bag, state.difference[0], UP, 0.0, volume))
    # two ways of writing p_g of the suit differ by its elastic gauge pressure over the absolute one
    assert bend == pytest.approx(values.bend[0], rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_wing_left_alone_swaps_gas_but_keeps_its_sum(make_random_rig, seed):
    rig = make_random_rig(seed)
    bag = bag_in_motion(rig.wing, rig)
    difference = np.random.default_rng(seed).normal(0.0, 2.0 * bag.law.scale, len(bag.levers))
    state = flow(bag, difference, UP, 0.0, float(bag.law.volume(difference).sum()))
    rates = state.slope * state.imbalance
    assert np.abs(rates).max() > 0.0
    assert abs(rates.sum()) < 1e-12 * np.abs(rates).sum()


@pytest.mark.parametrize("seed", SEEDS)
def test_energy_of_the_gas_falls_at_the_rate_of_the_flow(make_random_rig, seed):
    rig = make_random_rig(seed)
    r = np.random.default_rng(seed)
    for pocket in (rig.suit, rig.wing):
        bag = bag_in_motion(pocket, rig)
        values = field(soft_rig(rig), UP[None])
        rest = (values.suit if pocket is rig.suit else values.wing).difference[0]
        difference = rest + r.normal(0.0, 0.5 * bag.law.scale, len(rest))
        total = float(bag.law.volume(difference).sum())
        state = flow(bag, difference, UP, 0.0, total)
        step = 1e-5 * bag.lag
        ahead = bag_energy(bag, difference + step * state.imbalance / bag.lag, UP, 0.0)
        behind = bag_energy(bag, difference - step * state.imbalance / bag.lag, UP, 0.0)
        expected = -float(state.slope @ state.imbalance**2) / bag.lag
        # central differences: third derivatives times the step squared, and digits lost in energies of 1e2 J
        assert (ahead - behind) / (2.0 * step) == pytest.approx(expected, rel=1e-4)


def test_volume_is_kept_within_the_bag(make_random_rig):
    rig = make_random_rig(0)
    bag = bag_in_motion(rig.wing, rig)
    most = float(bag.law.most.sum())
    assert within(bag, -1.0) == EMPTY * most
    assert within(bag, 1.0) == (1.0 - EMPTY) * most
    assert within(bag, 0.4 * most) == 0.4 * most


@pytest.mark.parametrize("constant", [0.0, -1.0, np.nan])
def test_a_pocket_needs_a_time_constant(make_random_rig, constant):
    rig = make_random_rig(0)
    with pytest.raises(ValueError, match="time constant"):
        bag_in_motion(replace(rig.suit, time_constant=constant), rig)
