"""Run a study: what is missing is cut into blocks, handed out, and each written whole as it comes in."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, wait
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Final

from sim.answers.study.block_file import block_bytes, why, write_whole
from sim.answers.study.crew import Crew, CrewError
from sim.answers.study.folder import FolderError, block_path, missing_rows
from sim.answers.study.job import Block, Job, worked_block

AHEAD: Final = 2  # blocks handed out for each worker, so that none waits while another block is written
TRIAL: Final = 0.5  # s, that the last block should take at least from which the rest is estimated
LEAST_BLOCK: Final = 0.5  # s, of work in one block: less would be lost in handing out
MOST_BLOCK: Final = 5.0  # s, of work that is lost in a kill
SHARES: Final = 20  # blocks for each worker at least, so that all end at about the same time
LARGEST: Final = 50_000  # rows of a block, for the memory
MOST_FILES: Final = 10_000


@dataclass(frozen=True)
class Estimate:
    """What is left of a study.

    rows : to do;  row_seconds : one worker's for one row;  seconds : for all;  size : [bytes] on disk
    block : how many rows make a sensible block
    """

    rows: int
    row_seconds: float
    seconds: float
    size: float
    block: int


def estimated(
    job: Job,
    folder: Path,
    crew: Crew,
    workers: int | None = None,
    advanced: Callable[[int], None] = lambda rows: None,
) -> Estimate:
    """Time and disk for what is missing, from working out a few rows, which are then there.

    workers : that will do the rest, if not this very crew;  advanced : is told how many rows that brought
    Raises FolderError where the disk has not the room.
    """
    todo = missing_rows(folder, job.plan.rows)
    if not todo:
        return Estimate(0, 0.0, 0.0, 0.0, 1)
    row, size = _trial(job, folder, todo, crew, advanced)
    rows = sum(stop - start for start, stop in missing_rows(folder, job.plan.rows))
    seconds = rows * row / (workers or crew.workers)
    free = shutil.disk_usage(folder).free
    if not size * rows < free:
        raise FolderError(
            f"{folder} has {free / 1e6:,.3f} MB of room left; about {size * rows / 1e6:,.3f} MB are needed"
        )
    work = min(max(seconds / SHARES, LEAST_BLOCK), MOST_BLOCK)
    block = min(max(1.0, work / row, rows / MOST_FILES), LARGEST)
    return Estimate(rows, row, seconds, size * rows, int(block))


def _trial(
    job: Job, folder: Path, gaps: list[tuple[int, int]], crew: Crew, advanced: Callable[[int], None]
) -> tuple[float, float]:
    """Seconds and bytes of one row, from blocks that grow until one takes long enough to be timed, or all would not.

    All workers do one at the same time, as in the run; the quickest counts, since another may still be loading
    libraries.
    """
    count = 1
    rows = sum(stop - start for start, stop in gaps)
    while True:
        blocks = list(islice(_cut(gaps, count), crew.workers))
        waiting = [crew.executor.submit(worked_block, job, *block) for block in blocks]
        done = [_answered(future, crew) for future in waiting]
        for block in done:
            _kept(job, folder, block)
            advanced(len(block.problems))
        quickest = min(done, key=lambda b: b.seconds / len(b.problems))
        row = max(quickest.seconds, 1e-9) / len(quickest.problems)
        gaps = missing_rows(folder, job.plan.rows)
        warm = count > 1 or not gaps
        if warm and (quickest.seconds > TRIAL or row * rows < TRIAL or count == LARGEST or not gaps):
            return row, len(block_bytes(job, quickest)) / len(quickest.problems)
        count = min(4 * count, LARGEST)


def run(
    job: Job, folder: Path, crew: Crew, rows_in_block: int, advanced: Callable[[int], None] = lambda rows: None
) -> None:
    """Work out and write what is missing. ``advanced`` is told how many rows each block brought.

    Raises FolderError when a block cannot be written and CrewError when the workers keep dying; what was written
    stays, and running again goes on from there.
    """
    todo = _cut(missing_rows(folder, job.plan.rows), rows_in_block)
    waiting: set[Future[Block]] = set()
    try:
        while True:
            for start, stop in islice(todo, max(0, AHEAD * crew.workers - len(waiting))):
                waiting.add(crew.executor.submit(worked_block, job, start, stop))
            if not waiting:
                return
            done, waiting = wait(waiting, return_when=FIRST_COMPLETED)
            for future in done:
                block = _answered(future, crew)
                _kept(job, folder, block)
                advanced(len(block.problems))
    finally:
        for future in waiting:
            future.cancel()


def _answered(future: Future[Block], crew: Crew) -> Block:
    try:
        return future.result()
    except crew.lost as error:
        raise CrewError(f"{error}. The rows written so far stay.") from None


def _cut(gaps: list[tuple[int, int]], rows: int) -> Iterator[tuple[int, int]]:
    for start, stop in gaps:
        for at in range(start, stop, rows):
            yield at, min(at + rows, stop)


def _kept(job: Job, folder: Path, block: Block) -> None:
    path = block_path(folder, block)
    try:
        write_whole(path, block_bytes(job, block))
    except OSError as error:
        raise FolderError(
            f"{path} cannot be written: {why(error)}. The rows written so far stay; mend that and run the same "
            "command again."
        ) from None
