"""Studies of a function in place of a rig: the same design, runner and report, quick and known in closed form."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from scenarios.study import DesignKind
from scenarios.study_axes import ChoiceAxis, NumberAxis, Scale
from sim.answers.study.inputs import Choices, Input, Number
from sim.answers.study.job import Answers, Job
from sim.answers.study.outputs import Output
from sim.answers.study.plan import Plan, Rows
from sim.answers.study.record import Identity
from sim.telling.made_by import MadeByStudy


def number(title: str, way: str, *numbers: float, levels: int = 5, least=-np.inf, most=np.inf) -> Number:
    return Number(NumberAxis(title, (title,), way, Scale(), numbers, levels, least, most))


def choices(title: str, *labels: str) -> Choices:
    return Choices(ChoiceAxis(title, labels, ((),) * len(labels)))


@dataclass(frozen=True)
class Sum:
    """The sum of all columns; a row whose first is over ``most`` has a problem."""

    most: float = np.inf

    def __call__(self, rows: Rows) -> Answers:
        first = next(iter(rows.values.values()))
        total = np.where(first > self.most, np.nan, np.sum(list(rows.values.values()), axis=0))
        return Answers({"total": total}, ["too much" if f > self.most else "" for f in first])


def job_of(model, kind: DesignKind, inputs: tuple[Input, ...], number: int = 1, seed: int = 1, outputs=("total",)):
    wanted = tuple(Output(o, o, "", "") for o in outputs)
    return Job("a test", Plan(kind, inputs, number, seed), model, wanted, Identity(), MadeByStudy(version=""))


@pytest.fixture
def sum_job() -> Job:
    """A thousand rows of two numbers."""
    return job_of(
        Sum(), "latin hypercube", (number("x", "uniform", 0.0, 1.0), number("y", "uniform", 0.0, 1.0)), 1000
    )
