"""Locks on open files that the system lets go of when the process ends, however it ends: none is ever stale."""

from __future__ import annotations

import os


def taken(handle: int) -> bool:
    """Lock an open file until it is closed; False where another has it. Raises OSError where files know no locks."""
    try:
        if os.name == "nt":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined, unused-ignore]
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True
