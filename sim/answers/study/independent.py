"""Which factors of a study are independent of all others: those that are correlated are one input together."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from scenarios.study_axes import Axis, ChoiceAxis, NumberAxis, PeopleAxis
from sim.answers.study.inputs import Choices, Input, Number, Together
from sim.answers.study.people_input import People


def inputs_of(axes: Sequence[Axis], correlations: Sequence[tuple[int, int, float]]) -> tuple[Input, ...]:
    """The independent inputs behind a study's factors, people first: those that are correlated count as one."""
    group = list(range(len(axes)))
    for i, j, _ in correlations:
        low, high = sorted((group[i], group[j]))
        group = [low if g == high else g for g in group]
    found: list[Input] = []
    # a person takes the place of the whole diver, of whom other inputs may change something
    for first in sorted(dict.fromkeys(group), key=lambda g: not isinstance(axes[g], PeopleAxis)):
        members = [i for i, g in enumerate(group) if g == first]
        found.append(_alone(axes[first]) if len(members) == 1 else _together(axes, members, correlations))
    return tuple(found)


def _alone(axis: Axis) -> Input:
    if isinstance(axis, PeopleAxis):
        return People(axis)
    return Choices(axis) if isinstance(axis, ChoiceAxis) else Number(axis)


def _together(axes: Sequence[Axis], members: list[int], pairs: Sequence[tuple[int, int, float]]) -> Together:
    matrix = np.eye(len(members))
    for one, other, value in pairs:
        if one in members:
            i, j = members.index(one), members.index(other)
            matrix[i, j] = matrix[j, i] = value
    numbers = tuple(a for i in members if isinstance(a := axes[i], NumberAxis))
    return Together(numbers, tuple(tuple(row) for row in np.linalg.cholesky(matrix).tolist()))
