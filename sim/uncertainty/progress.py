"""Who wants to know how far the work is."""

from __future__ import annotations

from collections.abc import Callable

Progress = Callable[[float], None]  # told the share of the work that is done, 0 to 1


def unheard(share: float) -> None:
    """Nobody wants to know."""


def part_of(done: Progress, start: float, end: float) -> Progress:
    """For a step that takes the whole from ``start`` to ``end``."""
    return lambda share: done(start + (end - start) * share)
