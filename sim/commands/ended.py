"""Being told to end (kill, shutdown, a closed terminal) ends a command as Ctrl-C does: drafts go, workers end."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Final

TOLD_BY: Final = ("SIGTERM", "SIGHUP", "SIGBREAK")  # those that the system has
LATER: Final = 0.05  # s, until an interrupt that was lost comes again


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
    before, sys.unraisablehook = sys.unraisablehook, _told_again(sys.unraisablehook)
    try:
        yield
    finally:
        sys.unraisablehook = before
        for number in ours:
            signal.signal(number, signal.SIG_DFL)


def _raise(number: int, _frame: FrameType | None) -> None:
    raise EndedError(number)


def _told_again(hook: Callable[[sys.UnraisableHookArgs], object]) -> Callable[[sys.UnraisableHookArgs], object]:
    """Where an interrupt cannot be raised (in what a compiler calls back, in a destructor) it comes again later."""

    def told(lost: sys.UnraisableHookArgs) -> None:
        if not isinstance(lost.exc_value, KeyboardInterrupt):
            hook(lost)
            return
        number = lost.exc_value.signal if isinstance(lost.exc_value, EndedError) else signal.SIGINT
        again = threading.Timer(LATER, _send, (number,))
        again.daemon = True
        again.start()

    return told


def _send(number: int) -> None:
    """To the main thread, out of its sleep where the system can."""
    main = threading.main_thread().ident
    if hasattr(signal, "pthread_kill") and main is not None:
        signal.pthread_kill(main, number)
    else:
        signal.raise_signal(number)
