"""Who works out the blocks: processes on this machine, or an existing Dask cluster. Both are executors."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError, Executor, Future
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import metadata
from typing import Any, Final, ParamSpec, Protocol, TypeVar

from sim.answers.study.needed import distributed
from sim.worker_pool import WorkerPool, WorkersLostError

# what every block needs, imported once for all workers
READY: Final = (
    "sim.answers.study.parts_model",
    "sim.assembly.scenario_rig",
    "sim.batch.flat",
    "sim.batch.held",
    "sim.batch.rest",
)
REACHED_IN: Final = 15.0  # s, after which a cluster that does not answer is given up
_ADDRESS: Final = re.compile(r"[a-z]+://[^\s:/]+:\d+")
_LIKE: Final = "give the one that it prints when it starts, like tcp://192.168.0.10:8786"

P = ParamSpec("P")
T = TypeVar("T")


class CrewError(Exception):
    """No one to work out the blocks; the message says why and what to do."""


class Crew(Protocol):
    """Workers."""

    @property
    def workers(self) -> int:
        """How many blocks are worked out at once."""

    @property
    def executor(self) -> Executor:
        """Where to hand blocks to; it gives those of a worker that died to another."""

    @property
    def lost(self) -> tuple[type[BaseException], ...]:
        """The errors that say that workers were lost for good, not that the work was wrong."""


@dataclass(frozen=True)
class Processes:
    """Processes on this machine, each of one thread."""

    workers: int
    executor: Executor
    lost: tuple[type[BaseException], ...] = (WorkersLostError,)


@dataclass(frozen=True)
class Cluster:
    """The workers of a Dask cluster, which may become more or fewer."""

    client: Any
    executor: Executor
    lost: tuple[type[BaseException], ...]

    @property
    def workers(self) -> int:
        cores: dict[str, int] = self.client.ncores()
        return max(1, sum(cores.values()))


class Here(Executor):
    """This process, which is at once done with what is handed to it."""

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        done: Future[T] = Future()
        try:
            done.set_result(fn(*args, **kwargs))
        except Exception as error:
            done.set_exception(error)
        return done


@contextmanager
def alone() -> Iterator[Crew]:
    """This process, kept to one thread of linear algebra as the others are, so that it gives the same bits."""
    from threadpoolctl import threadpool_limits

    with threadpool_limits(1):
        yield Processes(1, Here())


@contextmanager
def processes(workers: int | None = None) -> Iterator[Crew]:
    """A crew of so many processes, or of one for each core that this process may use."""
    count = workers or cores()
    with WorkerPool(count, READY) as pool:
        yield Processes(count, pool)


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
        yield Cluster(client, client.get_executor(pure=False, retries=3), (dask.KilledWorker, CancelledError))


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
