"""Rows of every design: what they are, and that each is the same however they are cut into runs."""

import numpy as np
import pytest
from scipy.stats import kstest, norm, triang
from scipy.stats.qmc import Sobol, discrepancy

from sim.answers.study.inputs import Together
from sim.answers.study.plan import Plan
from sim.answers.study.shuffled import shuffled

from .conftest import choices, number

MOST_BITS = 30  # a thousand million points

INPUTS = (number("x", "uniform", -1.0, 3.0), choices("c", "red", "green", "blue"), number("y", "normal", 10.0, 2.0))


def table(plan: Plan, start: int = 0, stop: int | None = None) -> np.ndarray:
    return np.stack(list(plan.between(start, plan.rows if stop is None else stop).values.values()), axis=1)


@pytest.mark.parametrize("kind", ["grid", "latin hypercube", "sobol", "saltelli", "one at a time"])
def test_rows_do_not_depend_on_where_a_run_begins_and_ends(kind):
    loading = tuple(map(tuple, np.linalg.cholesky(np.full((5, 5), 0.3) + 0.7 * np.eye(5))))
    five = Together(tuple(number(f"m{i}", "normal", 0.0, 1.0).axis for i in range(5)), loading)
    plan = Plan(kind, INPUTS if kind == "one at a time" else (*INPUTS, five), 64, 5)
    whole = table(plan)
    assert len(whole) == plan.rows
    for size in (1, 7, 50):
        pieces = [table(plan, at, min(at + size, plan.rows)) for at in range(0, plan.rows, size)]
        assert np.array_equal(np.concatenate(pieces), whole, equal_nan=True)


@pytest.mark.parametrize("kind", ["grid", "latin hypercube", "sobol", "saltelli"])
def test_another_seed_gives_other_draws_and_the_same_seed_the_same(kind):
    first, same, other = (table(Plan(kind, INPUTS, 16, seed)) for seed in (1, 1, 2))
    assert np.array_equal(first, same)
    assert not np.array_equal(first, other)


def test_a_grid_holds_every_combination_once_and_the_last_input_turns_fastest():
    plan = Plan(
        "grid",
        (number("x", "values", 1.0, 5.0), choices("c", "a", "b", "c"), number("r", "range", 0, 1, levels=3)),
        1,
        1,
    )
    expected = [(x, c, r) for x in (1.0, 5.0) for c in (0, 1, 2) for r in (0.0, 0.5, 1.0)]
    assert np.array_equal(table(plan), expected)


def test_a_grid_takes_the_same_draws_at_every_combination():
    plan = Plan("grid", (choices("c", "a", "b"), number("y", "normal", 0.0, 1.0)), 8, 3)
    rows = table(plan).reshape(8, 2, 2)
    assert np.array_equal(rows[:, 0, 1], rows[:, 1, 1])
    assert len(np.unique(rows[:, 0, 1])) == 8


def test_a_latin_hypercube_has_one_point_in_each_slice_of_each_input():
    n = 1000
    plan = Plan("latin hypercube", (number("x", "uniform", 0.0, 1.0), number("y", "uniform", 0.0, 1.0)), n, 11)
    u = table(plan)
    for column in u.T:
        assert np.array_equal(np.sort(np.floor(column * n)), np.arange(n))
    assert abs(np.corrcoef(u.T)[0, 1]) < 4.0 / np.sqrt(n)  # 4 SD of the correlation of two shuffled orders


@pytest.mark.parametrize("count", [1, 2, 3, 5, 16, 17, 1000, 4097])
def test_a_shuffled_order_holds_every_number_once(count):
    assert np.array_equal(np.sort(shuffled(np.arange(count), count, (7,))), np.arange(count))


def test_a_shuffled_order_is_as_good_as_a_random_one():
    """Over many seeds each place is taken equally often by each index, and neighbours are not neighbours' places."""
    n, seeds = 10, 4000
    orders = np.array([shuffled(np.arange(n), n, (s,)) for s in range(seeds)])
    counts = np.array([np.bincount(orders[:, i], minlength=n) for i in range(n)])
    chi = ((counts - seeds / n) ** 2 / (seeds / n)).sum()
    assert chi < 81 + 5 * np.sqrt(2 * 81)  # chi-square of 9 * 9 degrees of freedom, 5 SD
    steps = np.diff(orders, axis=1) == 1
    expected = (n - 1) / (n * (n - 1))  # of n (n - 1) ordered pairs, n - 1 are one apart
    assert abs(steps.mean() - expected) < 5 * np.sqrt(expected / steps.size)


def test_sobol_points_are_those_of_scipy():
    plan = Plan("sobol", (number("x", "uniform", 0.0, 1.0), number("y", "uniform", 0.0, 1.0)), 32, 9)
    theirs = Sobol(2, scramble=True, bits=30, rng=np.random.default_rng((9, 3))).random(32)
    assert np.array_equal(table(plan), theirs)
    assert discrepancy(table(plan)) < 0.5 * discrepancy(np.random.default_rng(1).random((32, 2)))


def test_saltelli_rows_are_a_then_b_then_a_with_one_column_of_b():
    plan = Plan("saltelli", INPUTS, 8, 2)
    rows = table(plan).reshape(8, 5, 3)
    a, b = rows[:, 0], rows[:, 1]
    for k in range(3):
        mixed = a.copy()
        mixed[:, k] = b[:, k]
        assert np.array_equal(rows[:, 2 + k], mixed)
    assert not (a[:, 0] == b[:, 0]).any()


def test_one_at_a_time_turns_each_input_alone():
    plan = Plan("one at a time", (choices("c", "a", "b"), number("x", "range", 0.0, 2.0, levels=3)), 1, 1)
    nan = np.nan
    expected = [(nan, nan), (0, nan), (1, nan), (nan, 0.0), (nan, 1.0), (nan, 2.0)]
    assert np.array_equal(table(plan), expected, equal_nan=True)


@pytest.mark.parametrize(
    ("one", "distribution"),
    [
        (number("x", "uniform", -1.0, 3.0), norm(1.0, 1.0)),
        (number("x", "normal", 5.0, 2.0), norm(5.0, 2.0)),
        (number("x", "triangular", 1.0, 2.0, 5.0), triang(0.25, 1.0, 4.0)),
        (number("x", "lognormal", 600.0, 1.5), None),
    ],
    ids=["uniform", "normal", "triangular", "lognormal"],
)
def test_draws_follow_their_distribution(one, distribution):
    """Quasi-random draws lie nearer to it than random ones would: the Kolmogorov distance is of order 1/n."""
    x = table(Plan("sobol", (one,), 4096, 3))[:, 0]
    if one.axis.way == "uniform":
        x, distribution = norm.ppf((x + 1.0) / 4.0, 1.0, 1.0), norm(1.0, 1.0)
    if one.axis.way == "lognormal":
        x, distribution = np.log(x / 600.0) / np.log(1.5), norm()
    assert kstest(x, distribution.cdf).statistic < 2.0 / 4096


def test_a_cut_off_spread_is_the_same_spread_between_its_ends():
    cut = number("x", "normal", 0.0, 1.0, least=1.0, most=2.5)
    x = table(Plan("sobol", (cut,), 4096, 3))[:, 0]
    low, high = norm.cdf([1.0, 2.5])
    assert kstest((norm.cdf(x) - low) / (high - low), "uniform").statistic < 2.0 / 4096
    far = number("x", "normal", 0.0, 1.0, least=4.0)
    z = table(Plan("sobol", (far,), 512, 3))[:, 0]
    assert (z >= 4.0).all()
    assert len(np.unique(z)) == 512


def test_correlated_numbers_keep_their_own_spreads_and_go_together():
    x, y = number("x", "normal", 3.0, 1.0).axis, number("y", "uniform", 0.0, 1.0).axis
    both = Together((x, y), ((1.0, 0.0), (0.8, 0.6)))
    drawn = table(Plan("sobol", (both,), 8192, 3))
    scores = np.stack([drawn[:, 0] - 3.0, norm.ppf(drawn[:, 1])])
    assert np.corrcoef(scores)[0, 1] == pytest.approx(0.8, abs=0.002)  # quasi-random error of order 1/n, tails cut
    # over slanted half-planes quasi-random points are less even than over boxes; random ones would be at 0.0096
    assert kstest(drawn[:, 1], "uniform").statistic < 0.004


def test_choices_are_equally_likely():
    drawn = table(Plan("sobol", (choices("c", "a", "b", "c", "d"),), 1024, 3))[:, 0]
    assert np.array_equal(np.bincount(drawn.astype(int)), [256] * 4)
