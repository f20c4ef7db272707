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
from sim.person.measures import Sex, expected_measures, measures_model

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


@dataclass(frozen=True, eq=False)
class ManyDrawn:
    """n people of one sex as columns.

    height (n,) [m], mass (n,) [kg];  measures (n, k) [m], in the order of ``drawn_names``
    """

    sex: Sex
    height: Floats
    mass: Floats
    measures: Floats

    def __len__(self) -> int:
        return len(self.height)

    def part(self, which: slice) -> ManyDrawn:
        """Some of them."""
        return ManyDrawn(self.sex, self.height[which], self.mass[which], self.measures[which])

    def person(self, which: int) -> Drawn:
        """One of them."""
        measures = dict(zip(drawn_names(), self.measures[which].tolist(), strict=True))
        return Drawn(self.sex, float(self.height[which]), float(self.mass[which]), measures)


def drawn_people(sex: Sex, number: int, seed: int = SEED) -> tuple[Drawn, ...]:
    """So many people of one sex within the survey's range of stature and mass. Raises ValueError for number < 1."""
    many = many_drawn(sex, number, seed)
    return tuple(many.person(which) for which in range(number))


def many_drawn(sex: Sex, number: int, seed: int = SEED) -> ManyDrawn:
    """The people of ``drawn_people`` as columns. Raises ValueError for number < 1."""
    if not number > 0:
        raise ValueError(f"a population needs at least one person, got {number}")
    model = measures_model()
    of_sex = model.male if sex == "male" else model.female
    (short, tall), (light, heavy) = of_sex.stature_range, of_sex.mass_range
    found: list[tuple[Floats, Floats, Floats]] = []
    missing = number
    for z in _points(2 + len(drawn_names()), seed + (sex == "female")):
        height, mass = _size(SIZES[sex], z[:, 0], z[:, 1])
        within = (short <= height) & (height <= tall) & (light <= mass) & (mass <= heavy)
        some = np.flatnonzero(within)[:missing]
        found.append((height[some], mass[some], z[some, 2:]))
        missing -= len(some)
        if missing == 0:
            break
    height, mass, rest = (np.concatenate(column) for column in zip(*found, strict=True))
    return ManyDrawn(sex, height, mass, _measures(sex, height, mass, rest))


@cache
def drawn_names() -> tuple[str, ...]:
    """The measures that are drawn: all but age, whose spread is not Gaussian."""
    return tuple(n for n in measures_model().names if n != "age")


def person_at(sex: Sex, height: float, mass: float, z: Floats) -> Drawn:
    """The person of this stature [m] and mass [kg] at independent standard normal ``z`` (k,), one a drawn measure."""
    heights, masses = np.array([height]), np.array([mass])
    return ManyDrawn(sex, heights, masses, _measures(sex, heights, masses, z[None])).person(0)


def _measures(sex: Sex, height: Floats, mass: Floats, z: Floats) -> Floats:
    """Measures (n, k) [m] of people of these statures [m] and masses [kg] (n,) at standard normal ``z`` (n, k)."""
    at = [measures_model().names.index(n) for n in drawn_names()]
    mean, sd = expected_measures(sex, height, mass)
    # no product of matrices, which rounds otherwise for another number of people
    return np.asarray(mean[:, at] + sd[:, at] * np.einsum("ij,nj->ni", _together(sex), z))


@cache
def _together(sex: Sex) -> Floats:
    """Lower triangle (k, k) of the correlation of the drawn measures."""
    model = measures_model()
    at = [model.names.index(n) for n in drawn_names()]
    of_sex = model.male if sex == "male" else model.female
    return np.asarray(np.linalg.cholesky(of_sex.correlation[np.ix_(at, at)]))


def _points(dimensions: int, seed: int) -> Iterator[Floats]:
    """Endless standard normal points (m, dimensions), more and more at a time."""
    from scipy.stats.qmc import Sobol

    source = Sobol(dimensions, scramble=True, rng=seed)
    for power in count():  # a sequence is balanced at every power of two
        yield ndtri(np.clip(source.random_base2(max(power - 1, 0)), EDGE, 1.0 - EDGE))


def _size(size: BodySize, first: Floats, second: Floats) -> tuple[Floats, Floats]:
    """Stature [m] and mass [kg] (n,) at two independent standard normal values (n,)."""
    r = size.correlation
    both = r * first + np.sqrt(1.0 - r * r) * second
    return size.stature + size.stature_sd * first, size.mass * np.exp(size.log_mass_sd * both)
