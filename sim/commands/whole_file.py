"""Write a file whole or not at all, and find out before long work whether it can be written."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterator
from contextlib import contextmanager, suppress
from itertools import count
from pathlib import Path
from typing import Final

from sim.commands.console import UsageError
from sim.commands.streams import unwritable
from sim.file_lock import taken

_NUMBERS = count()  # of the drafts of this process
_DRAFT: Final = re.compile(r"\.hangflat-\d+-\d+(\.\w+)?")
PICTURE_ENDINGS = (".png", ".svg", ".pdf")


@contextmanager
def written_whole(path: Path, endings: Collection[str] = ()) -> Iterator[Path]:
    """Give a draft beside ``path`` to write to; it takes the place of ``path`` when the block ends well.

    Raises UsageError at once when ``path`` cannot be written or ends in none of ``endings`` (lower case, with
    the dot). When the block raises, the draft is removed and ``path`` stays as it was.
    """
    target = _checked(path, endings)
    _swept(target.parent)
    # its name is short, since the file system may just allow that of the file itself; the ending says what is drawn
    ending = target.suffix if target.suffix.lower() in endings else ""
    draft = target.with_name(f".hangflat-{os.getpid()}-{next(_NUMBERS)}{ending}")
    try:
        handle = _opened(draft)
    except OSError as why:
        raise UsageError(f"{path} cannot be written: {why.strerror}. Give a file in a folder of yours.") from None
    try:
        try:
            yield draft
        finally:
            os.close(handle)
        os.replace(draft, target)
    except PermissionError as why:
        if why.filename2 is None:
            raise
        raise UsageError(f"{path} cannot be replaced: is it open in another program? Close it there.") from None
    except OSError as why:
        if (reason := unwritable(why)) is None:
            raise
        raise UsageError(f"{path} cannot be written: {reason}. Make room, or give another place.") from None
    finally:
        draft.unlink(missing_ok=True)


def _opened(draft: Path) -> int:
    """The draft opened and, but on Windows, locked; made again when another process swept it away before that."""
    while True:
        handle = os.open(draft, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o666)
        with suppress(OSError):  # where files know no locks, others may take the draft for left behind
            if os.name != "nt":  # there a lock would keep the draft from being written; open files stay anyway
                taken(handle)
        if draft.exists():
            return handle
        os.close(handle)


def _swept(folder: Path) -> None:
    """Remove the drafts of processes that were killed: those that nobody has open."""
    with suppress(OSError):  # the folder cannot be listed
        for name in filter(_DRAFT.fullmatch, os.listdir(folder)):
            with suppress(OSError):
                _remove_unless_held(folder / name)


def _remove_unless_held(draft: Path) -> None:
    if os.name == "nt":
        draft.unlink()  # which fails for a file that is open
        return
    with draft.open("rb+") as file:
        if taken(file.fileno()):
            draft.unlink()


def _checked(path: Path, endings: Collection[str]) -> Path:
    """The file that ``path`` means, links followed."""
    if endings and path.suffix.lower() not in endings:
        allowed = " or ".join(endings)
        if not path.suffix:
            raise UsageError(f"{path} has no ending; give a name that ends in {allowed}.")
        raise UsageError(f"{path} ends in {path.suffix!r}; give a name that ends in {allowed}.")
    try:
        target = path.resolve()
        with suppress(FileNotFoundError, NotADirectoryError):
            target.lstat()  # raises for a name that the file system does not take
    except (OSError, RuntimeError, ValueError) as why:  # the last two: a circle of links, a zero byte
        reason = getattr(why, "strerror", None) or str(why)
        raise UsageError(f"{path} cannot be written: {reason}. Give another name.") from None
    if not os.path.isdir(target.parent):  # unlike Path.is_dir, never raises
        raise UsageError(f"{path} cannot be written: there is no folder {target.parent}. Make it first.")
    if os.path.isdir(target):
        raise UsageError(f"{path} is a folder; give the name of a file in it.")
    if os.path.exists(target) and not (os.path.isfile(target) and os.access(target, os.W_OK)):
        raise UsageError(f"{path} exists and may not be overwritten; give another name.")
    return target
