"""The unknowns after measurements: a Gaussian found by Gauss-Newton steps, then draws from it weighed exactly.

Before anything is measured every unknown is a standard normal score, so with readings y, predicted p(g) and their
SDs R the most likely scores minimise |g|^2 + |(y - p(g)) / R|^2. Gauss-Newton finds them in a few steps; with J the
slope of p / R there, the Gaussian of covariance (1 + J'J)^-1 (Laplace's) is exact where p is straight. What it lacks,
weights make good: prior times likelihood over the density they were drawn from, of each draw. One draw in four comes
from the Gaussian that half as exact readings would give, for tails longer than a Gaussian's (times have such). Where
fewer than one draw in four counts, the Gaussian is fitted anew to the weighed draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.calibrate.model import Model, as_gaussian
from sim.uncertainty.sampling import spread_points

DRAWS: Final = 1024
SEED: Final = 71_905  # any fixed number: the same files give the same answer
STEP: Final = 0.05  # SDs, for slopes
CLOSE: Final = 1e-2  # SDs
MOST_STEPS: Final = 12
HALVINGS: Final = np.array([1.0, 0.5, 0.25, 0.0625])
ENOUGH: Final = 0.25  # of the draws that must count
ANEW: Final = 6  # times the Gaussian is fitted anew at most
WIDER: Final = 1.05  # than Laplace's, so that no tail goes without draws
TAILS: Final = 0.25  # of the draws that come from the wide Gaussian
BLUNT: Final = 2.0  # times a reading's SD, for that


@dataclass(frozen=True, eq=False)
class Posterior:
    """Draws of the d unknowns after measurements, with weights.

    scores : (n, d) normal scores;  weight : (n,), adding up to 1;  predicted : (n, m);  log_likelihood : (n,)
    mean : (d,) and covariance : (d, d) of the scores, weighed;  counts : share of the draws that count, 0 to 1
    """

    scores: Floats
    weight: Floats
    predicted: Floats
    log_likelihood: Floats
    mean: Floats
    covariance: Floats
    counts: float

    def resampled(self, number: int, seed: int) -> Floats:
        """Scores (number, d) of equal weight (systematic resampling)."""
        start = np.random.default_rng(seed).random()
        at = np.searchsorted(np.cumsum(self.weight), (start + np.arange(number)) / number)
        return self.scores[np.minimum(at, len(self.weight) - 1)]


def posterior(model: Model, draws: int = DRAWS, seed: int = SEED) -> Posterior:
    """What is believed of the unknowns after the model's readings; ``draws`` a power of two."""
    mean, factor, wide = laplace(model)
    even = spread_points(["normal"] * model.unknowns, draws, seed)
    found = _weighed(model, mean, WIDER * factor, wide, even)
    for _ in range(ANEW):
        if found.counts >= ENOUGH:
            break
        spread = found.covariance + (1.0 - min(1.0, found.counts / ENOUGH)) * factor @ factor.T
        found = _weighed(model, found.mean, WIDER * _factor(spread), wide, even)
    return found


def laplace(model: Model) -> tuple[Floats, Floats, Floats]:
    """Most likely scores (d,), a factor (d, d) of the covariance about them, and one of blunter readings'."""
    d = model.unknowns
    told = [as_gaussian(r, model.law) for r in model.readings]
    value, sd = (np.array([t[i] for t in told]) for i in (0, 1))
    g = np.zeros(d)
    for _ in range(MOST_STEPS):
        here, slope = slopes(model, g)
        left, j = (value - here) / sd, slope / sd[:, None]
        step = np.linalg.solve(np.eye(d) + j.T @ j, j.T @ left - g)
        tried = g + HALVINGS[:, None] * step
        cost = (tried**2).sum(axis=1) + (((value - model.predicted(tried)) / sd) ** 2).sum(axis=1)
        g = tried[int(np.argmin(cost))]
        if float(np.abs(step).max(initial=0.0)) < CLOSE:
            break
    sharp, blunt = (_factor(np.linalg.inv(np.eye(d) + j.T @ j / by**2)) for by in (1.0, BLUNT))
    return g, sharp, blunt


def slopes(model: Model, g: Floats) -> tuple[Floats, Floats]:
    """What is predicted (m,) at scores (d,), and its slopes (m, d)."""
    d = len(g)
    tried = np.concatenate([g + STEP * np.eye(d), g - STEP * np.eye(d), g[None]])
    predicted = model.predicted(tried)
    return predicted[-1], ((predicted[:d] - predicted[d : 2 * d]) / (2.0 * STEP)).T


def _weighed(model: Model, mean: Floats, narrow: Floats, wide: Floats, even: Floats) -> Posterior:
    """Draws about ``mean`` (d,) from ``even`` (n, d): a quarter through ``wide``, the rest through ``narrow``.

    The first quarter of a Sobol' sequence is one itself; every fourth point of it would not be.
    """
    far = np.arange(len(even)) < TAILS * len(even)
    scores = mean + np.where(far[:, None], even @ wide.T, even @ narrow.T)
    near = np.log(1.0 - TAILS) + _log_density(scores - mean, narrow)
    drawn = np.logaddexp(near, np.log(TAILS) + _log_density(scores - mean, wide))
    predicted = model.predicted(scores)
    likelihood = model.log_likelihood(predicted)
    log = likelihood - 0.5 * (scores**2).sum(axis=1) - drawn
    weight = np.exp(log - log.max())
    weight /= weight.sum()
    middle = weight @ scores
    away = scores - middle
    covariance = away.T @ (weight[:, None] * away)
    counts = float(1.0 / (len(weight) * (weight**2).sum()))
    return Posterior(scores, weight, predicted, likelihood, middle, covariance, counts)


def _log_density(away: Floats, factor: Floats) -> Floats:
    """Of a Gaussian (n,) at ``away`` (n, d) from its middle, up to a constant that all of them share."""
    even = np.linalg.solve(factor, away.T)
    return np.asarray(-0.5 * (even**2).sum(axis=0) - np.log(np.diag(factor)).sum())


def _factor(covariance: Floats) -> Floats:
    return np.asarray(np.linalg.cholesky(covariance + 1e-12 * np.eye(len(covariance))), dtype=np.float64)


def quantiles(values: Floats, weight: Floats, shares: Floats) -> Floats:
    """Weighed quantiles of values (n,), in the middle of each step of their distribution."""
    order = np.argsort(values)
    at = np.cumsum(weight[order]) - 0.5 * weight[order]
    return np.asarray(np.interp(shares, at, values[order]))
