"""A slow study, for tests that stop it in mid-run: slow_study.py FOLDER. A block of 10 rows takes 30 ms."""

import sys
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from scenarios.study_axes import NumberAxis, Scale
from sim.answers.study.crew import Processes
from sim.answers.study.folder import opened
from sim.answers.study.inputs import Number
from sim.answers.study.job import Answers, Job
from sim.answers.study.outputs import Output
from sim.answers.study.plan import Plan, Rows
from sim.answers.study.record import Identity
from sim.answers.study.run import run
from sim.commands.ended import EndedError, heard
from sim.telling.made_by import MadeByStudy
from sim.worker_pool import WorkerPool


@dataclass(frozen=True)
class Slow:
    """The sine of x, slowly."""

    def __call__(self, rows: Rows) -> Answers:
        time.sleep(3e-3 * len(rows))
        return Answers({"sine": np.sin(rows.values["x"])}, [""] * len(rows))


def slow_job() -> Job:
    one = Number(NumberAxis("x", ("x",), "uniform", Scale(), (0.0, 1.0), 5, -np.inf, np.inf))
    return Job(
        "slow", Plan("latin hypercube", (one,), 1024, 1), Slow(), (Output("sine", "sine", "", ""),),
        Identity(), MadeByStudy(version=""),
    )  # fmt: skip


if __name__ == "__main__":
    where = Path(sys.argv[1])
    try:
        with heard(), opened(where, slow_job()), WorkerPool(2, ready=()) as pool:
            run(slow_job(), where, Processes(2, pool), 10)
    except EndedError as ended:
        sys.exit(128 + ended.signal)
