"""What a study varies, as independent inputs: each turns its own evenly spread numbers into one or more columns."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr, ndtri

from meshes.mesh import Floats, Ints
from scenarios.settings import Setting
from scenarios.study_axes import ChoiceAxis, NumberAxis
from sim.answers.study.drawn_levels import DRAWN_LEVELS
from sim.answers.study.spreads import EDGE, at_levels, picked, spread_value


@dataclass(frozen=True)
class Column:
    """One column of a study's rows.

    unit : "" for none;  labels : names of the choices, None for numbers
    told : whether it stands in the table; what follows from the seed and would only fill the disk does not
    """

    name: str
    unit: str = ""
    labels: tuple[str, ...] | None = None
    told: bool = True


class Input(ABC):
    """An input that is independent of all others. Its values are floats; a choice is the index of its label."""

    @property
    @abstractmethod
    def title(self) -> str:
        """What to call it."""

    @property
    @abstractmethod
    def columns(self) -> tuple[Column, ...]:
        """The columns it gives."""

    @property
    @abstractmethod
    def width(self) -> int:
        """How many evenly spread numbers it takes."""

    @property
    @abstractmethod
    def levels(self) -> int | None:
        """How many levels it has in a grid; None where it is drawn."""

    @abstractmethod
    def at(self, index: Ints) -> Floats:
        """Values (n, columns) at levels ``index`` (n,)."""

    @abstractmethod
    def drawn(self, u: Floats) -> Floats:
        """Values (n, columns) for evenly spread ``u`` (n, width)."""

    @abstractmethod
    def settings(self, values: Sequence[float]) -> tuple[Setting, ...]:
        """What puts one row's values (columns,) into the scenario; NaN leaves it as it is."""


@dataclass(frozen=True)
class Choices(Input):
    """Ways to choose from."""

    axis: ChoiceAxis

    @property
    def title(self) -> str:
        return self.axis.title

    @property
    def columns(self) -> tuple[Column, ...]:
        return (Column(self.axis.title, labels=self.axis.labels),)

    @property
    def width(self) -> int:
        return 1

    @property
    def levels(self) -> int:
        return len(self.axis.labels)

    def at(self, index: Ints) -> Floats:
        return np.asarray(index, dtype=float)[:, None]

    def drawn(self, u: Floats) -> Floats:
        return picked(len(self.axis.labels), u)

    def settings(self, values: Sequence[float]) -> tuple[Setting, ...]:
        return () if np.isnan(values[0]) else self.axis.settings[int(values[0])]


@dataclass(frozen=True)
class Number(Input):
    """One number."""

    axis: NumberAxis

    @property
    def title(self) -> str:
        return self.axis.title

    @property
    def columns(self) -> tuple[Column, ...]:
        return (Column(self.axis.title, self.axis.scale.name),)

    @property
    def width(self) -> int:
        return 1

    @property
    def levels(self) -> int | None:
        if self.axis.way == "values":
            return len(self.axis.numbers)
        return self.axis.levels if self.axis.way == "range" else None

    def at(self, index: Ints) -> Floats:
        if self.levels is not None:
            return at_levels(self.axis, index)[:, None]
        return self.drawn(np.array(DRAWN_LEVELS)[index, None])

    def drawn(self, u: Floats) -> Floats:
        return spread_value(self.axis, u[:, 0])[:, None]

    def settings(self, values: Sequence[float]) -> tuple[Setting, ...]:
        return () if np.isnan(values[0]) else (self.axis.setting(values[0]),)


@dataclass(frozen=True)
class Together(Input):
    """Numbers that go together: their normal scores have the correlation whose lower triangle is ``loading``."""

    axes: tuple[NumberAxis, ...]
    loading: tuple[tuple[float, ...], ...]

    @property
    def title(self) -> str:
        return " with ".join(a.title for a in self.axes)

    @property
    def columns(self) -> tuple[Column, ...]:
        return tuple(Column(a.title, a.scale.name) for a in self.axes)

    @property
    def width(self) -> int:
        return len(self.axes)

    @property
    def levels(self) -> None:
        return None

    def at(self, index: Ints) -> Floats:
        return self.drawn(np.repeat(np.array(DRAWN_LEVELS)[index, None], self.width, axis=1))

    def drawn(self, u: Floats) -> Floats:
        scores = ndtri(np.clip(u, EDGE, 1.0 - EDGE)).T
        # added up one by one: a product of matrices takes its sums in another order for another number of rows
        mixed = [sum((w * z for w, z in zip(row, scores, strict=True)), np.zeros(len(u))) for row in self.loading]
        return np.stack([spread_value(a, ndtr(z)) for a, z in zip(self.axes, mixed, strict=True)], axis=1)

    def settings(self, values: Sequence[float]) -> tuple[Setting, ...]:
        return tuple(a.setting(v) for a, v in zip(self.axes, values, strict=True) if not np.isnan(v))
