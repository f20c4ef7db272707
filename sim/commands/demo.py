"""``hangflat demo``: the demo scenarios, to look at, to change and to settle."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.streams import unwritable
from sim.said import known, note
from sim.telling.language import told


def demo(*, write: Annotated[Path | None, Parameter(name="--write")] = None) -> None:
    """List the demo scenarios (invented people), or write their files to a folder.

    Parameters
    ----------
    write
        Folder to write the files to; it is made if need be, and files already there are left as they are.
    """
    texts = demo_texts()
    if write is None:
        say(
            "\n".join(
                [
                    told(note("Demo scenarios; to write their files to a folder: hangflat demo --write FOLDER")),
                    *_listed(texts),
                ]
            )
        )
        return
    from sim.telling.file_comments import told_file

    say("\n".join([_written(write / name, told_file(text)) for name, text in texts.items()]))


def _listed(texts: Mapping[str, str]) -> Iterator[str]:
    """Each scenario by its file, its title and what it shows."""
    from scenarios.demos import SHOWS
    from sim.telling.words import wrapped

    for name, text in texts.items():
        shows = SHOWS.get(name.removesuffix(".toml"))
        if shows is not None:
            yield f"\n  {name}: {told(tomllib.loads(text)['title'])}"
            yield from wrapped(told(note("shows {what}", what=known(shows))), "    ")


def demo_texts() -> dict[str, str]:
    """File names and texts of the demo scenarios, and of the files that they name."""
    from scenarios.demos import demo_files

    return {file.name: file.read_text(encoding="utf-8") for file in demo_files()}


def _written(path: Path, text: str) -> str:
    """Write one file unless it is there; say which."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        if path.parent.is_dir():
            return told(note("{file} is there already: left as it is", file=str(path)))
        raise UsageError(f"{path.parent} is a file, not a folder; give another name.") from None
    except OSError as why:
        if unwritable(why) is not None and path.is_file():
            path.unlink()  # begun here, and cut short by a full disk
        raise UsageError(f"{path} cannot be written: {why.strerror}. Give a folder of yours.") from None
    return told(note("{file} written", file=str(path)))
