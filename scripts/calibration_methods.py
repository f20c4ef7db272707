"""Ways to fit the unknowns to measurements, side by side on the same divers: what each costs and how near it comes.

    .venv/bin/python scripts/calibration_methods.py [cases]

The reference is the program's own way with 16 times the draws, whose weights make it exact but for their number; its
truth is checked by ``calibration_check.py``. Told are the RMS error of the moment's mean and of its SD in SDs of the
reference, how often the 90 % band holds the truth, and processor time. emcee is tried where it is installed.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import replace
from importlib.util import find_spec

import numpy as np
from calibration_check import SEED, designs

from meshes.mesh import Floats
from sim.answers.calibrate.model import Model, as_gaussian
from sim.answers.calibrate.posterior import laplace, posterior, quantiles
from sim.answers.calibrate.surprise import measured

Draws = tuple[Floats, Floats]  # scores (n, d) and their weights (n,)
MEMBERS, PASSES = 256, 4
WALKERS, STEPS, BURNT = 64, 240, 80
STAGES_AT_MOST, MOVES = 20, 4


def weighed_laplace(model: Model, rng: np.random.Generator) -> Draws:
    """The program's: Laplace's Gaussian, its draws weighed exactly."""
    found = posterior(model, 512)
    return found.scores, found.weight


def laplace_alone(model: Model, rng: np.random.Generator) -> Draws:
    """Gauss-Newton and the Gaussian there."""
    mean, factor, _ = laplace(model)
    return mean + rng.standard_normal((512, len(mean))) @ factor.T, np.full(512, 1.0 / 512)


def smoother(model: Model, rng: np.random.Generator) -> Draws:
    """Ensemble smoother with multiple data assimilation (Emerick & Reynolds 2013, Comput Geosci 55:3)."""
    told = [as_gaussian(r, model.law) for r in model.readings]
    value, sd = (np.array([t[i] for t in told]) for i in (0, 1))
    g = rng.standard_normal((MEMBERS, model.unknowns))
    for _ in range(PASSES):
        p = model.predicted(g)
        seen = value + np.sqrt(PASSES) * sd * rng.standard_normal(p.shape)
        away_g, away_p = g - g.mean(axis=0), p - p.mean(axis=0)
        cross, among = away_g.T @ away_p / (MEMBERS - 1), away_p.T @ away_p / (MEMBERS - 1)
        g = g + (seen - p) @ np.linalg.solve(among + PASSES * np.diag(sd**2), cross.T)
    return g, np.full(MEMBERS, 1.0 / MEMBERS)


def tempered(model: Model, rng: np.random.Generator) -> Draws:
    """Sequential Monte Carlo: the likelihood let in by stages that keep half the draws, random walks between them."""
    g = rng.standard_normal((MEMBERS, model.unknowns))
    fit = model.log_likelihood(model.predicted(g))
    warm = 0.0
    for _ in range(STAGES_AT_MOST):
        warm, step = _next_stage(warm, fit)
        weight = np.exp(step * (fit - fit.max()))
        at = rng.choice(MEMBERS, MEMBERS, p=weight / weight.sum())
        g, fit = g[at], fit[at]
        factor = np.linalg.cholesky(np.cov(g.T) + 1e-6 * np.eye(g.shape[1]))
        for _ in range(MOVES):
            tried = g + 1.2 / np.sqrt(g.shape[1]) * rng.standard_normal(g.shape) @ factor.T
            new = model.log_likelihood(model.predicted(tried))
            gain = warm * (new - fit) + 0.5 * ((g**2).sum(axis=1) - (tried**2).sum(axis=1))
            taken = np.log(rng.random(MEMBERS)) < gain
            g, fit = np.where(taken[:, None], tried, g), np.where(taken, new, fit)
        if warm >= 1.0:
            break
    return g, np.full(MEMBERS, 1.0 / MEMBERS)


def _next_stage(warm: float, fit: Floats) -> tuple[float, float]:
    low, high = 0.0, 1.0 - warm
    for _ in range(40):
        middle = 0.5 * (low + high)
        weight = np.exp(middle * (fit - fit.max()))
        low, high = (middle, high) if weight.sum() ** 2 / (weight**2).sum() > 0.5 * len(fit) else (low, middle)
    return (1.0, 1.0 - warm) if low > 0.99 * (1.0 - warm) else (warm + low, low)


def ensemble_sampler(model: Model, rng: np.random.Generator) -> Draws:
    """emcee (Foreman-Mackey et al. 2013, PASP 125:306), its likelihood over all walkers at once."""
    import emcee

    def log_density(g: Floats) -> Floats:
        return model.log_likelihood(model.predicted(g)) - 0.5 * (g**2).sum(axis=1)

    sampler = emcee.EnsembleSampler(WALKERS, model.unknowns, log_density, vectorize=True)
    sampler.run_mcmc(rng.standard_normal((WALKERS, model.unknowns)), STEPS)
    g = sampler.get_chain(discard=BURNT, thin=4, flat=True)
    return g, np.full(len(g), 1.0 / len(g))


WAYS: dict[str, Callable[[Model, np.random.Generator], Draws]] = {
    "Gauss-Newton, weighed": weighed_laplace, "Gauss-Newton alone": laplace_alone, "ensemble smoother": smoother,
    "tempering": tempered, **({"emcee": ensemble_sampler} if find_spec("emcee") else {}),
}  # fmt: skip


def main() -> None:
    cases = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    found = [d for d in designs() if d.name.endswith(("two", "all"))]
    rows: dict[str, list[tuple[float, ...]]] = {name: [] for name in WAYS}
    for number in range(cases):
        design, rng = found[number % len(found)], np.random.default_rng((SEED, 7, number))
        truth = rng.standard_normal((1, design.model.unknowns))
        readings = measured(design.model.readings, design.model.predicted(truth)[0], design.model.law, rng)
        model = replace(design.model, readings=tuple(readings))
        true, best = model.moment(truth)[0], posterior(model, 8192)
        middle, spread = _mean_sd(model.moment(best.scores), best.weight)
        for name, way in WAYS.items():
            started = time.process_time()
            scores, weight = way(model, rng)
            took = time.process_time() - started
            moment = model.moment(scores)
            mean, sd = _mean_sd(moment, weight)
            low, high = quantiles(moment, weight, np.array([0.05, 0.95]))
            rows[name].append(((mean - middle) / spread, sd / spread - 1.0, float(low <= true <= high), took))
    print(f"{cases} cases{'':<20}{'error of mean':>16}{'error of SD':>14}{'90 % held':>12}{'CPU s':>9}")
    for name, told in rows.items():
        mean, sd, held, took = np.array(told).T
        errors = f"{np.sqrt((mean**2).mean()):>16.3f}{np.sqrt((sd**2).mean()):>14.3f}"
        print(f"{name:<29}{errors}{held.mean():>12.2f}{took.mean():>9.3f}")


def _mean_sd(values: Floats, weight: Floats) -> tuple[float, float]:
    mean = float(weight @ values)
    return mean, float(np.sqrt(weight @ (values - mean) ** 2))


if __name__ == "__main__":
    main()
