"""Watching long work: what it will take, then a bar, both on stderr; silent where it is over at once."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Final, TypeVar

SOON: Final = 2.0  # s
T = TypeVar("T")


def watched(work: Iterable[T], steps: int, seconds: float, workers: int, told: str) -> Iterator[T]:
    """Give on each of ``steps`` pieces of ``work``; ``told`` says what it is, like "400 people"."""
    if seconds < SOON:
        yield from work
        return
    from rich.console import Console
    from rich.progress import track

    console = Console(stderr=True)
    where = "one core" if workers == 1 else f"{workers} cores"
    console.print(f"{told}: about {_rounded(seconds)} on {where}.", highlight=False)
    yield from track(work, "working ", steps, console=console, transient=True, disable=not console.is_terminal)


@contextmanager
def waiting(told: str) -> Iterator[None]:
    """A sign of life on a terminal's stderr while something goes on whose end nobody knows beforehand."""
    if not sys.stderr.isatty():
        yield
        return
    from rich.console import Console

    with Console(stderr=True).status(told):
        yield


def _rounded(seconds: float) -> str:
    """To two figures below ten minutes, then in minutes."""
    if seconds < 100.0:
        return f"{max(5.0 * round(seconds / 5.0), 5.0):.0f} seconds"
    return f"{seconds / 60.0:.0f} minutes"
