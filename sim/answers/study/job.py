"""A study ready to be run: the plan, what works out the answers of a run of rows, and what identifies it all."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from meshes.mesh import Floats
from sim.answers.study.outputs import Output
from sim.answers.study.plan import Plan, Rows
from sim.answers.study.record import Identity
from sim.telling.made_by import MadeByStudy


@dataclass(frozen=True, eq=False)
class Answers:
    """Answers of n rows.

    values : (n,) for each output, by column;  problems : (n,) why a row has no answers, "" where it has
    """

    values: Mapping[str, Floats]
    problems: Sequence[str]


class Model(Protocol):
    """What works out the answers: a picklable thing that is called with rows, each row's answers its own affair."""

    def __call__(self, rows: Rows) -> Answers:
        """Answers of the rows, in their order."""


@dataclass(frozen=True, eq=False)
class Job:
    """A study.

    title : for people;  identity : what decides the numbers
    made_by : the version and the files, for people and programs who trace it
    """

    title: str
    plan: Plan
    model: Model
    outputs: tuple[Output, ...]
    identity: Identity
    made_by: MadeByStudy


@dataclass(frozen=True, eq=False)
class Block:
    """Rows worked out: inputs and answers by column, problems, and how long it took [s]."""

    start: int
    inputs: Mapping[str, Floats]
    answers: Mapping[str, Floats]
    problems: Sequence[str]
    seconds: float

    @property
    def stop(self) -> int:
        """The row after the last."""
        return self.start + len(self.problems)


def worked_block(job: Job, start: int, stop: int) -> Block:
    """Rows ``start`` to ``stop`` of a job; the same whatever the other blocks and whoever works them out."""
    begun = time.perf_counter()
    rows = job.plan.between(start, stop)
    answers = job.model(rows)
    values = {o.column: answers.values[o.column] for o in job.outputs}
    return Block(start, rows.values, values, answers.problems, time.perf_counter() - begun)
