"""Processes that share work which takes each its own time, and end when this process does, however it ends.

Each has a pipe of its own, which nobody else holds: its end is seen at once, costs only what it had in hand, and can
neither block the others nor leave half an answer in a pipe that they share.
"""

from __future__ import annotations

import logging
import os
import signal
import threading
import time
import traceback
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import CancelledError, Executor, Future, ThreadPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import get_all_start_methods, get_context, parent_process
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any, Final, ParamSpec, TypeVar

# imported once, in the process that all workers are copies of, where the system can copy processes
READY: Final = ("sim.uncertainty.outcomes", "sim.uncertainty.variants", "scipy.spatial", "shapely")
# each has a core to itself: threads of its linear algebra would only wait for those of the others
ONE_THREAD: Final = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS")
ENDING: Final = 0.3  # s, within which a killed process is gone on a busy machine
DEATHS: Final = 3  # of workers over one piece of work, after which it is no chance

P = ParamSpec("P")
T = TypeVar("T")
_log: Final = logging.getLogger(__name__)
_starting: Final = threading.Lock()


class WorkersLostError(Exception):
    """Worker processes keep ending, or cannot be started; the message says why and what to do."""


class WorkerPool(Executor):
    """Fresh processes, each started when there is work for it.

    Work whose process ended before it answered is given to another, and a line is logged. Raises WorkersLostError for
    work over which processes keep ending; what the work itself raises comes through.
    """

    def __init__(self, workers: int, ready: Sequence[str] = READY) -> None:
        self._ready = ready
        self._closing = False
        self._running: set[_Worker] = set()
        self._mine = threading.local()  # the worker of each thread
        self._threads = ThreadPoolExecutor(workers, "worker")

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        return self._threads.submit(self._by_a_worker, fn, args, kwargs)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = True) -> None:
        """End the processes now; work that has not come back by then is lost."""
        self._closing = True
        for worker in tuple(self._running):
            worker.process.kill()
        self._threads.shutdown(wait, cancel_futures=True)
        for worker in tuple(self._running):
            worker.end()

    def _by_a_worker(self, fn: Callable[..., T], args: Sequence[Any], kwargs: Mapping[str, Any]) -> T:
        for deaths in range(1, DEATHS + 1):
            worker = getattr(self._mine, "worker", None) or self._started()
            try:
                good, answer = worker.asked((fn, args, kwargs))
            except (EOFError, OSError):
                self._mourned(worker, deaths)
                continue
            if not good:
                raise answer
            return answer  # type: ignore[no-any-return]
        raise WorkersLostError(
            f"worker processes ended {DEATHS} times over the same piece of work (often: the memory ran out); "
            "run it again with fewer workers"
        )

    def _mourned(self, worker: _Worker, deaths: int) -> None:
        self._running.remove(worker)
        self._mine.worker = None
        worker.end()
        if self._closing:
            raise CancelledError
        then = "its work is begun again" if deaths < DEATHS else "its work is given up"
        _log.warning("A worker process %s; %s.", _how_it_ended(worker.process.exitcode), then)

    def _started(self) -> _Worker:
        """A new process for this thread."""
        self._mine.worker = worker = self._begun()
        self._running.add(worker)
        if self._closing:
            worker.process.kill()
        return worker

    def _begun(self) -> _Worker:
        """A new process; one that ends before it has said its number is begun again, after a moment.

        The process that all are copies of may itself be ending: for a while it takes no calls and is still there.
        """
        for deaths in range(1, DEATHS + 1):
            try:
                with _starting, _one_thread(), _interrupts_held_back():
                    ours, theirs = _context(self._ready).Pipe()
                    process = _context(self._ready).Process(target=_serve, args=(theirs,), daemon=True)
                    process.start()
                    theirs.close()
                return _Worker(process, ours)
            except (EOFError, ConnectionError):  # it, or the process that it is a copy of, was killed meanwhile
                ours.close()
                theirs.close()
                if self._closing:
                    raise CancelledError from None
                time.sleep(deaths * ENDING)
            except OSError as error:
                raise WorkersLostError(
                    f"no worker process can be started: {error.strerror}; run it again with fewer workers"
                ) from None
        raise WorkersLostError(
            f"{DEATHS} worker processes ended while they were started (often: the memory ran out); run it again with "
            "fewer workers"
        )


@contextmanager
def worker_pool(workers: int) -> Iterator[Executor | None]:
    """A pool of fresh processes, or None when one process does it all."""
    if workers < 2:
        yield None
        return
    with WorkerPool(workers) as pool:
        yield pool


@dataclass(frozen=True, eq=False)
class _Worker:
    """A process and this end of its pipe."""

    process: BaseProcess
    connection: Connection

    def asked(self, work: Any) -> tuple[bool, Any]:
        """Whether it went well, and what came of it. Raises EOFError or OSError when the process has ended."""
        self.connection.send(work)
        return self.connection.recv()  # type: ignore[no-any-return]

    def end(self) -> None:
        """Let go of a process that has ended."""
        self.connection.close()
        self.process.join()


def _serve(connection: Connection) -> None:
    """Do what the parent asks for, one piece of work after another."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C goes to all; the parent says when it is over
    threading.Thread(target=_end_with_parent, daemon=True).start()
    with suppress(EOFError, OSError):  # the parent is gone
        while True:
            try:
                work, args, kwargs = connection.recv()
                answer = (True, work(*args, **kwargs))
            except EOFError:
                return
            except Exception as error:
                error.add_note(traceback.format_exc())
                answer = (False, error)
            _send(connection, answer)


def _send(connection: Connection, answer: tuple[bool, Any]) -> None:
    try:
        connection.send(answer)
    except OSError:
        raise
    except Exception as error:  # it cannot be pickled
        connection.send((False, TypeError(f"a worker's answer cannot be sent: {error}")))


def _end_with_parent() -> None:
    """Also out of compiled code, which does not hear of anything."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _context(ready: Sequence[str]) -> Any:
    """How workers are started: never as copies of this process, which may have threads at work."""
    if "forkserver" not in get_all_start_methods():
        return get_context("spawn")
    context = get_context("forkserver")
    context.set_forkserver_preload(list(ready))
    return context


@contextmanager
def _one_thread() -> Iterator[None]:
    """Processes begun meanwhile keep to one core."""
    before = {name: os.environ.get(name) for name in ONE_THREAD}
    os.environ.update(dict.fromkeys(ONE_THREAD, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


@contextmanager
def _interrupts_held_back() -> Iterator[None]:
    """A process begun meanwhile never hears Ctrl-C, and this one hears of it when that is done."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # which would let them through again
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _how_it_ended(code: int | None) -> str:
    if code is not None and code < 0:
        with suppress(ValueError):
            return f"was ended by {signal.Signals(-code).name}"
    return f"ended by itself (exit code {code})"
