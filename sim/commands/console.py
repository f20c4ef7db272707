"""What goes to the terminal, and how: answers to stdout, complaints to stderr, both in UTF-8."""

from __future__ import annotations

import io
import os
import sys
from typing import Final, TextIO

from scenarios.errors import printable, without_middle
from sim.commands.streams import stand_in_for_closed, unwritable

LONGEST_LINE: Final = 1000  # characters; paths and words of the command line may have many thousands


class UsageError(Exception):
    """What the user gave on the command line cannot be used; the message says why and what to do."""


def speak_utf8() -> None:
    """Write degree signs and the like also where the terminal or the pipe would use an older code page."""
    stand_in_for_closed()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")


def say(text: str) -> None:
    """The answer, to stdout. Raises UsageError where that is full."""
    try:
        sys.stdout.write(text.rstrip("\n") + "\n")
        sys.stdout.flush()
    except OSError as why:
        if (reason := unwritable(why)) is None:
            raise
        close_broken_stdout()
        raise UsageError(f"The answer cannot be written: {reason}. Make room, or send it elsewhere.") from None


def said(text: str) -> bool:
    """As ``say``, for a command with files yet to write: False, and silent from then on, when the reader has gone."""
    try:
        say(text)
    except BrokenPipeError:
        close_broken_stdout()
        return False
    return True


def complain(text: str) -> None:
    """What went wrong, to stderr: no line without end, nothing that steers the terminal."""
    sys.stdout.flush()
    lines = (printable(without_middle(line, LONGEST_LINE)) for line in text.rstrip("\n").split("\n"))
    try:
        sys.stderr.write("\n".join(lines) + "\n")
    except OSError:
        _point_at_nothing(sys.stderr)  # nobody can be told: the exit code has to do


def close_broken_stdout() -> None:
    """Point stdout at nothing once its reader has gone, so that the interpreter's last flush says nothing."""
    _point_at_nothing(sys.stdout)


def _point_at_nothing(stream: TextIO) -> None:
    try:
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, stream.fileno())
        os.close(nothing)
    except (OSError, ValueError):
        return
