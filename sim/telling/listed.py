"""Several things named one after another, as the end of a sentence has them."""

from __future__ import annotations

from collections.abc import Sequence

from sim.said import joined, note


def listed(words: Sequence[str]) -> str:
    """As "a, b and c", to be told; one alone is itself."""
    if len(words) < 2:
        return words[0] if words else ""
    return note("{most} and {last}", most=joined(words[:-1]), last=words[-1])
