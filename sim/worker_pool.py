"""Processes that share work which takes each its own time."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context


@contextmanager
def worker_pool(workers: int) -> Iterator[Executor | None]:
    """A pool of spawned processes, or None when one process does it all."""
    if workers < 2:
        yield None
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=_one_thread) as pool:
        yield pool


def _one_thread() -> None:
    """Keep a worker to one core: threads of its linear algebra would only wait for those of the others."""
    from threadpoolctl import threadpool_limits

    threadpool_limits(1)
