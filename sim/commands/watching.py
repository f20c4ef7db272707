"""Watching long work: what it will take, then a bar, both on stderr; silent where it is over at once."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Final, TypeVar

from sim.said import word
from sim.telling.language import say, say_count

SOON: Final = 2.0  # s
DRAWING: Final = word("Drawing")
T = TypeVar("T")


def watched(work: Iterable[T], steps: int, seconds: float, workers: int, told: str) -> Iterator[T]:
    """Give on each of ``steps`` pieces of ``work``; ``told`` says what it is, like "400 people"."""
    if seconds < SOON:
        yield from work
        return
    from rich.console import Console
    from rich.progress import track

    console = Console(stderr=True)
    time = _rounded(seconds)
    words = say("{what}: about {time} on one core.", what=told, time=time)
    if workers > 1:
        words = say("{what}: about {time} on {number} cores.", what=told, time=time, number=workers)
    console.print(words, highlight=False)
    yield from track(
        work, f"{say('working')} ", steps, console=console, transient=True, disable=not console.is_terminal
    )


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
        return say_count("{n} second", "{n} seconds", round(max(5.0 * round(seconds / 5.0), 5.0)))
    return say_count("{n} minute", "{n} minutes", round(seconds / 60.0))
