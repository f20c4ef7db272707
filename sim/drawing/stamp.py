"""What a picture's file says of where it comes from: the program's version, the scenario file's name and its digest.

Pictures are shown around: nothing of the scenario itself stands in them. No time either, so that the same scene gives
the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any, Final

from sim.telling.made_by import MadeBy, made_by

_MADE_BY: Final[ContextVar[MadeBy | None]] = ContextVar("made_by", default=None)
# Where version, files and digests go: PNG takes any keyword of latin letters, SVG and PDF a few of their own
_KEYS: Final = {
    "png": ("Software", "Scenario", "Scenario SHA-256"),
    "svg": ("Creator", "Source", "Identifier"),
    "pdf": ("Creator", "Subject", "Keywords"),
    "mp4": ("artist", "comment", "description"),
}
_UNDATED: Final = {"png": {}, "svg": {"Date": None}, "pdf": {"CreationDate": None}, "mp4": {}}


@contextmanager
def stamped(made: MadeBy) -> Iterator[None]:
    """Pictures that are written meanwhile say that they were made by this."""
    token = _MADE_BY.set(made)
    try:
        yield
    finally:
        _MADE_BY.reset(token)


def stamp(kind: str) -> dict[str, Any]:
    """Metadata for a file of a kind ("png", "svg", "pdf" as matplotlib takes them, "mp4")."""
    made = _MADE_BY.get() or made_by()
    program, files, digests = _KEYS[kind]
    told: dict[str, Any] = {program: f"hangflat {made.version}", **_UNDATED[kind]}
    if made.scenarios:
        told[files] = "; ".join(dict.fromkeys(one.file for one in made.scenarios))
        told[digests] = "; ".join(f"sha256:{one.sha256}" for one in made.scenarios)
    return told
