"""Libraries that only studies need: asked for when used, and said plainly when they are not there."""

from __future__ import annotations

from types import ModuleType

from meshes.extra_packages import how_to_get


class NotInstalledError(Exception):
    """A library of an optional extra is not there; the message says how to get it."""


def polars() -> ModuleType:
    """polars, for tables. Raises NotInstalledError."""
    try:
        import polars
    except ImportError:
        raise _missing("polars", "study") from None
    return polars


def distributed() -> ModuleType:
    """dask.distributed, for other machines. Raises NotInstalledError."""
    try:
        import distributed
    except ImportError:
        raise _missing("dask.distributed", "cluster") from None
    return distributed


def _missing(library: str, extra: str) -> NotInstalledError:
    return NotInstalledError(f"this needs {library}, which is not installed; {how_to_get(extra)}")
