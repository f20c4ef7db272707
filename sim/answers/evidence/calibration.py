"""The fit to one diver's measurements, on divers whose truth is known."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np
from scipy.stats import binom, chi2

from meshes.mesh import Floats
from sim.answers.evidence.check import Check, Compared, Kind

THEME: Final = "Fitted to one diver"
RANKED: Final = ("moment", "fit", "unknown 1", "unknown 2", "unknown 3")
RANKS: Final = 64
BINS: Final = 16
BY_CHANCE: Final = 1e-3  # a probability below this is no chance
SLOPES: Final = np.array([6.0, 3.0, 1.0, -2.0])  # N m of the moment for one SD of each unknown
READ: Final[tuple[tuple[float, float], ...]] = ((5.0, 2.0), (3.0, 1.0))  # N m read, and SD
MASS: Final = 4.0  # kg left out


def checks() -> tuple[Check, ...]:
    simulated = "uniform ranks: Talts et al. 2018; of the data's likelihood: Modrák et al. 2023"
    kind: Kind = "computed elsewhere"
    stored = "stored: 1000 divers drawn from the model's own unknowns, scripts/calibration_check.py"
    return (
        Check(THEME, "SD of the moment, straight model, ours / exact", "conjugate Gaussians", kind, "", 3, _straight),
        Check(THEME, "ranks of the truth: chance of any as uneven", simulated, kind, "", 3, _ranks, stored),
        Check(THEME, "divers whose moment lies in its 90 % band", "binomial, 99 of 100 such checks", kind, "%", 1,
              _held, stored),
        Check(THEME, "the same, in other gear", "binomial, 99 of 100 such checks", kind, "%", 1, _next, stored),
        Check(THEME, "the same, bodies and gear built anew", "binomial, 99 of 100 such checks", kind, "%", 1, _anew,
              "stored: divers put together in full, off the straight lines of the fit"),
        Check(THEME, "honest measurements taken for a contradiction", "at most 2 of 100, as asked for", kind, "%", 1,
              _alarms, stored),
    )  # fmt: skip


@cache
def stored(name: str) -> tuple[Mapping[str, str], ...]:
    """Rows of a table that ``scripts/calibration_check.py`` wrote."""
    text = files("sim.answers.evidence").joinpath(f"stored/{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def uniform(ranks: Floats) -> float:
    """Probability of ranks (n,), 0 to 63, at least as uneven if they were uniform (chi-square)."""
    seen = np.histogram(ranks, bins=BINS, range=(0, RANKS))[0]
    expected = len(ranks) / BINS
    return float(chi2.sf(((seen - expected) ** 2 / expected).sum(), BINS - 1))


def _column(name: str, table: str = "calibration_cases") -> Floats:
    return np.array([float(row[name]) for row in stored(table)])


def _ranks() -> Sequence[Compared]:
    return [Compared(uniform(_column(name)), BY_CHANCE, 1.0, None, name) for name in RANKED]


def _share(held: Floats, expected: float) -> list[Compared]:
    low, high = (100.0 * float(binom.ppf(q, len(held), expected)) / len(held) for q in (0.005, 0.995))
    return [Compared(100.0 * float(held.mean()), low, high, 100.0 * expected)]


def _held() -> Sequence[Compared]:
    return _share(_column("held"), 0.9)


def _next() -> Sequence[Compared]:
    return _share(_column("next_held"), 0.9)


def _anew() -> Sequence[Compared]:
    return _share(_column("held", "calibration_anew"), 0.9)


def _alarms() -> Sequence[Compared]:
    return [Compared(100.0 * float(_column("alarm").mean()), -1e-9, 2.0, 1.0)]


def _straight() -> Sequence[Compared]:
    """One float whose moment is a straight line in four unknowns, read twice."""
    from meshes.solid import point_mass
    from sim.answers.calibrate.drawn_rigs import drawn_from
    from sim.answers.calibrate.model import Model
    from sim.answers.calibrate.posterior import posterior
    from sim.answers.calibrate.time_law import BY_HAND
    from sim.answers.check_bench.readings import Reading
    from sim.answers.check_bench.situations import AS_TOLD
    from sim.rig import Part, Water, rig_of
    from sim.uncertainty.rig_numbers import VOLUME, numbers_of
    from sim.uncertainty.variates import UncertainRig, Variate

    rig = rig_of([Part("float", "body", point_mass(100.0, np.zeros(3), 0.1))], Water(1000.0, 10.0, 2e5))
    base = numbers_of(rig)
    per_metre = 1000.0  # N m that 1 m between CM and CB turns 100 kg with
    lines = np.zeros((len(SLOPES), len(base)))
    lines[:, VOLUME.start + 1] = 0.1 * SLOPES / per_metre
    variates = tuple(Variate(str(i), "", "normal", line) for i, line in enumerate(lines))
    readings = tuple(Reading(f"{v} N m", "balance", AS_TOLD, v, sd) for v, sd in READ)
    model = Model({AS_TOLD: drawn_from(UncertainRig(rig, base, variates))}, readings, BY_HAND, threads=1)
    found = posterior(model)
    moment = model.moment(found.scores)
    spread = np.sqrt(found.weight @ (moment - found.weight @ moment) ** 2)
    each = np.outer([1.0 / sd for _, sd in READ], SLOPES)
    exact = np.sqrt(SLOPES @ np.linalg.inv(np.eye(len(SLOPES)) + each.T @ each) @ SLOPES)
    return [Compared(float(spread / exact), 0.95, 1.05, 1.0)]
