"""Shapes are made from a few numbers, and the same ones again and again where many divers wear the same gear."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Final, ParamSpec, TypeVar, cast

Given = ParamSpec("Given")
Made = TypeVar("Made")

MOST: Final = 32
FEW: Final = 8


def memoized(make: Callable[Given, Made]) -> Callable[Given, Made]:
    """The same maker, which hands out again what it made last from the same numbers; what it makes must be frozen."""
    return cast(Callable[Given, Made], lru_cache(maxsize=MOST)(make))


def memoized_on_body(make: Callable[Given, Made]) -> Callable[Given, Made]:
    """The same for what is laid on a body or fitted to one, of which fewer are held on to, since each person's are
    others; nobody may write into what it makes.

    A body, a plate or a placement counts as the same only if it is the very object, so that none can go stale.
    """
    return cast(Callable[Given, Made], lru_cache(maxsize=FEW)(make))
