"""Gas moving between cells: conserved, at rest where the statics says, energy the slope of its forces."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from sim.settling.gas_flow import bag_energy, bag_in_motion, filling, flow, gradient, moment_gradient, within
from sim.statics.field import field, soft_rig

EMPTY = 1e-9  # of a bag's capacity: as empty, or as near to taut, as a bag of given volume gets

UP = np.array([0.3, -0.2, np.sqrt(1.0 - 0.13)])
SEEDS = [0, 1, 2, 3]  # both fill laws among them


def at_rest(values, name):
    return np.append(getattr(values, name).pressure, UP)


def flow_of(bag, gas, up, height, wanted=None):
    return flow(bag, filling(bag, gas), up, height, wanted)


@pytest.mark.parametrize("seed", SEEDS)
def test_gas_at_rest_in_the_statics_does_not_flow(make_random_rig, seed):
    rig = make_random_rig(seed)
    soft = soft_rig(rig)
    values = field(soft, UP[None])
    for pocket, volume in ((rig.suit, values.suit_gas[0]), (rig.wing, values.wing_gas[0])):
        bag, gas = bag_in_motion(pocket, rig), at_rest(values, pocket.name)
        # the one affine law has every cell's difference
        assert bag.basis @ gas == pytest.approx(getattr(values, pocket.name).difference[0], rel=1e-12, abs=1e-9)
        state = flow_of(bag, gas, UP, 0.0, float(volume))
        # the statics solves volumes to 1e-13 of the capacity; times p_amb (5e5 Pa at most) that is below 1e-6 Pa
        assert np.abs(bag.basis @ state.toward).max() < 1e-5
        assert state.filling.total == pytest.approx(volume, rel=1e-12)


def cell_rates(bag, levers, law, difference, height, wanted):
    """Rates (n,) [Pa/s] of cells that each follow their own difference, as the module says of one cell."""
    volume, slope = law.volume(difference), law.slope(difference)
    outside = -bag.weight * (height + levers @ UP)
    if bag.amount is not None:
        common = bag.ambient * bag.amount / volume.sum() - bag.ambient
    else:
        kept = slope @ (difference + outside) / slope.sum()
        common = kept + (wanted - volume.sum()) / (slope.sum() + bag.sluggish)
    return (common - outside - difference) / bag.lag


@pytest.mark.parametrize("height", [0.0, 0.4])
@pytest.mark.parametrize("seed", SEEDS)
def test_four_numbers_move_as_all_cells_do_one_by_one(make_random_rig, seed, height):
    """From flat, turned at once to UP and lifted: cells of their own by an explicit method, against a and b."""
    rig = make_random_rig(seed)
    for pocket in (rig.suit, rig.wing):
        bag, levers = bag_in_motion(pocket, rig), pocket.cells - rig.held
        values = field(soft_rig(rig), np.array([[0.0, 0.0, 1.0]]))
        start = getattr(values, pocket.name)
        wanted = 1.1 * float(start.volume[0].sum())
        gas = np.append(start.pressure[0], [0.0, 0.0, 1.0])
        accurate = {"method": "DOP853", "rtol": 1e-11, "atol": 1e-9}

        def rate(_, difference, bag=bag, levers=levers, wanted=wanted):
            return cell_rates(bag, levers, bag.law, difference, height, wanted)

        def few(_, y, bag=bag, wanted=wanted):
            return flow_of(bag, y, UP, height, wanted).toward / bag.lag

        for time in (0.05 * bag.lag, 2.0 * bag.lag):
            cells = solve_ivp(rate, (0.0, time), start.difference[0], **accurate).y[:, -1]
            four = solve_ivp(few, (0.0, time), gas, **accurate).y[:, -1]
            # pressures of 1e3 to 1e4 Pa; the integrator's own 1e-11 a step
            assert bag.basis @ four == pytest.approx(cells, rel=1e-8, abs=1e-5)
            assert np.abs(cells - start.difference[0]).max() > 1.0


@pytest.mark.parametrize("seed", SEEDS)
def test_stiffness_taken_by_gas_is_that_of_the_statics(make_random_rig, seed):
    rig = make_random_rig(seed)
    values = field(soft_rig(rig), UP[None])
    bend = np.zeros((3, 3))
    for pocket in (rig.suit, rig.wing):
        bag = bag_in_motion(pocket, rig)
        bend += moment_gradient(bag, filling(bag, at_rest(values, pocket.name)))
    # two ways of writing p_g of the suit differ by its elastic gauge pressure over the absolute one
    assert bend == pytest.approx(values.bend[0], rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_gradient_of_what_a_bag_holds(make_random_rig, seed):
    rig = make_random_rig(seed)
    values = field(soft_rig(rig), UP[None])
    for pocket in (rig.suit, rig.wing):
        bag, gas = bag_in_motion(pocket, rig), at_rest(values, pocket.name)
        expected = np.zeros((4, 4))
        for i, step in enumerate([0.1, 1e-5, 1e-5, 1e-5]):
            ahead, behind = (filling(bag, gas + s * step * np.eye(4)[i]).content for s in (1.0, -1.0))
            expected[:, i] = (ahead - behind) / (2.0 * step)
        got = gradient(bag, filling(bag, gas))
        assert got == pytest.approx(got.T, rel=1e-12)
        # central differences of laws that bend over hundreds of pascals; a garment's third derivative jumps at 0 Pa
        assert got == pytest.approx(expected, rel=1e-3, abs=1e-6 * np.abs(expected).max())


def disturbed(rig, pocket, seed, share):
    """A bag and its gas, ``share`` of the law's scale away from rest in every direction."""
    bag = bag_in_motion(pocket, rig)
    gas = at_rest(field(soft_rig(rig), UP[None]), pocket.name)
    size = share * bag.law.scale / np.abs(bag.basis).max(axis=0)
    return bag, gas + np.random.default_rng(seed).normal(0.0, size)


@pytest.mark.parametrize("seed", SEEDS)
def test_wing_left_alone_swaps_gas_but_keeps_its_sum(make_random_rig, seed):
    rig = make_random_rig(seed)
    bag, gas = disturbed(rig, rig.wing, seed, 2.0)
    held = filling(bag, gas)
    cells = held.slope * (bag.basis @ flow(bag, held, UP, 0.0, held.total).toward)
    assert np.abs(cells).max() > 0.0
    assert abs(cells.sum()) < 1e-12 * np.abs(cells).sum()


@pytest.mark.parametrize("seed", SEEDS)
def test_energy_of_the_gas_falls_at_the_rate_of_the_flow(make_random_rig, seed):
    rig = make_random_rig(seed)
    for pocket in (rig.suit, rig.wing):
        bag, gas = disturbed(rig, pocket, seed, 0.5)
        held = filling(bag, gas)
        toward = flow(bag, held, UP, 0.0, held.total).toward
        step = 1e-5
        ahead, behind = (bag_energy(bag, gas + s * step * toward, UP, 0.0) for s in (1.0, -1.0))
        expected = -float(held.slope @ (bag.basis @ toward) ** 2)
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
