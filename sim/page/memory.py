"""Memory that was freed goes back to the system.

The C library keeps it, in pieces between what is still held: tens of megabytes after a hundred changes, though
no more is held than after one.
"""

from __future__ import annotations

import ctypes
import sys
from contextlib import suppress


def give_back() -> None:
    """Where the C library can be told to (glibc); a few milliseconds."""
    if sys.platform == "linux":
        with suppress(OSError, AttributeError):
            ctypes.CDLL("libc.so.6").malloc_trim(0)
