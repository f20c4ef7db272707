"""Processes that share work which takes each its own time."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_all_start_methods, get_context
from multiprocessing.context import BaseContext
from typing import Final

# imported once, in the process that all workers are copies of, where the system can copy processes
READY: Final = ("sim.uncertainty.outcomes", "sim.uncertainty.variants", "scipy.spatial", "shapely")


@contextmanager
def worker_pool(workers: int) -> Iterator[Executor | None]:
    """A pool of fresh processes, or None when one process does it all."""
    if workers < 2:
        yield None
        return
    with ProcessPoolExecutor(workers, mp_context=_context(), initializer=_one_thread) as pool:
        yield pool


def _context() -> BaseContext:
    """How workers are started: never as copies of this process, which may have threads at work."""
    if "forkserver" not in get_all_start_methods():
        return get_context("spawn")
    context = get_context("forkserver")
    context.set_forkserver_preload(list(READY))
    return context


def _one_thread() -> None:
    """Keep a worker to one core: threads of its linear algebra would only wait for those of the others."""
    from threadpoolctl import threadpool_limits

    threadpool_limits(1)
