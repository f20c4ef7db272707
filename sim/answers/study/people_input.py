"""A diver drawn from a population, as an input of a study: sex, height, mass, and every measure that goes along."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

import numpy as np
from scipy.special import ndtri

from meshes.mesh import Floats, Ints
from scenarios.settings import Setting
from scenarios.study_axes import PeopleAxis
from sim.answers.study.drawn_levels import DRAWN_LEVELS
from sim.answers.study.inputs import Column, Input
from sim.answers.study.spreads import EDGE, cut_normal
from sim.person.measures import Sex, measures_model
from sim.person.population import SIZES, drawn_names, person_at

CENTIMETRES = 100.0


@dataclass(frozen=True)
class People(Input):
    """The population of ``sim.person.population``, by the inverse of its distribution."""

    axis: PeopleAxis

    @property
    def title(self) -> str:
        return self.axis.title

    @property
    def columns(self) -> tuple[Column, ...]:
        size = (Column("diver.height", "cm"), Column("diver.mass", "kg"))
        hidden = tuple(Column(f"diver.measures.{name}", "m", told=False) for name in drawn_names())
        return (Column("diver.sex", labels=self.axis.sexes), *size, *hidden)

    @property
    def width(self) -> int:
        return 3 + len(drawn_names())

    @property
    def levels(self) -> None:
        return None

    def at(self, index: Ints) -> Floats:
        u = np.full((len(index), self.width), 0.5)
        u[:, 1] = np.array(DRAWN_LEVELS)[index]
        return self.drawn(u)

    def drawn(self, u: Floats) -> Floats:
        z = ndtri(np.clip(u[:, 3:], EDGE, 1.0 - EDGE))
        sexes = [self._sex(value) for value in u[:, 0]]
        rows = []
        for sex, first, second, rest in zip(sexes, u[:, 1], u[:, 2], z, strict=True):
            who = person_at(sex, *self._size(sex, float(first), float(second)), rest)
            code = float(self.axis.sexes.index(sex))
            rows.append([code, CENTIMETRES * who.height, who.mass, *who.measures.values()])
        return np.array(rows).reshape(len(u), len(self.columns))

    def settings(self, values: Sequence[float]) -> tuple[Setting, ...]:
        if np.isnan(values[0]):
            return ()
        measures = {n: f"{v!r} m" for n, v in zip(drawn_names(), values[3:], strict=True)}
        diver = {
            **dict(self.axis.kept),
            "sex": self.axis.sexes[int(values[0])],
            "height": f"{values[1]!r} cm",
            "mass": f"{values[2]!r} kg",
            "measures": measures,
        }
        return (Setting(("diver",), diver, "diver"),)

    def _sex(self, u: float) -> Sex:
        if len(self.axis.sexes) == 1:
            return cast(Sex, self.axis.sexes[0])
        return "female" if u < self.axis.women else "male"

    def _size(self, sex: Sex, first: float, second: float) -> tuple[float, float]:
        """Height [m] and mass [kg] within the survey's range and the heights asked for."""
        model, size = measures_model(), SIZES[sex]
        of_sex = model.female if sex == "female" else model.male
        low = max(of_sex.stature_range[0], self.axis.height[0])
        high = min(of_sex.stature_range[1], self.axis.height[1])
        z = float(
            cut_normal(
                np.array([first]), (low - size.stature) / size.stature_sd, (high - size.stature) / size.stature_sd
            )[0]
        )
        r = size.correlation
        ends = [(np.log(m / size.mass) / size.log_mass_sd - r * z) / np.sqrt(1.0 - r * r) for m in of_sex.mass_range]
        both = r * z + np.sqrt(1.0 - r * r) * float(cut_normal(np.array([second]), *ends)[0])
        return size.stature + size.stature_sd * z, float(size.mass * np.exp(size.log_mass_sd * both))
