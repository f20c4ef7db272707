"""Which values stand in which row of a study. Any run of rows can be worked out without the ones before it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from meshes.mesh import Floats, Ints
from scenarios.study import DesignKind
from sim.answers.study.drawn_levels import DRAWN_LEVELS
from sim.answers.study.inputs import Column, Input
from sim.answers.study.shuffled import shuffled
from sim.answers.study.sobol_points import sobol_points


@dataclass(frozen=True, eq=False)
class Rows:
    """A run of rows: the number of the first, and the values of each column (n,), NaN for "as in the scenario"."""

    start: int
    values: Mapping[str, Floats]

    def __len__(self) -> int:
        return len(next(iter(self.values.values())))

    def chosen(self, index: Ints) -> Rows:
        """Some of the rows."""
        return Rows(self.start, {name: values[index] for name, values in self.values.items()})


@dataclass(frozen=True)
class Plan:
    """The combinations that a study tries.

    grid : every combination of the levels, the last input's turning fastest; inputs that are drawn take the same
        ``number`` draws at each of them, the draw turning slowest
    latin hypercube, sobol : ``number`` draws of all inputs
    saltelli : for each of ``number`` base draws the row A, the row B, and A with one input after another from B
    one at a time : the scenario as it is, then each input at each of its levels, the others left alone
    """

    kind: DesignKind
    inputs: tuple[Input, ...]
    number: int
    seed: int

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns of the rows, in order."""
        return tuple(c for i in self.inputs for c in i.columns)

    @property
    def told(self) -> tuple[Column, ...]:
        """Those that stand in the table."""
        return tuple(c for c in self.columns if c.told)

    @cached_property
    def rows(self) -> int:
        """How many rows there are."""
        if self.kind == "grid":
            return self.number * self._cells
        if self.kind == "one at a time":
            return 1 + sum(_own_levels(i) for i in self.inputs)
        return self.number * (len(self.inputs) + 2 if self.kind == "saltelli" else 1)

    @cached_property
    def _cells(self) -> int:
        """Combinations of the levels in a grid."""
        return int(np.prod([i.levels or 1 for i in self.inputs], dtype=object))

    def between(self, start: int, stop: int) -> Rows:
        """The rows from ``start`` up to but not including ``stop``."""
        index = np.arange(start, stop, dtype=np.int64)
        values = _BY_KIND[self.kind](self, index)
        return Rows(start, dict(zip((c.name for c in self.columns), np.concatenate(values, axis=1).T, strict=True)))


def _grid(plan: Plan, index: Ints) -> list[Floats]:
    draw, cell = np.divmod(index, plan._cells)
    drawn = tuple(i for i in plan.inputs if i.levels is None)
    u = _sobol(sum(i.width for i in drawn), draw, plan.seed)
    values: list[Floats] = []
    left = plan._cells
    for one in plan.inputs:
        if one.levels is None:
            values.append(one.drawn(u[:, : one.width]))
            u = u[:, one.width :]
        else:
            left //= one.levels
            values.append(one.at(cell // left % one.levels))
    return values


def _hypercube(plan: Plan, index: Ints) -> list[Floats]:
    width = sum(i.width for i in plan.inputs)
    inside = np.random.PCG64(np.random.SeedSequence((plan.seed, 1))).advance(int(index[0]) * width)
    u = np.random.Generator(inside).random((len(index), width))
    for j in range(width):
        u[:, j] = (shuffled(index, plan.number, (plan.seed, 2, j)) + u[:, j]) / plan.number
    return _split(plan, u)


def _sequence(plan: Plan, index: Ints) -> list[Floats]:
    return _split(plan, _sobol(sum(i.width for i in plan.inputs), index, plan.seed))


def _saltelli(plan: Plan, index: Ints) -> list[Floats]:
    base, part = np.divmod(index, len(plan.inputs) + 2)
    width = sum(i.width for i in plan.inputs)
    both = _sobol(2 * width, base, plan.seed)
    first, second = _split(plan, both[:, :width]), _split(plan, both[:, width:])
    return [
        np.where(((part == 1) | (part == k + 2))[:, None], b, a)
        for k, (a, b) in enumerate(zip(first, second, strict=True))
    ]


def _one_at_a_time(plan: Plan, index: Ints) -> list[Floats]:
    values, before = [], 1
    for one in plan.inputs:
        count = _own_levels(one)
        turned = (index >= before) & (index < before + count)
        column = np.full((len(index), len(one.columns)), np.nan)
        if turned.any():
            column[turned] = one.at(index[turned] - before)
        values.append(column)
        before += count
    return values


def _own_levels(one: Input) -> int:
    return len(DRAWN_LEVELS) if one.levels is None else one.levels


def _split(plan: Plan, u: Floats) -> list[Floats]:
    """Each input's values from its own columns of ``u`` (n, widths of all)."""
    ends = np.cumsum([i.width for i in plan.inputs])
    return [i.drawn(u[:, end - i.width : end]) for i, end in zip(plan.inputs, ends, strict=True)]


def _sobol(width: int, index: Ints, seed: int) -> Floats:
    """Points (n, width) of a scrambled Sobol' sequence at places ``index`` (n,)."""
    return sobol_points(width, index, (seed, 3))


_BY_KIND: Final = {
    "grid": _grid,
    "latin hypercube": _hypercube,
    "sobol": _sequence,
    "saltelli": _saltelli,
    "one at a time": _one_at_a_time,
}
