"""Write a file whole or not at all, and find out before long work whether it can be written."""

from __future__ import annotations

import os
import re
from collections.abc import Collection, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from sim.commands.console import UsageError
from sim.file_lock import taken

PICTURE_ENDINGS = (".png", ".svg", ".pdf")


@contextmanager
def written_whole(path: Path, endings: Collection[str] = ()) -> Iterator[Path]:
    """Give a draft beside ``path`` to write to; it takes the place of ``path`` when the block ends well.

    Raises UsageError at once when ``path`` cannot be written or ends in none of ``endings`` (lower case, with
    the dot). When the block raises, the draft is removed and ``path`` stays as it was.
    """
    target = _checked(path, endings)
    draft = target.with_name(f".{target.stem}.{os.getpid()}{target.suffix}")
    _swept(target)
    try:
        handle = os.open(draft, os.O_CREAT | os.O_TRUNC | os.O_WRONLY, 0o666)
    except OSError as why:
        raise UsageError(f"{path} cannot be written: {why.strerror}. Give a file in a folder of yours.") from None
    try:
        try:
            with suppress(OSError):  # where files know no locks, others may take the draft for left behind
                taken(handle)
            yield draft
        finally:
            os.close(handle)
        os.replace(draft, target)
    except PermissionError as why:
        if why.filename2 is None:
            raise
        raise UsageError(f"{path} cannot be replaced: is it open in another program? Close it there.") from None
    finally:
        draft.unlink(missing_ok=True)


def _swept(target: Path) -> None:
    """Remove the drafts of processes that were killed: those that nobody has locked."""
    ours = re.compile(re.escape(f".{target.stem}.") + r"\d+" + re.escape(target.suffix))
    with suppress(OSError):  # the folder cannot be listed
        for name in os.listdir(target.parent):
            if ours.fullmatch(name):
                with suppress(OSError), (target.parent / name).open("rb+") as draft:
                    if taken(draft.fileno()):
                        (target.parent / name).unlink()


def _checked(path: Path, endings: Collection[str]) -> Path:
    """The file that ``path`` means, links followed."""
    if endings and path.suffix.lower() not in endings:
        found = f"ends in {path.suffix!r}" if path.suffix else "has no ending"
        raise UsageError(f"{path} {found}; give a name that ends in {' or '.join(endings)}.")
    target = path.resolve()
    if not os.path.isdir(target.parent):  # unlike Path.is_dir, never raises
        raise UsageError(f"{path} cannot be written: there is no folder {target.parent}. Make it first.")
    if os.path.isdir(target):
        raise UsageError(f"{path} is a folder; give the name of a file in it.")
    if os.path.exists(target) and not (os.path.isfile(target) and os.access(target, os.W_OK)):
        raise UsageError(f"{path} exists and may not be overwritten; give another name.")
    return target
