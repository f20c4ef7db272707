"""Holding plates against a population: how long it will take, then the work, shared between processes."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from sim.answers.fit.dressed_person import dress_of
from sim.answers.fit.fitted_people import BATCH, Batch, FittedPeople, fitted_batches, gathered, person_fit, population
from sim.answers.fit.hung_rig import hung_rig
from sim.answers.fit.report import PlateFit
from sim.worker_pool import worker_pool

MOST_WORKERS: Final = 8
WORTH_A_WORKER: Final = 8.0  # s of work, below which starting processes costs more than it saves


def people_report(
    fits: Sequence[PlateFit],
    number: int,
    *,
    workers: int | None = None,
    watched: Callable[[Iterable[Batch], int, float, int], Iterable[Batch]] | None = None,
) -> FittedPeople:
    """So many women and men, each with every plate of ``fits``.

    workers : processes; by default as many as there are cores, up to eight, where the work is worth it
    watched : called with the batches, their number, the seconds they will take and the workers; gives them on
    The answer does not depend on the workers.
    """
    worn = [fit.answer.worn for fit in fits]
    rigs = [hung_rig(fit.name, w) for fit, w in zip(fits, worn, strict=True)]
    dress, drawn = dress_of(worn[0]), population(number)
    person_fit(rigs, dress, drawn[0])  # what is made once
    start = time.perf_counter()
    person_fit(rigs, dress, drawn[-1])
    work = (time.perf_counter() - start) * len(drawn)
    if workers is None:
        workers = min(cores(), MOST_WORKERS) if work > WORTH_A_WORKER else 1
    with worker_pool(workers) as pool:
        batches: Iterable[Batch] = fitted_batches(rigs, dress, drawn, pool)
        if watched is not None:
            batches = watched(batches, -(-len(drawn) // BATCH), work / workers, workers)
        return gathered(rigs, batches)


def cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
