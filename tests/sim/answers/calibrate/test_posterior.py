"""The fit against closed forms, and its ranks over many truths."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import chi2, norm

from sim.answers.calibrate.posterior import posterior, quantiles
from sim.answers.calibrate.surprise import contradicted, measured, prior_predictive, suspects
from sim.answers.check_bench.readings import Reading
from sim.answers.check_bench.situations import AS_TOLD

SLOPES = np.array([6.0, 3.0, 1.0, -2.0])


def exact(values, sds, slopes=SLOPES):
    """Mean and covariance of unknowns N(0, 1) after moments slopes.g were read: conjugate Gaussians."""
    a = np.outer(1.0 / np.asarray(sds), slopes)
    covariance = np.linalg.inv(np.eye(len(slopes)) + a.T @ a)
    return covariance @ a.T @ (np.asarray(values) / np.asarray(sds)), covariance


@pytest.mark.parametrize("readings", [[(5.0, 2.0)], [(5.0, 2.0), (3.0, 1.0)], [(-12.0, 0.3)]])
def test_a_straight_model_with_gaussian_readings_is_solved_exactly(linear, balance, readings):
    """Mean and SD of the unknowns and of the moment within 5 % of an SD of the closed form's, as asked for."""
    model = linear(*(balance(v, s) for v, s in readings))
    found = posterior(model)
    mean, covariance = exact(*zip(*readings, strict=True))
    sd = np.sqrt(np.diag(covariance))
    assert np.abs(found.mean - mean).max() < 0.05 * sd.max()
    np.testing.assert_allclose(np.sqrt(np.diag(found.covariance)), sd, rtol=0.05)
    moment = model.moment(found.scores)
    spread = np.sqrt(SLOPES @ covariance @ SLOPES)
    middle = found.weight @ moment
    assert middle == pytest.approx(SLOPES @ mean, abs=0.05 * spread)
    assert np.sqrt(found.weight @ (moment - middle) ** 2) == pytest.approx(spread, rel=0.05)
    assert found.counts > 0.9  # of the draws: Laplace's Gaussian is the posterior, but for what it is wider


def test_nothing_read_teaches_nothing(linear, balance):
    found = posterior(linear(balance(4.0, 1e6)))
    np.testing.assert_allclose(found.mean, 0.0, atol=0.05)
    np.testing.assert_allclose(np.sqrt(np.diag(found.covariance)), 1.0, rtol=0.05)


def test_a_timed_turn_against_the_density_by_quadrature(linear):
    """One unknown, and a likelihood far from Gaussian: mean and SD by the trapezoid rule on 20,000 points."""
    reading = Reading("freeze", "freeze", AS_TOLD, drift="head-down", time=2.0, time_sd=np.hypot(0.3, 0.4))
    model = linear(reading, per_spread=(10.0,))
    g = np.linspace(-6.0, 6.0, 20_001)[:, None]
    log = model.log_likelihood(model.predicted(g)) + norm.logpdf(g[:, 0])
    density = np.exp(log - log.max())
    density /= density.sum()
    mean = density @ g[:, 0]
    found = posterior(model, 4096)
    sd = np.sqrt(density @ (g[:, 0] - mean) ** 2)
    assert mean < -0.3  # it taught something
    assert found.mean[0] == pytest.approx(mean, abs=0.03 * sd)
    assert np.sqrt(found.covariance[0, 0]) == pytest.approx(sd, rel=0.03)


def test_ranks_of_truths_are_uniform_and_bands_hold(linear, balance):
    """300 truths on the straight model; chi-square at one in a thousand, bands within the binomial's."""
    rng = np.random.default_rng(3)
    template = linear(balance(0.0, 2.0), replace(balance(0.0, 1.0), name="again"))
    cases, kept, held, moment_rank, fit_rank = 300, 63, 0, [], []
    for _ in range(cases):
        truth = rng.standard_normal(4)
        predicted = template.predicted(truth[None])
        model = replace(template, readings=tuple(measured(template.readings, predicted[0], template.law, rng)))
        found = posterior(model, 256)
        moments, true = model.moment(found.scores), model.moment(truth[None])[0]
        at = np.searchsorted(np.cumsum(found.weight), (rng.random() + np.arange(kept)) / kept).clip(max=255)
        moment_rank.append((moments[at] < true).sum())
        fit_rank.append((found.log_likelihood[at] < model.log_likelihood(predicted)[0]).sum())
        low, high = quantiles(moments, found.weight, np.array([0.05, 0.95]))
        held += low <= true <= high
    for ranks in (moment_rank, fit_rank):
        seen = np.histogram(ranks, bins=8, range=(0, kept + 1))[0]
        assert chi2.sf(((seen - cases / 8) ** 2 / (cases / 8)).sum(), 7) > 1e-3
    # 0.9 of 300 with an SD of 5.2; four of them
    assert abs(held - 270) < 21


def test_false_alarms_come_once_in_a_hundred(linear, balance):
    template = linear(balance(0.0, 2.0), replace(balance(0.0, 1.0), name="again"))
    expected = prior_predictive(template)
    rng = np.random.default_rng(5)
    truths = rng.standard_normal((2000, 4))
    alarms = [
        contradicted(measured(template.readings, p, template.law, rng), expected) for p in template.predicted(truths)
    ]
    # 1 % of 2000 with an SD of 4.4, and the limit itself is known from 2048 draws to 0.22 %
    assert 5 <= sum(alarms) <= 40


def test_what_is_far_off_is_a_contradiction_and_the_one_to_blame_is_named(linear, balance):
    """Two readings of one moment that differ by 25 N m: no diver does that, so a reading must be wrong."""
    model = linear(balance(12.0, 1.0), replace(balance(-13.0, 1.0), name="again"))
    assert contradicted(model.readings, prior_predictive(model))
    best = suspects(model)[0]
    assert best.name.startswith("the reading of the ")
    calm = linear(balance(4.0, 1.0), replace(balance(3.0, 1.0), name="again"))
    assert not contradicted(calm.readings, prior_predictive(calm))


def test_weights_of_quantiles():
    """Drawing each value as often as its weight says gives the same quantiles as the weights."""
    values = np.random.default_rng(1).normal(size=400)
    often = np.arange(400) % 4 + 1
    by_weight = quantiles(values, often / often.sum(), np.array([0.05, 0.5, 0.95]))
    by_copies = np.quantile(np.repeat(values, often), [0.05, 0.5, 0.95], method="hazen")
    np.testing.assert_allclose(by_weight, by_copies, atol=0.02)
