"""People drawn from the survey behind the measures, each sex on its own.

Stature is taken as normal and mass as log-normal, with their correlation; the other 67 measures follow from the
model of ``sim.person.measures`` with its spread. The survey is of soldiers, 17 to 58 years old: fitter and younger
than many divers, and at like stature and mass more alike: civilians scatter 1.25 times as far. Who is drawn stays a
soldier all the same, in stature, mass and spread, for a mixture of the two would be nobody. Points are quasi-random
(scrambled Sobol'): the same number and seed give the same people.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import count
from typing import Final

import numpy as np
from scipy.special import ndtri

from meshes.mesh import Floats
from sim.person.measures import Sex, estimated_measures, measures_model

SEED: Final = 20_250  # any fixed number
EDGE: Final = 1e-6  # nearest to 0 or 1 that a point may lie: 4.75 SD


@dataclass(frozen=True)
class BodySize:
    """Stature: mean and SD [m]; mass: median [kg] and SD of its logarithm; their correlation."""

    stature: float
    stature_sd: float
    mass: float
    log_mass_sd: float
    correlation: float


# ANSUR II (Gordon et al. 2014, NATICK/TR-15/007): mean and SD of stature, 5th, 50th and 95th percentiles of mass
# (64.4, 84.6, 110.7 and 51.3, 66.8, 87.1 kg); correlations worked out from those of body mass index (21.4 and 34.8,
# 20.3 and 31.7 kg/m^2)
SIZES: Final[dict[Sex, BodySize]] = {
    "male": BodySize(1.756, 0.069, 84.6, 0.1647, 0.443),
    "female": BodySize(1.628, 0.064, 66.8, 0.1609, 0.542),
}


@dataclass(frozen=True, eq=False)
class Drawn:
    """One person of the population: sex, stature [m], mass [kg] and all measures by the survey's names [m]."""

    sex: Sex
    height: float
    mass: float
    measures: dict[str, float]


def drawn_people(sex: Sex, number: int, seed: int = SEED) -> tuple[Drawn, ...]:
    """So many people of one sex within the survey's range of stature and mass. Raises ValueError for number < 1."""
    if not number > 0:
        raise ValueError(f"a population needs at least one person, got {number}")
    model = measures_model()
    of_sex = model.male if sex == "male" else model.female
    found: list[Drawn] = []
    for z in _points(2 + len(drawn_names()), seed + (sex == "female")):
        height, mass = _size(SIZES[sex], z[0], z[1])
        (short, tall), (light, heavy) = of_sex.stature_range, of_sex.mass_range
        if not (short <= height <= tall and light <= mass <= heavy):
            continue
        found.append(person_at(sex, height, mass, z[2:]))
        if len(found) == number:
            break
    return tuple(found)


@cache
def drawn_names() -> tuple[str, ...]:
    """The measures that are drawn: all but age, whose spread is not Gaussian."""
    return tuple(n for n in measures_model().names if n != "age")


def person_at(sex: Sex, height: float, mass: float, z: Floats) -> Drawn:
    """The person of this stature [m] and mass [kg] at independent standard normal ``z`` (k,), one a drawn measure."""
    at = [measures_model().names.index(n) for n in drawn_names()]
    estimate = estimated_measures(sex, height, mass)
    values = estimate.mean[at] + np.sqrt(np.diag(estimate.covariance)[at]) * (_together(sex) @ z)
    return Drawn(sex, height, mass, dict(zip(drawn_names(), values.tolist(), strict=True)))


@cache
def _together(sex: Sex) -> Floats:
    """Lower triangle (k, k) of the correlation of the drawn measures."""
    model = measures_model()
    at = [model.names.index(n) for n in drawn_names()]
    of_sex = model.male if sex == "male" else model.female
    return np.asarray(np.linalg.cholesky(of_sex.correlation[np.ix_(at, at)]))


def _points(dimensions: int, seed: int) -> Iterator[Floats]:
    """Endless standard normal points (dimensions,)."""
    from scipy.stats.qmc import Sobol

    source = Sobol(dimensions, scramble=True, rng=seed)
    for power in count():  # a sequence is balanced at every power of two
        more = source.random_base2(max(power - 1, 0))
        yield from ndtri(np.clip(more, EDGE, 1.0 - EDGE))


def _size(size: BodySize, first: float, second: float) -> tuple[float, float]:
    """Stature and mass at two independent standard normal values."""
    r = size.correlation
    both = r * first + np.sqrt(1.0 - r * r) * second
    return float(size.stature + size.stature_sd * first), float(size.mass * np.exp(size.log_mass_sd * both))
