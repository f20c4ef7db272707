"""Being told to end (kill, shutdown, a closed terminal) ends a command as Ctrl-C does: drafts go, workers end."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Final

TOLD_BY: Final = ("SIGTERM", "SIGHUP", "SIGBREAK")  # those that the system has


class EndedError(KeyboardInterrupt):
    """This process was told to end."""

    def __init__(self, signal: int) -> None:
        super().__init__(signal)
        self.signal = signal


@contextmanager
def heard() -> Iterator[None]:
    """Raise EndedError where the process would have ended on the spot; a signal that is ignored stays so."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    numbers = [getattr(signal, name) for name in TOLD_BY if hasattr(signal, name)]
    ours = [n for n in numbers if signal.getsignal(n) == signal.SIG_DFL]
    for number in ours:
        signal.signal(number, _raise)
    try:
        yield
    finally:
        for number in ours:
            signal.signal(number, signal.SIG_DFL)


def _raise(number: int, _frame: FrameType | None) -> None:
    raise EndedError(number)
