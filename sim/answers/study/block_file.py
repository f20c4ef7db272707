"""One block of rows as a Parquet file: written whole or not at all, with units and origin in its metadata."""

from __future__ import annotations

import errno
import io
import json
import os
import re
import zlib
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from sim.answers.study.needed import polars
from sim.answers.study.record import BlockRecord
from sim.telling.record import as_json

if TYPE_CHECKING:
    from polars import DataFrame

    from sim.answers.study.job import Block, Job

META: Final = "hangflat"  # key of the Parquet metadata
UNSEALED: Final = (
    b"crc32 00000000"  # among the metadata, at the end of the file; the sum is taken with nil in its place
)
_SEAL: Final = re.compile(rb"crc32 [0-9a-f]{8}")


def block_table(job: Job, block: Block) -> DataFrame:
    """The block as a table: row, the inputs, the answers, and why a row has none. What is missing is null."""
    pl = polars()
    columns: list[Any] = [pl.Series("row", np.arange(block.start, block.stop))]
    for column in job.plan.told:
        values = block.inputs[column.name]
        if column.labels is None:
            columns.append(pl.Series(column.name, values).fill_nan(None))
        else:
            names = [None if np.isnan(v) else column.labels[int(v)] for v in values]
            columns.append(pl.Series(column.name, names, dtype=pl.String))
    columns += [pl.Series(name, values).fill_nan(None) for name, values in block.answers.items()]
    columns.append(pl.Series("problem", [p or None for p in block.problems], dtype=pl.String))
    table: DataFrame = pl.DataFrame(columns)
    return table


def block_bytes(job: Job, block: Block) -> bytes:
    """The block as a Parquet file that carries a check sum of itself."""
    out = io.BytesIO()
    told = {META: json.dumps(as_json(described(job)), ensure_ascii=False), f"{META}.sum": UNSEALED.decode()}
    block_table(job, block).write_parquet(out, metadata=told)
    content = out.getvalue()
    at = content.rindex(UNSEALED)
    return content[:at] + _seal(content) + content[at + len(UNSEALED) :]


def is_whole(path: Path) -> bool:
    """Whether the file is to the last bit what was written. Raises OSError where it cannot be read."""
    content = path.read_bytes()
    footer = len(content) - 8 - int.from_bytes(content[-8:-4], "little")  # of Parquet: its length, then PAR1
    found = list(_SEAL.finditer(content, max(0, footer)))
    if not found:
        return False
    start, stop = found[-1].span()
    return content[start:stop] == _seal(content[:start] + UNSEALED + content[stop:])


def _seal(content: bytes) -> bytes:
    return b"crc32 %08x" % zlib.crc32(content)


def described(job: Job) -> BlockRecord:
    """What every block of a job says of it."""
    return BlockRecord(
        title=job.title,
        version=job.identity.version,
        scenario=job.identity.scenario,
        seed=job.plan.seed,
        design=job.plan.kind,
        rows=job.plan.rows,
        units={c.name: c.unit for c in job.plan.told} | {o.column: o.unit for o in job.outputs},
    )


def write_whole(path: Path, content: bytes) -> None:
    """Put a file in place at once: under a name of its own first, on the disk for sure, then renamed.

    Raises OSError; then nothing stands at ``path`` and nothing is left beside it.
    """
    draft = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        with draft.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(draft, path)
    except BaseException:
        draft.unlink(missing_ok=True)
        raise
    _sync_folder(path.parent)


def why(error: OSError) -> str:
    """Why something could not be written, in words."""
    full = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC))
    return "the disk is full" if error.errno in full else str(error.strerror)


def _sync_folder(folder: Path) -> None:
    """Make the new name last through a power cut, where the system can."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:  # Windows does not open folders
        return
    try:
        os.fsync(handle)
    except OSError:  # some network disks refuse
        pass
    finally:
        os.close(handle)
