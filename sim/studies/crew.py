"""Who works out the blocks: processes on this machine, or an existing Dask cluster. Both are executors."""

from __future__ import annotations

import os
import re
from abc import ABC, abstractmethod
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from importlib import metadata
from multiprocessing import get_context
from typing import Any, Final

from sim.studies.needed import distributed

ONE_THREAD: Final = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS")
REACHED_IN: Final = 15.0  # s, after which a cluster that does not answer is given up
_ADDRESS: Final = re.compile(r"[a-z]+://[^\s:/]+:\d+")
_LIKE: Final = "give the one that it prints when it starts, like tcp://192.168.0.10:8786"


class CrewError(Exception):
    """No one to work out the blocks; the message says why and what to do."""


class Crew(ABC):
    """Workers. ``lost`` are the errors that say that workers died, not that the work was wrong."""

    lost: tuple[type[BaseException], ...]

    @property
    @abstractmethod
    def workers(self) -> int:
        """How many blocks are worked out at once."""

    @property
    @abstractmethod
    def executor(self) -> Executor:
        """Where to hand blocks to."""

    @abstractmethod
    def renew(self) -> None:
        """Find workers in place of those that died."""


class Processes(Crew):
    """Spawned processes on this machine, each of one thread."""

    lost = (BrokenProcessPool,)

    def __init__(self, workers: int) -> None:
        self._workers = workers
        self._pool = self._new()

    @property
    def workers(self) -> int:
        return self._workers

    @property
    def executor(self) -> Executor:
        return self._pool

    def renew(self) -> None:
        self._pool.shutdown(wait=True, cancel_futures=True)
        self._pool = self._new()

    def _new(self) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(self._workers, mp_context=get_context("spawn"))


class Cluster(Crew):
    """The workers of a Dask cluster."""

    lost = ()

    def __init__(self, client: Any) -> None:
        self._client = client
        self._executor = client.get_executor(pure=False, retries=3)

    @property
    def workers(self) -> int:
        cores: dict[str, int] = self._client.ncores()
        return max(1, sum(cores.values()))

    @property
    def executor(self) -> Executor:
        executor: Executor = self._executor
        return executor

    def renew(self) -> None:
        """The cluster hands the blocks of a dead worker to another by itself."""


@contextmanager
def processes(workers: int | None = None) -> Iterator[Crew]:
    """A crew of so many processes, or of one for each core that this process may use."""
    before = {name: os.environ.get(name) for name in ONE_THREAD}
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))  # read by the spawned, each of which has a core to itself
    crew = Processes(workers or cores())
    try:
        yield crew
    finally:
        crew.executor.shutdown(wait=True, cancel_futures=True)
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


def cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def cluster(address: str) -> Iterator[Crew]:
    """The workers of the Dask cluster whose scheduler is at ``address``. Raises CrewError, NotInstalledError."""
    dask = distributed()
    if not _ADDRESS.fullmatch(address):
        raise CrewError(f'"{address}" is no address of a Dask scheduler; {_LIKE}')
    try:
        client = dask.Client(address, timeout=REACHED_IN, set_as_default=False)
    except (OSError, ValueError) as error:
        raise CrewError(f"no Dask scheduler answers at {address} ({error}); {_LIKE}") from None
    with client:
        _check_workers(client, address)
        yield Cluster(client)


def _check_workers(client: Any, address: str) -> None:
    """There must be workers, and all of them must have this very hangflat."""
    if not client.ncores():
        raise CrewError(f"the Dask scheduler at {address} has no workers; start some: dask worker {address}")
    ours = metadata.version("hangflat")
    found = client.run(installed_version)
    other = {version or "none" for version in found.values()} - {ours}
    if other:
        raise CrewError(
            f"the workers at {address} have hangflat {', '.join(sorted(other))}, this is {ours}; "
            "install the same version on all machines"
        )


def installed_version() -> str | None:
    """The version of hangflat that the asked process has."""
    try:
        return metadata.version("hangflat")
    except metadata.PackageNotFoundError:
        return None
