"""People as arrays: what makes their bodies, and the features in which bodies are expanded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from scenarios.diver import Diver
from sim.assembly.diver import USUAL_AGE, chest_gas
from sim.person.density import tissue_density
from sim.person.lungs import dry_frc
from sim.person.measures import Sex, estimated_measures, measures_model
from sim.person.population import Drawn

MEASURES: Final = tuple(n for n in measures_model().names if n != "age")


@dataclass(frozen=True, eq=False)
class PeopleArrays:
    """B people of one sex; each (B,) unless said otherwise.

    height [m];  mass [kg];  age [yr];  measures : (B, k) by MEASURES [m];  density : of the tissue [kg/m^3]
    lung_gas, frc : gas in the lungs and their dry functional residual capacity [m^3]
    """

    sex: Sex
    height: Floats
    mass: Floats
    age: Floats
    measures: Floats
    density: Floats
    lung_gas: Floats
    frc: Floats

    def __len__(self) -> int:
        return len(self.height)

    @property
    def volume(self) -> Floats:
        """(B,) [m^3] of tissue and lungs: what each body is swollen or shrunk to enclose."""
        return self.mass / self.density + self.lung_gas

    def diver(self, i: int, like: Diver) -> Diver:
        """Person ``i`` as a scenario tells one, everything stated."""
        measures = dict(zip(MEASURES, self.measures[i].tolist(), strict=True))
        return like.model_copy(
            update={
                "sex": self.sex, "height": float(self.height[i]), "mass": float(self.mass[i]),
                "age": float(self.age[i]), "measures": measures, "body_density": float(self.density[i]),
                "body_fat": None, "lung_gas": float(self.lung_gas[i]),
            }
        )  # fmt: skip


def people_arrays(
    sex: Sex,
    height: ArrayLike,
    mass: ArrayLike,
    *,
    measures: ArrayLike | None = None,
    age: ArrayLike = USUAL_AGE,
    density: ArrayLike | None = None,
    lung_gas: ArrayLike | None = None,
    breathing: Diver | None = None,
) -> PeopleArrays:
    """People from stature (B,) [m] and mass (B,) [kg], and whatever else is known of them.

    measures : (B, k) by MEASURES [m], estimated from sex, stature and mass where None;  age [yr]
    density : of the tissue [kg/m^3], by regression where None;  lung_gas : [m^3], where None by the breathing level
    of ``breathing`` (a scenario's diver), or dry FRC
    Raises ValueError for numbers that are not finite and positive, or shapes that do not fit.
    """
    tall = np.atleast_1d(np.asarray(height, dtype=float))
    n = len(tall)
    heavy, years = _column("mass", mass, n), _column("age", age, n)
    frc = np.array([dry_frc(sex, h, m, a) for h, m, a in zip(tall, heavy, years, strict=True)])
    if measures is None:
        keep = [i for i, name in enumerate(measures_model().names) if name != "age"]
        measures = np.array([estimated_measures(sex, h, m).mean[keep] for h, m in zip(tall, heavy, strict=True)])
    if density is None:
        density = [tissue_density(sex, h, m, a).density for h, m, a in zip(tall, heavy, years, strict=True)]
    if lung_gas is None:
        lung_gas = frc if breathing is None else _breathed(breathing, sex, tall, heavy, years)
    taken = np.asarray(measures, dtype=float)
    if taken.shape != (n, len(MEASURES)) or not (np.isfinite(taken) & (taken > 0.0)).all():
        raise ValueError(f"measures must be ({n}, {len(MEASURES)}) lengths > 0 m, got shape {taken.shape}")
    return PeopleArrays(
        sex, _column("height", tall, n), heavy, years, taken, _column("density", density, n),
        _column("lung gas", lung_gas, n), frc,
    )  # fmt: skip


def people_drawn(drawn: Sequence[Drawn], **known: ArrayLike) -> PeopleArrays:
    """People of one sex drawn from the survey; ``known`` as in ``people_arrays``. ValueError for a mixed crowd."""
    sexes = {p.sex for p in drawn}
    if len(sexes) != 1:
        raise ValueError(f"people of one sex are wanted, got {len(drawn)} people of {sorted(sexes)}")
    taken = np.array([[p.measures[n] for n in MEASURES] for p in drawn])
    heights, masses = [p.height for p in drawn], [p.mass for p in drawn]
    return people_arrays(sexes.pop(), heights, masses, measures=taken, **known)  # type: ignore[arg-type]


def features(people: PeopleArrays) -> Floats:
    """(B, p) numbers in which bodies are expanded.

    Size, lungs and all measures to first order, the three sizes to second order too. The measures enter as they are:
    joints and landmarks are linear in them, and so are centres posed by fixed angles. The volume, as a root like the
    girths, brings in the swelling that makes the skin enclose it.
    """
    girth, bulk = np.sqrt(people.mass / people.height), np.sqrt(people.volume / people.height)
    size = np.stack([people.height, girth, bulk], axis=1)
    i, j = np.triu_indices(3)
    middle = np.array(SIZES_MIDDLE[people.sex])
    off = size - middle
    own = np.stack([people.lung_gas, people.frc], axis=1)
    return np.concatenate([size, off[:, i] * off[:, j], own, people.measures], axis=1)


# about the survey's mean (m, kg^0.5 m^-0.5, m): squares are taken from there, which only keeps the numbers well apart
SIZES_MIDDLE: Final = {"male": (1.756, 6.94, 0.217), "female": (1.628, 6.41, 0.201)}


def _breathed(diver: Diver, sex: Sex, height: Floats, mass: Floats, age: Floats) -> list[float]:
    if diver.lung_gas is not None:
        return [diver.lung_gas] * len(height)
    return [
        chest_gas(diver.model_copy(update={"sex": sex, "height": float(h), "mass": float(m), "age": float(a)}))
        for h, m, a in zip(height, mass, age, strict=True)
    ]


def _column(name: str, values: ArrayLike, n: int) -> Floats:
    column = np.array(np.broadcast_to(np.asarray(values, dtype=float), (n,)))
    if not ((column > 0.0) & np.isfinite(column)).all():
        raise ValueError(f"{name} must be > 0 and finite")
    return column
