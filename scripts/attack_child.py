"""Run a function in a forked child with limits of processor time and memory, and say how it went (Linux, macOS)."""

from __future__ import annotations

import contextlib
import os
import pickle
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

MEMORY_UNIT = 1 if sys.platform == "darwin" else 1024  # bytes in one unit of ru_maxrss


@dataclass(frozen=True)
class Outcome:
    """What became of one call.

    value : what the function returned, or None
    error : traceback of an exception that it raised, or how the child died; empty when it returned
    processor : [s];  peak : [bytes], of the child's resident memory (what it shares with its parent counted)
    """

    value: Any
    error: str
    processor: float
    peak: int


def in_child(call: Callable[[], Any], *, processor: float, memory: int, wall: float) -> Outcome:
    """Call in a forked copy of this process, so that thousands of inputs share one import of the libraries.

    processor : [s] of CPU time, after which the child is killed by the system
    memory : [bytes] of address space that the child may add to what this process has now
    wall : [s] of time by the clock, after which it is killed
    """
    with tempfile.TemporaryFile() as answer:
        sys.stdout.flush()
        sys.stderr.flush()
        child = os.fork()
        if child == 0:
            _child(call, answer.fileno(), processor, memory)
        status, used = _awaited(child, wall)
        answer.seek(0)
        told = answer.read()
    value, error = pickle.loads(told) if told else (None, "")
    if not told:
        error = f"died of signal {os.WTERMSIG(status)}" if os.WIFSIGNALED(status) else f"ended, status {status}"
    return Outcome(value, error, used.ru_utime + used.ru_stime, used.ru_maxrss * MEMORY_UNIT)


def _child(call: Callable[[], Any], answer: int, processor: float, memory: int) -> None:
    """Never returns: the child ends here, without the clean-up that belongs to its parent."""
    try:
        limit = max(1, int(processor) + 1)
        resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1))
        if (mapped := _mapped()) is not None:
            resource.setrlimit(resource.RLIMIT_AS, (mapped + memory, mapped + memory))
        try:
            told = pickle.dumps((call(), ""))
        except BaseException:  # whatever escapes is what the parent wants to know
            told = pickle.dumps((None, traceback.format_exc()))
        os.lseek(answer, 0, os.SEEK_SET)
        os.write(answer, told)
    finally:
        os._exit(0)


def _mapped() -> int | None:
    """Address space of this process [bytes], where the system says it."""
    try:
        with open("/proc/self/statm", encoding="ascii") as statm:
            return int(statm.read().split()[0]) * resource.getpagesize()
    except OSError:
        return None


def _awaited(child: int, wall: float) -> tuple[int, resource.struct_rusage]:
    until = time.monotonic() + wall
    pause = 0.0005
    while True:
        ended, status, used = os.wait4(child, os.WNOHANG)
        if ended:
            return status, used
        if time.monotonic() > until:
            with contextlib.suppress(ProcessLookupError):
                os.kill(child, signal.SIGKILL)
            _, status, used = os.wait4(child, 0)
            return status, used
        time.sleep(pause)
        pause = min(2 * pause, 0.02)
