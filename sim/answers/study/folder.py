"""A study's folder: what study it holds, which rows are there, and the lock of whoever writes to it.

study.json                             the study: its inputs, outputs, design and what identifies it
rows/0000000000-0000004999.parquet     blocks of rows, first and last row in the name
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from sim.answers.study.block_file import described, is_whole, why, write_whole
from sim.answers.study.record import StudiedInput, StudyRecord, record_from
from sim.file_lock import taken
from sim.telling.record import as_json

if TYPE_CHECKING:
    from sim.answers.study.inputs import Input
    from sim.answers.study.job import Block, Job

RECORD: Final = "study.json"
_BLOCK: Final = re.compile(r"\d{10}-\d{10}\.parquet")
_ANEW: Final = "Put the file back, or give another folder to begin anew."


class FolderError(Exception):
    """A folder that cannot be used for this study; the message says why and what to do."""


def block_path(folder: Path, block: Block) -> Path:
    """Where a block lies."""
    return folder / "rows" / f"{block.start:010d}-{block.stop - 1:010d}.parquet"


@contextmanager
def opened(folder: Path, job: Job) -> Iterator[list[Path]]:
    """The folder made, or found to hold this very study, and kept from other runs meanwhile.

    Gives the blocks that were damaged and have been put away, so that their rows are missing again.
    Raises FolderError.
    """
    with ExitStack() as stack:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            lock = stack.enter_context((folder / ".lock").open("w", encoding="utf-8"))
            if not taken(lock.fileno()):
                raise FolderError(f"another run is writing to {folder} now; wait for it, or give another folder")
            damaged = _begin(folder, job)
        except OSError as error:
            raise FolderError(
                f"{folder} cannot be written to: {why(error)}. Mend that, or give another folder."
            ) from None
        yield damaged


def _begin(folder: Path, job: Job) -> list[Path]:
    record = folder / RECORD
    for draft in folder.glob(f".{RECORD}.*"):  # of runs that were killed
        draft.unlink()
    if record.exists():
        _check_same(folder, job, read_record(folder))
    elif other := next((p.name for p in folder.iterdir() if not p.name.startswith(".")), None):
        raise FolderError(f"{folder} holds other things ({other}) and no study; give a new or an empty folder")
    else:
        write_whole(record, json.dumps(as_json(recorded(job)), ensure_ascii=False, indent=1).encode())
    (folder / "rows").mkdir(exist_ok=True)
    for draft in (folder / "rows").glob(".*.parquet.*"):
        draft.unlink()
    damaged = [block for block in blocks(folder) if not is_whole(block)]
    for block in damaged:
        block.unlink()
    return damaged


def recorded(job: Job) -> StudyRecord:
    """All that is needed to read the results without the study file."""
    return StudyRecord(
        block=described(job),
        number=job.plan.number,
        inputs=tuple(_told(one) for one in job.plan.inputs),
        outputs=job.outputs,
        identity=job.identity,
        made_by=job.made_by,
    )


def _told(one: Input) -> StudiedInput:
    columns = [c for c in one.columns if c.told]
    return StudiedInput(one.title, one.levels, tuple(c.name for c in columns), tuple(c.labels for c in columns))


def read_record(folder: Path) -> StudyRecord:
    """The study's record. Raises FolderError where there is none, or none that can be read."""
    try:
        told = json.loads((folder / RECORD).read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise FolderError(
            f'{folder} holds no study: there is no {RECORD} in it; "hangflat study" makes one'
        ) from None
    except (OSError, ValueError, RecursionError) as error:
        why = getattr(error, "strerror", None) or error
        raise FolderError(f"{folder / RECORD} cannot be read: {why}. {_ANEW}") from None
    try:
        return record_from(told)
    except (KeyError, TypeError, AttributeError, ValueError):
        raise FolderError(f"{folder / RECORD} is damaged: it does not say what study it is of. {_ANEW}") from None


def missing_rows(folder: Path, rows: int) -> list[tuple[int, int]]:
    """Runs of rows (first, after the last) for which there is no block yet, in order."""
    gaps, at = [], 0
    for start, stop in sorted(done_blocks(folder)):
        if start > at:
            gaps.append((at, start))
        at = max(at, stop)
    if at < rows:
        gaps.append((at, rows))
    return gaps


def done_blocks(folder: Path) -> Iterator[tuple[int, int]]:
    """Runs of rows (first, after the last) of the blocks that are there."""
    for block in blocks(folder):
        first, last = block.stem.split("-")
        yield int(first), int(last) + 1


def blocks(folder: Path) -> list[Path]:
    """The blocks that are there, in order."""
    try:
        names = sorted(name for name in os.listdir(folder / "rows") if _BLOCK.fullmatch(name))
    except OSError as error:
        raise FolderError(f"{folder / 'rows'} cannot be read: {error.strerror}") from None
    return [folder / "rows" / name for name in names]


def _check_same(folder: Path, job: Job, record: StudyRecord) -> None:
    if other := job.identity.others(record.identity):
        raise FolderError(
            f"{folder} holds the rows of another study: {' and '.join(other)} changed since it was begun. "
            "Give another folder, or delete this one to begin anew."
        )
