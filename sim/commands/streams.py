"""Standard streams that were closed, or that take no more."""

from __future__ import annotations

import errno
import os
import sys
from typing import Final

# what a full disk or a device that is gone says of a write, to whichever file
UNWRITABLE: Final = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO})


def stand_in_for_closed() -> None:
    """Let streams that were closed before the start read and write nothing.

    Else the next file that is opened gets the number of stdout or stderr, and what is said goes into it.
    """
    for number, name, mode in ((0, "stdin", "r"), (1, "stdout", "w"), (2, "stderr", "w")):
        try:
            os.fstat(number)
        except OSError:
            nothing = os.open(os.devnull, os.O_RDWR)
            if nothing != number:
                os.dup2(nothing, number)
                os.close(nothing)
            os.set_inheritable(number, True)
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(number, mode, encoding="utf-8", errors="replace", closefd=False))


def unwritable(wrong: Exception) -> str | None:
    """What stood against writing, in the system's words, when that is what went wrong."""
    return wrong.strerror if isinstance(wrong, OSError) and wrong.errno in UNWRITABLE else None
