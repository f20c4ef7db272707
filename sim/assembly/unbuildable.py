"""A scenario that reads well but cannot be built, blamed on a key of its file."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


class UnbuildableError(ValueError):
    """A scenario that reads well but cannot be built; ``key`` is the table or entry to blame."""

    def __init__(self, key: str, message: str) -> None:
        self.key = key
        super().__init__(message)


@contextmanager
def blaming(key: str) -> Iterator[None]:
    """Turn a ValueError from a shape or a body into one that names the key of the file."""
    try:
        yield
    except UnbuildableError:
        raise
    except ValueError as error:
        raise UnbuildableError(key, str(error)) from error
