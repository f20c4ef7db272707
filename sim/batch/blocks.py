"""Blocks of rigs over threads; the compiled loops let go of Python's lock, so plain threads use all cores."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Final

ROWS: Final = 2048  # rigs in a block: a few milliseconds of work, so that no thread waits long for the last one


def over_blocks(job: Callable[[int, int], None], rigs: int, threads: int | None) -> None:
    """Run ``job(first, end)`` for blocks of rows that cover ``rigs``; each writes its own rows of the results."""
    count = cores() if threads is None else threads
    starts = range(0, rigs, ROWS)
    if count < 2 or len(starts) < 2:
        job(0, rigs)
        return
    with ThreadPoolExecutor(min(count, len(starts))) as pool:
        for done in [pool.submit(job, first, min(first + ROWS, rigs)) for first in starts]:
            done.result()


def cores() -> int:
    """Cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
